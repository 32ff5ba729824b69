/**
 * Joins two pieces of a clip that share no frames: across a rest too long for any piece by the tracks that outlast it,
 * and where the sight was lost by taking the dolly to have rolled on at its speed. The camera is taken to have kept its
 * direction.
 */
import { median } from '../../numerics/index.js';
import { multiply3 } from '../../optics/index.js';
import { sceneDepth } from '../metric-scale.js';
import {
  IDENTITY,
  poseIn,
  scaleOfDepths,
  soundFrames,
  transposed,
  type Similarity,
  type SolvedSegment,
} from './join.js';

/** Speed on either side is taken over this time, seconds. */
const SPEED_S = 1;
/** Below this many median depths per second the dolly counts as standing, and the depths are compared instead. */
const STANDING = 0.005;

/** The similarity from `after` to `before`, and whether its scale is measured or a guess. */
export function bridgeSegments(
  before: SolvedSegment,
  after: SolvedSegment,
  rateHz: number,
): { readonly place: Similarity; readonly measured: boolean } {
  const span = Math.max(2, Math.round(SPEED_S * rateHz));
  const end = soundFrames(before).slice(-span);
  const start = soundFrames(after).slice(0, span);
  const last = end[end.length - 1];
  const first = start[0];
  const { scene: sceneBefore } = before.reconstruction;
  const { scene: sceneAfter } = after.reconstruction;
  const rotation = multiply3(
    transposed(sceneBefore.rotations.subarray(9 * (last - before.from), 9 * (last - before.from) + 9)),
    sceneAfter.rotations.subarray(9 * (first - after.from), 9 * (first - after.from) + 9),
  );
  if (before.reconstruction.mode === 'rotationOnly')
    return { place: { ...IDENTITY, rotation }, measured: true };

  const velocityBefore = velocity(before, end);
  const speedBefore = Math.hypot(...velocityBefore);
  const speedAfter = Math.hypot(...velocity(after, start));
  const depthBefore = sceneDepth(before.reconstruction.covariances)?.median ?? 1;
  const depthAfter = sceneDepth(after.reconstruction.covariances)?.median ?? 1;
  const standing = (STANDING / rateHz) * Math.max(depthBefore, Number.MIN_VALUE);
  const rolls = speedBefore > standing && speedAfter * depthBefore > standing * depthAfter;
  const shared = rolls ? null : scaleOfDepths(before, after, last, first);
  const scale = rolls ? speedBefore / speedAfter : (shared?.scale ?? depthBefore / depthAfter);
  const from = poseIn(sceneBefore, last - before.from, IDENTITY).centre;
  const to = poseIn(sceneAfter, first - after.from, { scale, rotation, shift: [0, 0, 0] }).centre;
  const shift = (j: number): number => from[j] + velocityBefore[j] * (first - last) - to[j];
  const place = { scale, rotation, shift: [shift(0), shift(1), shift(2)] as const };
  return { place, measured: shared !== null };
}

/** Displacement per frame over a stretch: the median over its two halves' pairs, so that vibration averages out. */
function velocity({ from, reconstruction }: SolvedSegment, frames: readonly number[]): number[] {
  const { centres } = reconstruction.scene;
  const half = Math.floor(frames.length / 2);
  return [0, 1, 2].map((j) =>
    median(
      frames.slice(0, Math.max(half, 1)).map((t, k) => {
        const later = frames[Math.min(k + half, frames.length - 1)];
        return (centres[3 * (later - from) + j] - centres[3 * (t - from) + j]) / Math.max(later - t, 1);
      }),
    ),
  );
}
