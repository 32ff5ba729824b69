/** Corners in one bucket of the grid: local maxima of the corner strength, in whole pixels. */
import type { Corners, PicturePair } from '../vision/index.js';
import { cornerStrengthOfGradient } from '../vision/plain.js';
import { bucketArea } from './buckets.js';
import type { Scale } from './options.js';

/** Weakest gradient that a window may have in its poorer direction, grey levels per pixel: the floor of the matcher. */
const LEAST_GRADIENT = 0.3;

/**
 * Corners of the current picture inside one bucket, at least the start margin away from the border and with a gradient
 * of at least 0.3 grey levels per pixel in every direction.
 */
export function cornersInBucket(pair: PicturePair, bucket: number, scale: Scale): Corners {
  const area = bucketArea(bucket, pair.widthPx, pair.heightPx);
  const margin = scale.startMarginPx;
  const left = Math.max(area.xPx, margin);
  const top = Math.max(area.yPx, margin);
  const columns = Math.min(area.xPx + area.widthPx, pair.widthPx - margin) - left;
  const rows = Math.min(area.yPx + area.heightPx, pair.heightPx - margin) - top;
  if (columns <= 0 || rows <= 0)
    return { xPx: new Int32Array(), yPx: new Int32Array(), strength: new Float32Array() };
  const floor = cornerStrengthOfGradient(LEAST_GRADIENT, scale.blockPx);
  return pair.corners(scale.blockPx, { xPx: left, yPx: top, widthPx: columns, heightPx: rows }, floor);
}
