/** Corners in one bucket of the grid: local maxima of the corner strength, in whole pixels. */
import type { PicturePair } from '../vision/index.js';
import { cornerStrengthOfGradient } from '../vision/plain.js';
import { bucketArea } from './buckets.js';
import type { Scale } from './options.js';

/** Local maxima as columns of equal length, in reading order. */
export interface Corners {
  readonly xPx: Int32Array;
  readonly yPx: Int32Array;
  readonly strength: Float32Array;
}

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
  const x: number[] = [];
  const y: number[] = [];
  const strength: number[] = [];
  if (columns > 0 && rows > 0) {
    // One pixel more on each side: a maximum is one against all its neighbours, also those in the next bucket.
    const width = columns + 2;
    const around = { xPx: left - 1, yPx: top - 1, widthPx: width, heightPx: rows + 2 };
    const map = pair.cornerStrength(scale.blockPx, around);
    const floor = cornerStrengthOfGradient(LEAST_GRADIENT, scale.blockPx);
    for (let row = 1; row <= rows; row++) {
      for (let i = row * width + 1, end = i + columns; i < end; i++) {
        const v = map[i];
        if (v <= floor) continue;
        if (v < map[i + 1] || v < map[i + width - 1] || v < map[i + width] || v < map[i + width + 1])
          continue;
        // Strict against what comes earlier, so that a plateau gives one corner.
        if (v <= map[i - 1] || v <= map[i - width - 1] || v <= map[i - width] || v <= map[i - width + 1])
          continue;
        x.push(left + (i % width) - 1);
        y.push(top + row - 1);
        strength.push(v);
      }
    }
  }
  return { xPx: Int32Array.from(x), yPx: Int32Array.from(y), strength: Float32Array.from(strength) };
}
