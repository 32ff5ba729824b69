/**
 * Signs of pictures that were copied rather than coded: points that move by whole halves or quarters of a pixel.
 *
 * A coder that is short of bits takes blocks of the frame before, moved by a vector, and codes nothing of what is left
 * over. Vectors come in quarters of a pixel of the file (in halves with older coders; ISO/IEC 14496-10, 8.4.2.2, from
 * memory), so the picture moves in such steps, whatever the camera did between them, and shake that is finer is not in the
 * file. The steps stay when the file is coded once more with more bits, as an upload is.
 */
import { median, quantile } from '../../numerics/index.js';
import type { TrackTable } from '../types.js';

/** Stored pixels for one analysis pixel. */
export interface StoredScale {
  readonly x: number;
  readonly y: number;
}

/** How much of the motion comes in whole steps. */
export interface CopiedSteps {
  /** Mean cosine of the motion against the nearest whole step: 0 for motion that knows no steps, 1 for nothing but whole steps. */
  readonly likeness: number;
  /** Steps to a pixel that are met best: 2 or 4. */
  readonly perPx: number;
}

const STEPS_PER_PX = [2, 4] as const;
/** Below this much motion of the picture, stored px a frame, standing still and standing still in whole steps are one. */
const LEAST_MOTION_PX = 0.1;
/** Motion that is alike at all points and times may meet whole steps by chance: it has to spread over several. */
const LEAST_RANGE_PX = 0.5;
/** Points in a frame, and frames with motion along an axis, below which nothing is told. */
const LEAST = { points: 20, frames: 20 } as const;

/** How much of the motion of the tracks from frame to frame comes in whole steps; null where the picture moves too little or too evenly to tell. */
export function copiedSteps(table: TrackTable, scale: StoredScale): CopiedSteps | null {
  const told = [
    ...alongOneAxis(stepsByFrame(table, table.xPx, scale.x)),
    ...alongOneAxis(stepsByFrame(table, table.yPx, scale.y)),
  ];
  if (told.length < LEAST.frames) return null;
  const all = STEPS_PER_PX.map((perPx, i) => ({
    perPx,
    likeness: told.reduce((sum, frame) => sum + frame[i], 0) / told.length,
  }));
  return all.reduce((best, one) => (one.likeness > best.likeness ? one : best));
}

/** Motion of each point from the frame before, stored px, for each frame. */
function stepsByFrame(table: TrackTable, placePx: Float64Array, scale: number): number[][] {
  const { frameCount, trackCount, trackStart, obsFrame } = table;
  const steps: number[][] = Array.from({ length: frameCount }, () => []);
  for (let track = 0; track < trackCount; track++)
    for (let o = trackStart[track] + 1; o < trackStart[track + 1]; o++)
      if (obsFrame[o] === obsFrame[o - 1] + 1) steps[obsFrame[o]].push(scale * (placePx[o] - placePx[o - 1]));
  return steps;
}

/** For each frame that moves enough along an axis, the likeness to steps of each size; none where the motion is too even. */
function alongOneAxis(steps: readonly number[][]): number[][] {
  const moving = steps
    .filter((frame) => frame.length >= LEAST.points)
    .map((frame) => ({ frame, middlePx: median(frame) }))
    .filter(({ middlePx }) => Math.abs(middlePx) >= LEAST_MOTION_PX);
  const all = moving.flatMap(({ frame }) => frame);
  if (all.length === 0 || quantile(all, 0.9) - quantile(all, 0.1) < LEAST_RANGE_PX) return [];
  return moving.map(({ frame }) =>
    STEPS_PER_PX.map(
      (perPx) => frame.reduce((sum, step) => sum + Math.cos(2 * Math.PI * perPx * step), 0) / frame.length,
    ),
  );
}
