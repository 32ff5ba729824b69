/**
 * What a camera on a rigid dolly shows of tilt, roll and vertical in each frame of a pass, simulated: floor under two axles, wheels out of
 * round, equal dips in a row, a mount that rings, machines, a pace that wanders, exposure, noise. Radians and metres; lens ahead.
 */
import {
  fourthDifferenceVibration,
  gaussianRandom,
  inverseRealFft,
  realFft,
  seededRandom,
} from '../../../src/numerics/index.js';
import type { Pass } from '../../../src/surface/index.js';
import { floorViewOf } from '../../../src/spectrum/peaks/floor-view.js';
import type { SearchedSeries } from '../../../src/spectrum/peaks/types.js';
import { madeUpProfile } from '../../support/made-up-profile.js';

export const SIMULATED_AXES = ['tilt', 'roll', 'vertical'] as const;
export type SimulatedAxis = (typeof SIMULATED_AXES)[number];

/** Something that shakes axes at one frequency, amplitudes in rad and m before the shutter. */
export interface Machine {
  readonly freqHz: number;
  readonly amplitude: Readonly<Partial<Record<SimulatedAxis, number>>>;
  /** Turns with the way, `freqHz` at the speed of the pass, in place of the time. */
  readonly rolling?: boolean;
}

/** A pass; what is left out is that of {@link PLAIN}. */
export interface SimulatedOptions {
  readonly seed: number;
  readonly rateHz: number;
  readonly durationS: number;
  readonly speedMps: number;
  readonly wheelbaseM: number;
  readonly trackWidthM: number;
  readonly offsetM: number;
  readonly gdM3: number;
  readonly waviness: number;
  /** Exposure as a share of the time between frames. */
  readonly shutterShare: number;
  readonly noiseSd: Readonly<Record<SimulatedAxis, number>>;
  /** Slow wander of the speed, as a share of it (standard deviation). */
  readonly wander: number;
  readonly wheelDiameterM: number;
  /** Multiples of the wheel's turn with the amplitude of each of the four wheels; phases by chance. */
  readonly lobes: readonly { readonly order: number; readonly amplitudeM: number }[];
  /** Equal dips; `leftShare` of the depth under the left wheels, half where it is left out. */
  readonly dips: {
    readonly spacingM: number;
    readonly depthM: number;
    readonly widthM: number;
    readonly leftShare?: number;
  } | null;
  readonly mount: { readonly freqHz: number; readonly dampingRatio: number; readonly gain: number } | null;
  readonly machines: readonly Machine[];
  /** Speed and wheelbase as the crew gives them, over the true ones. */
  readonly speedTold: number;
  readonly wheelbaseToldM: number;
}

/** 25 frames/s at 180 degrees over class A-2, 0.7 mdeg of noise: an ordinary clip. */
export const PLAIN: SimulatedOptions = {
  seed: 1,
  rateHz: 25,
  durationS: 10,
  speedMps: 0.2,
  wheelbaseM: 0.45,
  trackWidthM: 0.4,
  offsetM: 0.05,
  gdM3: 1e-6,
  waviness: 2,
  shutterShare: 0.5,
  noiseSd: { tilt: 1.2e-5, roll: 2e-5, vertical: 2e-5 },
  wander: 0,
  wheelDiameterM: 0.08,
  lobes: [],
  dips: null,
  mount: null,
  machines: [],
  speedTold: 1,
  wheelbaseToldM: 0.45,
};

/** Instants in a frame; frames fold what is faster than half of their own rate, and instants must not. */
const FINE = 8;
const CUTOFF_HZ = 0.8;
/** The wander is made of so many slow waves. */
const WANDER_WAVES = 3;

/** The series of a pass, and the same as the search takes them. */
export interface SimulatedPass {
  readonly options: SimulatedOptions;
  /** High-passed, one value a frame. */
  readonly series: Readonly<Record<SimulatedAxis, Float64Array>>;
  /** Way at each frame as it was, metres. */
  readonly placeM: Float64Array;
  /** The pass as rig and clip tell it. */
  readonly told: Pass;
  /** What a search is given: told speed and wheelbase, and the pace as the clip shows it. */
  searched(axis: SimulatedAxis): SearchedSeries;
}

