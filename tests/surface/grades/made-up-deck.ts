/** A made-up floor under a made-up dolly, as a rolled deck: metres and radians per frame, with the noise of a tracked clip. */
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import type { RolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { axlePath, madeUpFloor, SPACING_M, type FloorTracks } from '../support/made-up-floor.js';

const RATE_HZ = 25;
const WHEELBASE_M = 0.45;
const TRACK_WIDTH_M = 0.4;
const RADIUS_M = 0.04;
/** Of pitch and roll, rad, and of heave, m, per frame. */
export const NOISE_SD = { pitch: Math.PI / 180e3, roll: (1.2 * Math.PI) / 180e3, heave: 5e-5 };
const START_M = 0.15;
const BLUR_PARTS = 8;
const WOBBLE_S = 6;

export interface DeckOptions {
  readonly seed: number;
  readonly gdM3: number;
  readonly speedMps: number;
  readonly durationS?: number;
  /** Plates of this length, m, each as high as chance has it with this RMS, m, on each track. */
  readonly plates?: { readonly lengthM: number; readonly rmsM: number };
  /** Contact patch of the wheels, m; 4 mm are a hard wheel, 45 mm a soft tyre. */
  readonly patchM?: number;
  /** Speed changes by this share, as a sine of 6 s. */
  readonly wobble?: number;
  readonly withRoll?: boolean;
  readonly withHeave?: boolean;
}

export interface DeckOnFloor {
  readonly deck: RolledDeck;
  /** Heights of the floor, and what an axle of a hard wheel makes of them, over the run of both axles; points of `spacingM`. */
  readonly tracks: FloorTracks;
  readonly axles: FloorTracks;
  readonly spacingM: number;
}

/** Rolls a dolly over a floor, 180 degree shutter. */
export function madeUpDeck({
  seed,
  gdM3,
  speedMps,
  durationS = 20,
  plates,
  patchM = 0.004,
  wobble = 0,
  withRoll = true,
  withHeave = true,
}: DeckOptions): DeckOnFloor {
  const frames = Math.round(durationS * RATE_HZ);
  const floor = madeUpFloor(seed, speedMps * (durationS + WOBBLE_S) + WHEELBASE_M + 0.6, gdM3);
  const gaussian = gaussianRandom(seededRandom(seed + 7919));
  if (plates !== undefined) for (const track of [floor.left, floor.right]) layPlates(track, plates, gaussian);
  const left = axlePath(floor.left, RADIUS_M, patchM);
  const right = axlePath(floor.right, RADIUS_M, patchM);
  const mean = left.map((value, i) => (value + right[i]) / 2);
  const difference = left.map((value, i) => value - right[i]);
  const timeS = Float64Array.from({ length: frames }, (_, i) => i / RATE_HZ);
  const turn = (2 * Math.PI) / WOBBLE_S;
  const rearM = timeS.map((t) => START_M + speedMps * (t + (wobble / turn) * (1 - Math.cos(turn * t))));
  const blurM = speedMps / (2 * RATE_HZ);
  const exposed = (track: Float64Array, x: number): number => {
    let sum = 0;
    for (let k = 0; k < BLUR_PARTS; k++) sum += heightAt(track, x + ((k + 0.5) / BLUR_PARTS - 0.5) * blurM);
    return sum / BLUR_PARTS;
  };
  const series = (
    value: (rearM: number) => number,
    noiseSd: number,
  ): NonNullable<RolledDeck['pitchRad']> => ({
    values: rearM.map((x) => value(x) + noiseSd * gaussian()),
    noiseSd,
    leastNoiseSd: noiseSd,
  });
  const pitchRad = series(
    (x) => (exposed(mean, x + WHEELBASE_M) - exposed(mean, x)) / WHEELBASE_M,
    NOISE_SD.pitch,
  );
  const heaveM = series((x) => (exposed(mean, x + WHEELBASE_M) + exposed(mean, x)) / 2, NOISE_SD.heave);
  const rollRad = series(
    (x) => (exposed(difference, x + WHEELBASE_M) + exposed(difference, x)) / (2 * TRACK_WIDTH_M),
    NOISE_SD.roll,
  );
  const from = Math.round(START_M / SPACING_M);
  const to = Math.round((rearM[frames - 1] + WHEELBASE_M) / SPACING_M);
  return {
    deck: {
      rateHz: RATE_HZ,
      cutoffHz: 0.8,
      exposureS: 0.5 / RATE_HZ,
      wheelbaseM: WHEELBASE_M,
      frontAheadM: WHEELBASE_M,
      trackWidthM: withRoll ? TRACK_WIDTH_M : null,
      timeS,
      rearM,
      pitchRad,
      heaveM: withHeave ? heaveM : null,
      rollRad: withRoll ? rollRad : null,
    },
    tracks: { left: floor.left.slice(from, to), right: floor.right.slice(from, to) },
    axles: { left: left.slice(from, to), right: right.slice(from, to) },
    spacingM: SPACING_M,
  };
}

function layPlates(
  track: Float64Array,
  { lengthM, rmsM }: NonNullable<DeckOptions['plates']>,
  gaussian: () => number,
): void {
  let plate = -1;
  let heightM = 0;
  track.forEach((value, i) => {
    const on = Math.floor((i * SPACING_M) / lengthM);
    if (on > plate) heightM = rmsM * gaussian();
    plate = on;
    track[i] = value + heightM;
  });
}

function heightAt(track: Float64Array, x: number): number {
  const place = x / SPACING_M;
  const i = Math.max(0, Math.min(track.length - 2, Math.floor(place)));
  return track[i] + (track[i + 1] - track[i]) * (place - i);
}
