/**
 * Viewing rays of a camera, row by row: where each pixel centre looks in normalised image coordinates (x = X/Z, y = Y/Z),
 * lens distortion removed.
 */
import { undistort, type Camera } from '../optics/index.js';

/** The rays of all pixels. */
export interface ViewingRays {
  /** True when all rows share their x and each row has one y: spans can be computed instead of tested. */
  readonly straight: boolean;
  /** Fills the row's rays, length widthPx each. */
  fillRow(row: number, x: Float64Array, y: Float64Array): void;
  /** Lowest and highest y of each row's rays. */
  readonly rowLow: Float64Array;
  readonly rowHigh: Float64Array;
  /** Lowest and highest x of all rays. */
  readonly columnLow: number;
  readonly columnHigh: number;
}

function straightRays(camera: Camera): ViewingRays {
  const { widthPx, heightPx, focalPx, centreXPx, centreYPx } = camera;
  const xs = Float64Array.from({ length: widthPx }, (_, i) => (i - centreXPx) / focalPx);
  const ys = Float64Array.from({ length: heightPx }, (_, i) => (i - centreYPx) / focalPx);
  return {
    straight: true,
    rowLow: ys,
    rowHigh: ys,
    columnLow: xs[0],
    columnHigh: xs[widthPx - 1],
    fillRow(row, x, y) {
      x.set(xs);
      y.fill(ys[row]);
    },
  };
}

/** The rays of a camera; for a lens with distortion all of them are computed once. */
export function viewingRays(camera: Camera): ViewingRays {
  const lens = camera.distortion;
  if (!lens || (!lens.k1 && !lens.k2 && !lens.k3 && !lens.p1 && !lens.p2)) return straightRays(camera);
  const { widthPx, heightPx, focalPx, centreXPx, centreYPx } = camera;
  const xs = new Float64Array(widthPx * heightPx);
  const ys = new Float64Array(widthPx * heightPx);
  const rowLow = new Float64Array(heightPx).fill(Infinity);
  const rowHigh = new Float64Array(heightPx).fill(-Infinity);
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      const ideal = undistort(lens, (column - centreXPx) / focalPx, (row - centreYPx) / focalPx);
      xs[row * widthPx + column] = ideal.x;
      ys[row * widthPx + column] = ideal.y;
      rowLow[row] = Math.min(rowLow[row], ideal.y);
      rowHigh[row] = Math.max(rowHigh[row], ideal.y);
    }
  }
  return {
    straight: false,
    rowLow,
    rowHigh,
    columnLow: xs.reduce((low, x) => Math.min(low, x), Infinity),
    columnHigh: xs.reduce((high, x) => Math.max(high, x), -Infinity),
    fillRow(row, x, y) {
      x.set(xs.subarray(row * widthPx, (row + 1) * widthPx));
      y.set(ys.subarray(row * widthPx, (row + 1) * widthPx));
    },
  };
}
