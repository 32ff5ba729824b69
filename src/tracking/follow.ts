/** One step of the tracks from a frame to the next, checked by the way back, in pixels. */
import type { PicturePair, Points } from '../vision/index.js';
import type { Scale } from './options.js';
import type { Followed } from './protocol.js';

/** What to follow. */
export interface Errand {
  /** Points of the previous picture. */
  readonly points: Points;
  /** Where the current picture should hold them, one for each point. */
  readonly predicted: Points;
  /** True to trust no prediction and search the whole pyramid for every point. */
  readonly thorough: boolean;
}

/**
 * Follows points from the previous picture of the pair into the current one and keeps those that return to within
 * scale.returnErrorPx when followed backwards and stay off the border.
 *
 * Near its prediction a point is found on the fine levels of the pyramid alone, at half the cost and to the same
 * place. A point that is lost there, or found farther off than those levels reach safely, is searched for again from
 * where it was, over all levels. What becomes of a point does not depend on the other points.
 */
export function follow(pair: PicturePair, errand: Errand, scale: Scale): Followed {
  const { points, predicted, thorough } = errand;
  const count = points.xPx.length;
  const result: Followed = {
    xPx: new Float32Array(count),
    yPx: new Float32Array(count),
    kept: new Uint8Array(count),
    searched: new Uint8Array(count),
  };
  const all = Int32Array.from({ length: count }, (_, i) => i);
  if (!thorough) step(pair, points, predicted, all, scale.fineLevels, 0, scale, result);
  const reach = scale.fineReachPx * scale.fineReachPx;
  const doubtful = all.filter((i) => {
    const dx = result.xPx[i] - predicted.xPx[i];
    const dy = result.yPx[i] - predicted.yPx[i];
    return thorough || !result.kept[i] || dx * dx + dy * dy > reach;
  });
  for (const i of doubtful) result.searched[i] = 1;
  step(pair, points, points, doubtful, scale.levels, scale.levels, scale, result);
  return result;
}

/** Follows the points with the given indices there and back and writes where they came out. */
function step(
  pair: PicturePair,
  points: Points,
  start: Points,
  indices: Int32Array,
  levels: number,
  levelsBack: number,
  scale: Scale,
  result: Followed,
): void {
  if (indices.length === 0) return;
  const from = pick(points, indices);
  const there = pair.forward(from, { windowPx: scale.windowPx, levels, start: pick(start, indices) });
  const back = pair.backward(there, { windowPx: scale.windowPx, levels: levelsBack, start: from });
  const margin = scale.trackMarginPx;
  const right = pair.widthPx - 1 - margin;
  const bottom = pair.heightPx - 1 - margin;
  const limit = scale.returnErrorPx * scale.returnErrorPx;
  for (let j = 0; j < indices.length; j++) {
    const dx = back.xPx[j] - from.xPx[j];
    const dy = back.yPx[j] - from.yPx[j];
    const x = there.xPx[j];
    const y = there.yPx[j];
    const inside = x > margin && x < right && y > margin && y < bottom;
    const returned = there.found[j] === 1 && back.found[j] === 1 && dx * dx + dy * dy < limit;
    result.xPx[indices[j]] = x;
    result.yPx[indices[j]] = y;
    result.kept[indices[j]] = returned && inside ? 1 : 0;
  }
}

function pick(points: Points, indices: Int32Array): Points {
  return {
    xPx: Float32Array.from(indices, (i) => points.xPx[i]),
    yPx: Float32Array.from(indices, (i) => points.yPx[i]),
  };
}
