/** Corners in one row of the bucket grid: local maxima of the corner strength, in whole pixels. */
import { cornerStrengthOfGradient, type PicturePair } from '../vision/index.js';
import { GRID, type Scale } from './options.js';

/** Local maxima as columns of equal length, in reading order. */
export interface Corners {
  readonly xPx: Int32Array;
  readonly yPx: Int32Array;
  readonly strength: Float32Array;
}

/** Weakest gradient that a window may have in its poorer direction, grey levels per pixel: the floor of the matcher. */
const LEAST_GRADIENT = 0.3;

/** First pixel row of a row of the grid. */
export function gridRowTop(row: number, heightPx: number): number {
  return Math.ceil((row * heightPx) / GRID.rows);
}

/**
 * Corners of the current picture whose pixel rows belong to `gridRow`, at least the start margin away from the border
 * and with at least a gradient of 0.3 grey levels per pixel in every direction.
 */
export function cornersInGridRow(pair: PicturePair, gridRow: number, scale: Scale): Corners {
  const { widthPx: width, heightPx: height } = pair;
  const margin = scale.startMarginPx;
  const top = Math.max(gridRowTop(gridRow, height), margin);
  const bottom = Math.min(gridRowTop(gridRow + 1, height), height - margin);
  if (bottom <= top) return { xPx: new Int32Array(), yPx: new Int32Array(), strength: new Float32Array() };
  const mapTop = top - 1;
  const map = pair.cornerStrength(scale.blockPx, mapTop, bottom + 1);
  const floor = cornerStrengthOfGradient(LEAST_GRADIENT, scale.blockPx);
  const x: number[] = [];
  const y: number[] = [];
  const strength: number[] = [];
  for (let row = top; row < bottom; row++) {
    const at = (row - mapTop) * width;
    for (let col = margin; col < width - margin; col++) {
      const i = at + col;
      const v = map[i];
      if (v <= floor || v < map[i - 1] || v < map[i + 1]) continue;
      // Strict above and to the left, so that a plateau gives one corner.
      if (v === map[i - 1] || v < map[i + width] || v < map[i + width - 1] || v < map[i + width + 1])
        continue;
      if (v <= map[i - width] || v <= map[i - width - 1] || v <= map[i - width + 1]) continue;
      x.push(col);
      y.push(row);
      strength.push(v);
    }
  }
  return { xPx: Int32Array.from(x), yPx: Int32Array.from(y), strength: Float32Array.from(strength) };
}
