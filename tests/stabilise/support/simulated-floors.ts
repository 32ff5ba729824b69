/**
 * Crop fractions and the angles behind them, of a dolly on simulated floors of five kinds; frames at 25 per second.
 *
 * Two axles 0.45 m apart roll at 0.3 m/s over a floor whose profile falls with the square of the wave number; the shutter is
 * open for 20 ms, shake above half the frame rate folds back, and motion below 0.8 Hz is the intended move. Own derivation.
 */
import { gaussianRandom, inverseRealFft } from '../../../src/numerics/index.js';
import type { FrameSpan, Hit } from '../../../src/stabilise/take/longer-take-types.js';

export const RATE_HZ = 25;
/** Upward zero crossings per second of the shake on the steady floor. */
export const UP_CROSSINGS_HZ = 4;
/** Time from the first axle's kick to the second's. */
export const ECHO_S = 1.52;
/** Joints of the floor with joints come this far apart. */
export const JOINT_EVERY_S = 4;

export const FLOORS = ['steady', 'line', 'uneven', 'joints', 'rareHits'] as const;
export type Floor = (typeof FLOORS)[number];

/** One ride; all columns of length n. */
export interface Ride {
  readonly cropFraction: Float64Array;
  /** Pan, tilt, roll. */
  readonly vibration: readonly Float64Array[];
  readonly hits: readonly Hit[];
}

const SPEED_MPS = 0.3;
const AXLES_M = 0.45;
const EXPOSURE_S = 0.02;
/** A kick under the first wheels, relative to its height; the second axle gives the opposite one. */
const KICK = [0, 0.5, 1, 0.4, -0.35, -0.4, -0.2, -0.1, 0];
/** Sizes of pan, tilt, roll, as fractions of the width. */
const SIZES = [0.006, 0.01, 0.005];

/** A ride of n frames; n should stay below a power of two by two seconds, for the shake repeats itself there. */
export function ride(
  floor: Floor,
  frames: number,
  random: () => number,
  gaussian = gaussianRandom(random),
): Ride {
  const shake = SIZES.map(() => series(frames, floorPower, gaussian));
  if (floor === 'line') {
    const phase = 2 * Math.PI * random();
    shake[1].forEach((v, t) => {
      shake[1][t] = Math.SQRT1_2 * v + Math.sin((2 * Math.PI * 3.13 * t) / RATE_HZ + phase);
    });
  }
  if (floor === 'uneven') {
    const level = series(frames, levelPower, gaussian);
    for (const axis of shake) level.forEach((v, t) => (axis[t] *= Math.exp(0.3 * v)));
  }
  const hits = strike(floor, shake[1], random, gaussian);
  const vibration = shake.map((axis, a) => axis.map((v) => SIZES[a] * v));
  return { cropFraction: cropOf(vibration), vibration, hits };
}

/** The part of a ride from one frame to another, as a ride of its own; hits that are cut lose the axles outside. */
export function partOf({ cropFraction, vibration, hits }: Ride, from: number, to: number): Ride {
  const moved = hits.map(({ spans }) => ({
    spans: spans
      .map((span) => ({ from: Math.max(span.from, from) - from, to: Math.min(span.to, to) - from }))
      .filter((span) => span.to > span.from),
  }));
  return {
    cropFraction: cropFraction.slice(from, to),
    vibration: vibration.map((axis) => axis.slice(from, to)),
    hits: moved.filter(({ spans }) => spans.length > 0),
  };
}

/** A ride with all of its shake larger by a factor. */
export function scaled(one: Ride, factor: number): Ride {
  return {
    ...one,
    cropFraction: one.cropFraction.map((crop) => factor * crop),
    vibration: one.vibration.map((axis) => axis.map((v) => factor * v)),
  };
}

/**
 * Two passes over one stretch: 85 % of the shake's power is the floor's and comes again, joints change by a tenth, and all of
 * a pass is larger or smaller by 8 %.
 */
