/**
 * Smaller eigenvalue of the gradient matrix at each pixel: how well a point can be located in both directions
 * (Shi and Tomasi, "Good Features to Track", CVPR 1994). See cornerStrengthOfGradient for its unit.
 */
import type { Engine, Mat } from './engine.js';
import type { Keep } from './scope.js';

/** Side of the Sobel operator for the gradients, px. */
const APERTURE_PX = 3;

/** Rows [fromRow, toRow) of the map, computed with enough rows around them to equal the map of the whole picture. */
export function cornerStrengthRows(
  engine: Engine,
  keep: Keep,
  picture: Mat,
  blockPx: number,
  fromRow: number,
  toRow: number,
): Float32Array {
  if (!(fromRow >= 0 && fromRow < toRow && toRow <= picture.rows)) {
    throw new RangeError(`rows: expected 0 <= from < to <= ${picture.rows}, got ${fromRow} and ${toRow}`);
  }
  const width = picture.cols;
  const margin = Math.ceil(blockPx / 2) + 1;
  const top = Math.max(0, fromRow - margin);
  const bottom = Math.min(picture.rows, toRow + margin);
  const strip = keep(picture.roi(new engine.Rect(0, top, width, bottom - top)));
  const map = keep(new engine.Mat());
  engine.cornerMinEigenVal(strip, map, blockPx, APERTURE_PX, engine.BORDER_REFLECT_101);
  return map.data32F.slice((fromRow - top) * width, (toRow - top) * width);
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