/** Simulates one pass. */
export function simulatedPass(given: Partial<SimulatedOptions>): SimulatedPass {
  const o: SimulatedOptions = { ...PLAIN, ...given };
  const random = seededRandom(o.seed * 7919 + 13);
  const frames = Math.round(o.durationS * o.rateHz);
  const instants = (frames + 1) * FINE;
  const stepS = 1 / (o.rateHz * FINE);
  const wayM = wayAt(o, instants, stepS, random);
  const [left, right] = [o.seed * 2 + 1, o.seed * 2 + 2].map((seed) => track(o, seed, wayM[instants - 1]));
  const lobes = o.lobes.map((lobe) => ({ ...lobe, phases: [0, 1, 2, 3].map(() => 2 * Math.PI * random()) }));
  const firstDipM = random() * (o.dips?.spacingM ?? 0);
  const leftShare = o.dips?.leftShare ?? 0.5;
  /** Height of a wheel's axle: left and right, rear and front. */
  const height = (wheel: 0 | 1 | 2 | 3, placeM: number): number => {
    const isLeft = wheel % 2 === 0;
    const floorM = placeM + (wheel < 2 ? 0 : o.wheelbaseM);
    let sum = (isLeft ? left : right)(floorM);
    if (o.dips) sum += 2 * (isLeft ? leftShare : 1 - leftShare) * dip(o.dips, floorM - firstDipM);
    for (const { order, amplitudeM, phases } of lobes)
      sum += amplitudeM * Math.cos((2 * order * placeM) / o.wheelDiameterM + phases[wheel]);
    return sum;
  };

  const fine: Record<SimulatedAxis, Float64Array> = {
    tilt: new Float64Array(instants),
    roll: new Float64Array(instants),
    vertical: new Float64Array(instants),
  };
  for (let i = 0; i < instants; i++) {
    const at = wayM[i];
    const [rearLeft, rearRight, frontLeft, frontRight] = [
      height(0, at),
      height(1, at),
      height(2, at),
      height(3, at),
    ];
    const rear = (rearLeft + rearRight) / 2;
    const front = (frontLeft + frontRight) / 2;
    fine.tilt[i] = (front - rear) / o.wheelbaseM;
    fine.roll[i] = (frontLeft + rearLeft - frontRight - rearRight) / (2 * o.trackWidthM);
    fine.vertical[i] = (front + rear) / 2;
  }
  if (o.mount) for (const axis of ['tilt', 'roll'] as const) fine[axis] = rung(fine[axis], o.mount, stepS);
  // The lens is carried by the deck and its path summed along the lens itself, which leans as the deck pitches.
  let leaned = 0;
  for (let i = 0; i < instants; i++) {
    if (i > 0) leaned += ((fine.tilt[i] + fine.tilt[i - 1]) / 2) * (wayM[i] - wayM[i - 1]);
    fine.vertical[i] += o.offsetM * fine.tilt[i] - leaned;
  }
  for (const { freqHz, amplitude, rolling } of o.machines) {
    const phase = 2 * Math.PI * random();
    for (let i = 0; i < instants; i++) {
      const wave = Math.cos(2 * Math.PI * freqHz * (rolling ? wayM[i] / o.speedMps : i * stepS) + phase);
      for (const axis of SIMULATED_AXES) fine[axis][i] += (amplitude[axis] ?? 0) * wave;
    }
  }

  const normal = gaussianRandom(random);
  const open = Math.max(1, Math.round(o.shutterShare * FINE));
  const seen = (axis: SimulatedAxis): Float64Array => {
    const raw = Float64Array.from({ length: frames }, (_, t) => {
      let sum = 0;
      for (let i = 0; i < open; i++) sum += fine[axis][t * FINE + i];
      return sum / open + o.noiseSd[axis] * normal();
    });
    return fourthDifferenceVibration(raw, o.rateHz, CUTOFF_HZ);
  };
  const series = { tilt: seen('tilt'), roll: seen('roll'), vertical: seen('vertical') };
  const placeM = Float64Array.from({ length: frames }, (_, t) => wayM[t * FINE]);
  const told = passAsTold(o, placeM);
  return {
    options: o,
    series,
    placeM,
    told,
    searched: (axis) => ({
      values: series[axis],
      rateHz: o.rateHz,
      cutoffHz: CUTOFF_HZ,
      noiseSd: o.noiseSd[axis],
      placeM: told.travel.placeM,
      floor: floorViewOf(axis, told),
    }),
  };
}

