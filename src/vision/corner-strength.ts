/**
 * Smaller eigenvalue of the gradient matrix at each pixel: how well a point can be located in both directions
 * (Shi and Tomasi, "Good Features to Track", CVPR 1994). See cornerStrengthOfGradient for its unit.
 */
import type { Engine, Mat } from './engine.js';
import type { Keep } from './scope.js';
import type { Area } from './types.js';

/** Side of the Sobel operator for the gradients, px. */
const APERTURE_PX = 3;

/** The map over `area`, computed with enough pixels around it to equal the same part of the map of the whole picture. */
export function cornerStrengthIn(
  engine: Engine,
  keep: Keep,
  picture: Mat,
  blockPx: number,
  area: Area,
): Float32Array {
  const { xPx, yPx, widthPx, heightPx } = area;
  needPart(area, picture.cols, picture.rows);
  const margin = Math.ceil(blockPx / 2) + 1;
  const left = Math.max(0, xPx - margin);
  const top = Math.max(0, yPx - margin);
  const right = Math.min(picture.cols, xPx + widthPx + margin);
  const bottom = Math.min(picture.rows, yPx + heightPx + margin);
  const part = keep(picture.roi(new engine.Rect(left, top, right - left, bottom - top)));
  const map = keep(new engine.Mat());
  engine.cornerMinEigenVal(part, map, blockPx, APERTURE_PX, engine.BORDER_REFLECT_101);
  const all = map.data32F;
  const strength = new Float32Array(widthPx * heightPx);
  for (let row = 0; row < heightPx; row++) {
    const from = (yPx - top + row) * (right - left) + (xPx - left);
    strength.set(all.subarray(from, from + widthPx), row * widthPx);
  }
  return strength;
}

/** @throws RangeError when the area does not lie in a picture of this size, px */
export function needPart({ xPx, yPx, widthPx, heightPx }: Area, columns: number, rows: number): void {
  const fits = xPx >= 0 && yPx >= 0 && widthPx > 0 && heightPx > 0;
  if (!fits || xPx + widthPx > columns || yPx + heightPx > rows) {
    throw new RangeError(
      `area: expected a part of ${columns} x ${rows} px, got ${widthPx} x ${heightPx} px at ${xPx}, ${yPx}`,
    );
  }
}

/**
 * Corner strength of a window with the given gradient: the inverse of the unit above, for thresholds that
 * are stated in grey levels per pixel.
 * @param gradientPerPx RMS gradient in the weaker direction, grey levels (0..255) per pixel
 * @param blockPx side of the block, px
 */
export function cornerStrengthOfGradient(gradientPerPx: number, blockPx: number): number {
  // The engine scales the 3 x 3 Sobel (gain 8) by 1 / (4 * block * 255) and sums over block^2 pixels.
  const scaled = (8 * gradientPerPx) / (4 * blockPx * 255);
  return blockPx * blockPx * scaled * scaled;
}
