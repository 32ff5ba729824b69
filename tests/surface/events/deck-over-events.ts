/** Decks that rolled over made-up floors with plates, gaps, single steps and bumps in them, noise of a tracked clip; metres, radians. */
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import type { RolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { axlePath, madeUpFloor, SPACING_M, type FloorTracks } from '../support/made-up-floor.js';

export const WHEELBASE_M = 0.45;
export const TRACK_WIDTH_M = 0.4;
/** Where the rear axle stands on the made-up tracks at the first frame; places of events count from there. */
const START_M = 0.15;
/** 1 mdeg pitch, 1.2 mdeg roll, 0.05 mm heave per frame. */
const NOISE_SD = { pitch: Math.PI / 180e3, roll: (1.2 * Math.PI) / 180e3, heave: 5e-5 };
const BLUR_PARTS = 8;

export interface EventOptions {
  readonly seed: number;
  readonly gdM3: number;
  readonly speedMps?: number;
  readonly fps?: number;
  readonly durationS?: number;
  /** Plates of this length: neighbours differ by this much, RMS, under each track by itself. */
  readonly plates?: { readonly lengthM: number; readonly stepRmsM: number; readonly gapM?: number };
  /** Lasting steps at places of the run, under the left and the right track. */
  readonly steps?: readonly { readonly placeM: number; readonly leftM: number; readonly rightM: number }[];
  /** Raised cosines under both tracks or the left one alone. */
  readonly bumps?: readonly {
    readonly placeM: number;
    readonly heightM: number;
    readonly lengthM: number;
    readonly leftOnly?: boolean;
  }[];
  readonly without?: readonly ('pitch' | 'heave' | 'roll')[];
  /** A machine in the pitch: mdeg RMS at a frequency. */
  readonly line?: { readonly rmsMdeg: number; readonly freqHz: number };
}

export interface DeckOverEvents {
  readonly deck: RolledDeck;
  /** Places of the joints between plates that an axle met, metres along the run, with the size of their larger step. */
  readonly joints: readonly { readonly placeM: number; readonly stepM: number }[];
}

/** Rolls a dolly with hard wheels of 40 mm radius over the floor, 180 degree shutter. */
export function deckOverEvents(options: EventOptions): DeckOverEvents {
  const { seed, gdM3, speedMps = 0.2, fps = 25, durationS = 20, plates, steps = [], bumps = [] } = options;
  const without = new Set(options.without ?? []);
  const frames = Math.round(durationS * fps);
  const floor = madeUpFloor(seed, speedMps * durationS + WHEELBASE_M + 0.6, gdM3);
  const random = seededRandom(seed + 104729);
  const gaussian = gaussianRandom(random);
  const joints =
    plates === undefined
      ? []
      : layPlates(floor, plates, START_M + 0.05 + random() * plates.lengthM, gaussian);
  for (const { placeM, leftM, rightM } of steps) {
    raise(floor.left, placeM, Infinity, () => leftM);
    raise(floor.right, placeM, Infinity, () => rightM);
  }
  for (const { placeM, heightM, lengthM, leftOnly = false } of bumps) {
    const bump = (way: number): number => (heightM * (1 - Math.cos((2 * Math.PI * way) / lengthM))) / 2;
    raise(floor.left, placeM - lengthM / 2, lengthM, bump);
    if (!leftOnly) raise(floor.right, placeM - lengthM / 2, lengthM, bump);
  }
  const left = axlePath(floor.left, 0.04, 0.004);
  const right = axlePath(floor.right, 0.04, 0.004);
  const mean = left.map((value, i) => (value + right[i]) / 2);
  const difference = left.map((value, i) => value - right[i]);
  const rearM = Float64Array.from({ length: frames }, (_, i) => (speedMps * i) / fps);
  const series = (value: (t: number) => number, noiseSd: number) => ({
    values: Float64Array.from({ length: frames }, (_, t) => value(t) + noiseSd * gaussian()),
    noiseSd,
    leastNoiseSd: noiseSd,
  });
  const exposed = (track: Float64Array): Float64Array[] =>
    [0, WHEELBASE_M].map((ahead) =>
      rearM.map((x) => {
        let sum = 0;
        for (let k = 0; k < BLUR_PARTS; k++) {
          const way = ((k + 0.5) / BLUR_PARTS - 0.5) * (speedMps / fps / 2);
          sum += heightAt(track, START_M + x + ahead + way) / BLUR_PARTS;
        }
        return sum;
      }),
    );
  const [meanRear, meanFront] = exposed(mean);
  const [differenceRear, differenceFront] = exposed(difference);
  const { rmsMdeg, freqHz } = options.line ?? { rmsMdeg: 0, freqHz: 1 };
  const machine = (t: number): number =>
    rmsMdeg * Math.SQRT2 * NOISE_SD.pitch * Math.sin((2 * Math.PI * freqHz * t) / fps + seed);
  const pitchRad = series((t) => (meanFront[t] - meanRear[t]) / WHEELBASE_M + machine(t), NOISE_SD.pitch);
  const heaveM = series((t) => (meanFront[t] + meanRear[t]) / 2, NOISE_SD.heave);
  const rollRad = series(
    (t) => (differenceFront[t] + differenceRear[t]) / (2 * TRACK_WIDTH_M),
    NOISE_SD.roll,
  );
  return {
    deck: {
      rateHz: fps,
      cutoffHz: 0.8,
      exposureS: 0.5 / fps,
      wheelbaseM: WHEELBASE_M,
      frontAheadM: WHEELBASE_M,
      trackWidthM: without.has('roll') ? null : TRACK_WIDTH_M,
      timeS: rearM.map((_, i) => i / fps),
      rearM,
      pitchRad: without.has('pitch') ? null : pitchRad,
      heaveM: without.has('heave') ? null : heaveM,
      rollRad: without.has('roll') ? null : rollRad,
    },
    joints: joints.filter(({ placeM }) => placeM > 0 && placeM < rearM[frames - 1] + WHEELBASE_M),
  };
}

/** Adds a shape of the way from a place of the run on. */
function raise(track: Float64Array, fromM: number, lengthM: number, height: (wayM: number) => number): void {
  const first = Math.max(0, Math.ceil((START_M + fromM) / SPACING_M - 1e-9));
  for (let i = first; i < track.length; i++) {
    const way = i * SPACING_M - START_M - fromM;
    if (way >= lengthM) break;
    track[i] += height(way);
  }
}

function layPlates(
  floor: FloorTracks,
  { lengthM, stepRmsM, gapM = 0 }: NonNullable<EventOptions['plates']>,
  firstM: number,
  gaussian: () => number,
): { placeM: number; stepM: number }[] {
  const joints: { placeM: number; stepM: number }[] = [];
  const sides = [floor.left, floor.right];
  const last = floor.left.length * SPACING_M;
  let heights = [0, 0];
  for (let jointM = firstM; jointM < last; jointM += lengthM) {
    const next = sides.map(() => (stepRmsM / Math.SQRT2) * gaussian());
    const placeM = jointM - START_M;
    sides.forEach((track, side) => {
      raise(track, placeM, lengthM, () => next[side]);
      // Deep enough that the wheel of 40 mm never touches its ground.
      if (gapM > 0) raise(track, placeM - gapM / 2, gapM, () => -0.002);
    });
    joints.push({ placeM, stepM: Math.max(...next.map((height, side) => Math.abs(height - heights[side]))) });
    heights = next;
  }
  return joints;
}

function heightAt(track: Float64Array, x: number): number {
  const place = x / SPACING_M;
  const i = Math.max(0, Math.min(track.length - 2, Math.floor(place)));
  return track[i] + (track[i + 1] - track[i]) * (place - i);
}
