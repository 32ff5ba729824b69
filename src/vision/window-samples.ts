/** Grey levels of a square window that lies affinely deformed in a picture, by cubic convolution; lengths in pixels. */
import type { TemplateWindow } from './template-window.js';
import type { SmoothPicture } from './types.js';

/** Where a window lies: point (u, v) of the window, from its middle, is at (x + xx u + xy v, y + yx u + yy v). */
export interface Placement {
  xPx: number;
  yPx: number;
  xx: number;
  xy: number;
  yx: number;
  yy: number;
}

/** True when every sample of the window, with the pixels that its interpolation needs, lies in the picture. */
export function isInside(picture: SmoothPicture, place: Readonly<Placement>, halfPx: number): boolean {
  const reachX = halfPx * (Math.abs(place.xx) + Math.abs(place.xy));
  const reachY = halfPx * (Math.abs(place.yx) + Math.abs(place.yy));
  return (
    place.xPx - reachX >= 1 &&
    place.yPx - reachY >= 1 &&
    place.xPx + reachX < picture.widthPx - 2 &&
    place.yPx + reachY < picture.heightPx - 2
  );
}

/**
 * Samples the points of a window into `out`, row by row.
 *
 * The kernel is the cubic convolution that reproduces parabolas (Keys, IEEE Trans. ASSP 29, 1981, a = -1/2).
 * @param place must be inside by {@link isInside}
 * @param out length rows x columns
 */
export function sampleWindow(
  picture: SmoothPicture,
  place: Readonly<Placement>,
  { halfPx, columns, rows, rowStepPx }: Pick<TemplateWindow, 'halfPx' | 'columns' | 'rows' | 'rowStepPx'>,
  out: Float64Array,
): void {
  const { levels, widthPx: width } = picture;
  const { xPx, yPx, xx, xy, yx, yy } = place;
  const middle = (rows - 1) / 2;
  let i = 0;
  for (let row = 0; row < rows; row++) {
    const v = (row - middle) * rowStepPx;
    const rowX = xPx + xy * v - halfPx * xx;
    const rowY = yPx + yy * v - halfPx * yx;
    for (let column = 0; column < columns; column++) {
      const x = rowX + xx * column;
      const y = rowY + yx * column;
      // Positive inside the picture, where cutting off the fraction is the floor.
      const left = x | 0;
      const top = y | 0;
      const f = x - left;
      const g = y - top;
      // Weights of the four columns, then of the four rows.
      const f0 = f * (f * (1 - 0.5 * f) - 0.5);
      const f1 = 1 + f * f * (1.5 * f - 2.5);
      const f2 = f * (0.5 + f * (2 - 1.5 * f));
      const f3 = f * f * (0.5 * f - 0.5);
      const g0 = g * (g * (1 - 0.5 * g) - 0.5);
      const g1 = 1 + g * g * (1.5 * g - 2.5);
      const g2 = g * (0.5 + g * (2 - 1.5 * g));
      const g3 = g * g * (0.5 * g - 0.5);
      const a = (top - 1) * width + left - 1;
      const b = a + width;
      const c = b + width;
      const d = c + width;
      out[i++] =
        g0 * (f0 * levels[a] + f1 * levels[a + 1] + f2 * levels[a + 2] + f3 * levels[a + 3]) +
        g1 * (f0 * levels[b] + f1 * levels[b + 1] + f2 * levels[b + 2] + f3 * levels[b + 3]) +
        g2 * (f0 * levels[c] + f1 * levels[c + 1] + f2 * levels[c + 2] + f3 * levels[c + 3]) +
        g3 * (f0 * levels[d] + f1 * levels[d + 1] + f2 * levels[d + 2] + f3 * levels[d + 3]);
    }
  }
}