export function twoPasses(withJoints: boolean, frames: number, random: () => number): [Ride, Ride] {
  const gaussian = gaussianRandom(random);
  const floor = SIZES.map(() => series(frames, floorPower, gaussian));
  const joints = new Float64Array(frames);
  const hits = withJoints ? strike('joints', joints, random, gaussian) : [];
  const pass = (): Ride => {
    const jointFactor = Math.exp(0.1 * gaussian());
    const passFactor = Math.exp(0.08 * gaussian());
    const vibration = floor.map((common, a) => {
      const own = series(frames, floorPower, gaussian);
      return common.map((v, t) => {
        const shake =
          Math.sqrt(0.85) * v + Math.sqrt(0.15) * own[t] + (a === 1 ? jointFactor * joints[t] : 0);
        return SIZES[a] * passFactor * shake;
      });
    });
    return { cropFraction: cropOf(vibration), vibration, hits };
  };
  return [pass(), pass()];
}

/** Adds kicks to the tilt. */
function strike(floor: Floor, tilt: Float64Array, random: () => number, gaussian: () => number): Hit[] {
  const hits: Hit[] = [];
  const last = tilt.length - 60;
  const every = JOINT_EVERY_S * RATE_HZ;
  const add = (at: number, height: number): FrameSpan => {
    KICK.forEach((share, i) => (tilt[at + i] += height * share));
    return { from: at, to: at + KICK.length };
  };
  const joint = (at: number, size: number): void => {
    const height = random() < 0.5 ? size : -size;
    hits.push({ spans: [add(at, height), add(at + Math.round(ECHO_S * RATE_HZ), -height)] });
  };
  if (floor === 'joints') {
    for (let at = Math.floor(every * random()); at < last; at += every)
      joint(at, 3.2 * Math.exp(0.4 * gaussian()));
  } else if (floor === 'rareHits') {
    for (let at = 0; at < last; at++)
      if (random() < 1 / (8 * RATE_HZ)) joint(at, 1.5 - 2 * Math.log(1 - random()));
  }
  return hits;
}

function cropOf([pan, tilt, roll]: readonly Float64Array[]): Float64Array {
  return pan.map((v, t) => Math.max(Math.abs(v), Math.abs(tilt[t])) + 0.5 * Math.abs(roll[t]));
}

/** Power of the shake per bandwidth, any unit. */
function floorPower(freqHz: number): number {
  let power = 0;
  for (let fold = -2; fold <= 2; fold++) {
    const f = Math.abs(freqHz + fold * RATE_HZ) + 1e-9;
    const n = f / SPEED_MPS;
    const blur = Math.sin(Math.PI * f * EXPOSURE_S) / (Math.PI * f * EXPOSURE_S);
    power += n ** -2 * 4 * Math.sin(Math.PI * n * AXLES_M) ** 2 * blur ** 2 * 2 ** -((n / 60) ** 2);
  }
  const highPass = 1 - 1 / (1 + (Math.max(freqHz, 1e-6) / 0.8) ** 8);
  return power * highPass ** 2;
}

/** Power of a level that wanders over seconds. */
function levelPower(freqHz: number): number {
  return Math.exp(-2 * (4 * freqHz) ** 2);
}

const amplitudes = new Map<string, Float64Array>();

/** Gaussian series of variance 1 with a given spectrum. */
function series(frames: number, power: (freqHz: number) => number, gaussian: () => number): Float64Array {
  const size = 2 ** Math.ceil(Math.log2(frames));
  const key = `${power.name} ${size}`;
  let amplitude = amplitudes.get(key);
  if (!amplitude) {
    const powers = Float64Array.from({ length: size / 2 + 1 }, (_, k) => power((k * RATE_HZ) / size));
    const sum = powers.reduce((a, b) => a + b, 0);
    amplitude = powers.map((p) => (size / 2) * Math.sqrt(p / sum));
    amplitudes.set(key, amplitude);
  }
  return inverseRealFft(
    amplitude.map((a) => a * gaussian()),
    amplitude.map((a) => a * gaussian()),
    size,
  ).slice(0, frames);
}