function wayAt(o: SimulatedOptions, instants: number, stepS: number, random: () => number): Float64Array {
  const waves = Array.from({ length: WANDER_WAVES }, (_, k) => ({
    cycles: (k + 1) * (0.7 + 0.6 * random()),
    phase: 2 * Math.PI * random(),
  }));
  const size = o.wander * Math.sqrt(2 / WANDER_WAVES);
  const way = new Float64Array(instants);
  for (let i = 1; i < instants; i++) {
    const turn = (2 * Math.PI * i) / instants;
    const pace = waves.reduce((sum, { cycles, phase }) => sum + size * Math.cos(turn * cycles + phase), 1);
    way[i] = way[i - 1] + o.speedMps * pace * stepS;
  }
  return way;
}

/** Height of one wheel track at a place, between points by a straight line. */
function track(o: SimulatedOptions, seed: number, lengthM: number): (placeM: number) => number {
  const spacingM = o.speedMps / (o.rateHz * FINE);
  // Four times the way, or the cosines of the profile would be those of the spectrum, each of fixed size.
  const points = 2 ** Math.ceil(Math.log2((4 * (lengthM + o.wheelbaseM)) / spacingM + 4));
  const heights =
    o.gdM3 > 0
      ? madeUpProfile({ seed, gdM3: o.gdM3, waviness: o.waviness, points, spacingM })
      : new Float64Array(points);
  return (placeM) => {
    const at = placeM / spacingM;
    const below = Math.floor(at);
    return heights[below] + (at - below) * (heights[below + 1] - heights[below]);
  };
}

function dip({ spacingM, depthM, widthM }: NonNullable<SimulatedOptions['dips']>, placeM: number): number {
  const off = placeM - Math.round(placeM / spacingM) * spacingM;
  return Math.abs(off) < widthM / 2 ? (-depthM * (1 + Math.cos((2 * Math.PI * off) / widthM))) / 2 : 0;
}

/** A series through 1 + g r^2 / (1 - r^2 + 2 i z r), r = f / f0, which dies away far above the resonance. */
function rung(
  values: Float64Array,
  { freqHz, dampingRatio, gain }: NonNullable<SimulatedOptions['mount']>,
  stepS: number,
): Float64Array {
  const n = values.length;
  const size = 2 ** Math.ceil(Math.log2(2 * n));
  // Back to where it began, so that no step rings.
  const padded = Float64Array.from({ length: size }, (_, i) =>
    i < n ? values[i] - values[0] : ((values[n - 1] - values[0]) * (size - i)) / (size - n),
  );
  const { re, im } = realFft(padded, size);
  for (let k = 0; k < re.length; k++) {
    const r = k / (size * stepS) / freqHz;
    const fade = gain * r * r * Math.exp(-((r / 6) ** 2));
    const [a, b] = [1 - r * r, 2 * dampingRatio * r];
    const norm = a * a + b * b;
    const [x, y] = [1 + (fade * a) / norm, (-fade * b) / norm];
    [re[k], im[k]] = [re[k] * x - im[k] * y, re[k] * y + im[k] * x];
  }
  return inverseRealFft(re, im, size).slice(0, n);
}

/** The pass as rig and clip tell it; the wander shows in the clip, its scale is that of the told speed. */
function passAsTold(o: SimulatedOptions, placeM: Float64Array): Pass {
  const last = placeM.length - 1;
  const mean = (placeM[last] - placeM[0]) / last;
  const spread = Math.sqrt(
    placeM.subarray(1).reduce((sum, place, i) => sum + (place - placeM[i] - mean) ** 2, 0) / last,
  );
  return {
    travel: {
      fromFrame: 0,
      toFrame: placeM.length,
      speedMps: mean * o.rateHz * o.speedTold,
      placeM: placeM.map((place) => place * o.speedTold),
      speedVariation: spread / mean,
      azimuthRad: 0,
      tiltRad: 0,
    },
    mounting: {
      azimuthRad: 0,
      tiltRad: 0,
      offsetM: o.offsetM,
      levellingHeightM: null,
      pitchShows: true,
      rollShows: true,
      heaveShows: true,
    },
    dolly: { wheelbaseM: o.wheelbaseToldM, trackWidthM: o.trackWidthM },
    exposureS: o.shutterShare / o.rateHz,
    cutoffHz: CUTOFF_HZ,
  };
}
