/**
 * How far one picture has moved against another, by least squares on brightness gradients (Lucas and Kanade 1981), in pixels.
 * Written for these tests alone: it shares nothing with the tracker.
 */

/** A part of a picture, in pixels. */
export interface Area {
  readonly x0: number;
  readonly x1: number;
  readonly y0: number;
  readonly y1: number;
}

/** Five-point derivative, exact for waves much longer than a pixel. */
function slope(grey: Float32Array, at: number, step: number): number {
  return (8 * (grey[at + step] - grey[at - step]) - (grey[at + 2 * step] - grey[at - 2 * step])) / 12;
}

/** Shift of `b` against `a` over an area, px, + right and + down; for shifts far below a pixel. */
export function pictureShift(
  a: Float32Array,
  b: Float32Array,
  widthPx: number,
  { x0, x1, y0, y1 }: Area,
): { xPx: number; yPx: number } {
  let xx = 0;
  let xy = 0;
  let yy = 0;
  let xt = 0;
  let yt = 0;
  for (let y = y0; y < y1; y++) {
    for (let x = x0; x < x1; x++) {
      const i = y * widthPx + x;
      const gx = (slope(a, i, 1) + slope(b, i, 1)) / 2;
      const gy = (slope(a, i, widthPx) + slope(b, i, widthPx)) / 2;
      const change = b[i] - a[i];
      xx += gx * gx;
      xy += gx * gy;
      yy += gy * gy;
      xt -= gx * change;
      yt -= gy * change;
    }
  }
  const determinant = xx * yy - xy * xy;
  return { xPx: (yy * xt - xy * yt) / determinant, yPx: (xx * yt - xy * xt) / determinant };
}
