/** What is laid on a made-up floor: joints between tiles, single steps and bumps, added to the heights of both wheel tracks, metres. */
import { gaussianRandom, seededRandom } from '../numerics/index.js';
import type { FloorOptions, TrackSide } from './options.js';

/** Distance between heights. */
export const PROFILE_SPACING_M = 0.001;

/** Heights under both tracks, + up; index 0 lies `startM` along the travel (rear axle at time 0 is 0). */
export interface FloorHeights {
  readonly startM: number;
  readonly left: Float64Array;
  readonly right: Float64Array;
}

/** A joint or step as laid: where it is and how much the floor rises there under each track. */
export interface Joint {
  readonly atM: number;
  readonly leftStepM: number;
  readonly rightStepM: number;
}

/** A bump as laid: where its middle is, how long it is, and how high under each track. */
export interface Bump {
  readonly atM: number;
  readonly lengthM: number;
  readonly leftM: number;
  readonly rightM: number;
}

/** All that was laid. */
export interface LaidOnFloor {
  readonly joints: readonly Joint[];
  readonly steps: readonly Joint[];
  readonly bumps: readonly Bump[];
}

/** Adds a height that depends on the place. */
function raise(track: Float64Array, startM: number, heightM: (atM: number) => number): void {
  for (let i = 0; i < track.length; i++) track[i] += heightM(startM + i * PROFILE_SPACING_M);
}

function layJoints(floor: FloorOptions, seed: number, { startM, left, right }: FloorHeights): Joint[] {
  if (!floor.joints) return [];
  const { spacingM, lippageMm, gapWidthMm, gapDepthMm, firstAtM } = floor.joints;
  const normal = gaussianRandom(seededRandom(seed));
  const endM = startM + left.length * PROFILE_SPACING_M;
  const first = firstAtM + Math.ceil((startM - firstAtM) / spacingM) * spacingM;
  const joints: Joint[] = [];
  let tile = [0, 0];
  for (let atM = first; atM < endM; atM += spacingM) {
    const next = [(lippageMm / 1000) * normal(), (lippageMm / 1000) * normal()];
    const steps = next.map((height, side) => height - tile[side]);
    [left, right].forEach((track, side) =>
      raise(track, startM, (placeM) => {
        const gapM = Math.abs(placeM - atM) < gapWidthMm / 2000 ? gapDepthMm / 1000 : 0;
        return (placeM >= atM ? steps[side] : 0) - gapM;
      }),
    );
    joints.push({ atM, leftStepM: steps[0], rightStepM: steps[1] });
    tile = next;
  }
  return joints;
}

/** A height under the tracks of a side, 0 under the other. */
function underTracks(heightMm: number, side: TrackSide): [number, number] {
  return [side === 'right' ? 0 : heightMm / 1000, side === 'left' ? 0 : heightMm / 1000];
}

/**
 * Lays joints, steps and bumps on a floor.
 *
 * @param heights raised in place
 * @returns where everything lies, also beyond the ends of the pass
 */
export function layOnFloor(floor: FloorOptions, seed: number, heights: FloorHeights): LaidOnFloor {
  const { startM, left, right } = heights;
  const joints = layJoints(floor, seed, heights);
  const steps = floor.steps.map(({ atM, heightMm, side }) => {
    const [leftStepM, rightStepM] = underTracks(heightMm, side);
    raise(left, startM, (placeM) => (placeM >= atM ? leftStepM : 0));
    raise(right, startM, (placeM) => (placeM >= atM ? rightStepM : 0));
    return { atM, leftStepM, rightStepM };
  });
  const bumps = floor.bumps.map(({ atM, heightMm, lengthMm, side }) => {
    const [leftM, rightM] = underTracks(heightMm, side);
    const lengthM = lengthMm / 1000;
    const shape = (placeM: number): number => {
      const off = (placeM - atM) / lengthM;
      return Math.abs(off) < 0.5 ? (1 + Math.cos(2 * Math.PI * off)) / 2 : 0;
    };
    raise(left, startM, (placeM) => leftM * shape(placeM));
    raise(right, startM, (placeM) => rightM * shape(placeM));
    return { atM, lengthM, leftM, rightM };
  });
  return { joints, steps, bumps };
}
