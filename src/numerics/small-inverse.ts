/**
 * Inverses of 3 x 3 and 6 x 6 blocks that lie one after another in a flat array, for hot loops: nothing is
 * allocated, the result goes into an array of the caller. Blocks are stored row by row.
 */

/**
 * Inverts a 3 x 3 block, symmetric or not, by its adjugate.
 *
 * @param a array that holds the block
 * @param at index of the block's first number
 * @param out array for the result, may be `a` itself
 * @param outAt index of the result's first number
 * @returns false when the determinant is zero or not finite; `out` is then left alone
 */
export function invert3(a: Readonly<Float64Array>, at: number, out: Float64Array, outAt: number): boolean {
  const a00 = a[at];
  const a01 = a[at + 1];
  const a02 = a[at + 2];
  const a10 = a[at + 3];
  const a11 = a[at + 4];
  const a12 = a[at + 5];
  const a20 = a[at + 6];
  const a21 = a[at + 7];
  const a22 = a[at + 8];
  const c00 = a11 * a22 - a12 * a21;
  const c01 = a12 * a20 - a10 * a22;
  const c02 = a10 * a21 - a11 * a20;
  const scale = 1 / (a00 * c00 + a01 * c01 + a02 * c02);
  if (!Number.isFinite(scale)) return false;
  out[outAt] = c00 * scale;
  out[outAt + 1] = (a02 * a21 - a01 * a22) * scale;
  out[outAt + 2] = (a01 * a12 - a02 * a11) * scale;
  out[outAt + 3] = c01 * scale;
  out[outAt + 4] = (a00 * a22 - a02 * a20) * scale;
  out[outAt + 5] = (a02 * a10 - a00 * a12) * scale;
  out[outAt + 6] = c02 * scale;
  out[outAt + 7] = (a01 * a20 - a00 * a21) * scale;
  out[outAt + 8] = (a00 * a11 - a01 * a10) * scale;
  return true;
}

/** Work space of {@link invert6}: the factor, overwritten on every call. */
const factor = new Float64Array(36);

/**
 * Inverts a symmetric positive definite 6 x 6 block by Cholesky factorisation; only the lower triangle is read.
 *
 * @param a array that holds the block
 * @param at index of the block's first number
 * @param out array for the result (both triangles), may be `a` itself
 * @param outAt index of the result's first number
 * @returns false when the block is not positive definite; `out` is then left alone
 */
export function invert6(a: Readonly<Float64Array>, at: number, out: Float64Array, outAt: number): boolean {
  // L in the lower triangle of the work space.
  for (let i = 0; i < 6; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[at + i * 6 + j];
      for (let k = 0; k < j; k++) sum -= factor[i * 6 + k] * factor[j * 6 + k];
      if (j < i) {
        factor[i * 6 + j] = sum / factor[j * 7];
      } else {
        if (!(sum > 0)) return false;
        factor[i * 7] = Math.sqrt(sum);
      }
    }
  }
  // L^-1 in place, column by column from the left; column j needs rows j..5 of L, which are still unchanged there.
  for (let j = 0; j < 6; j++) {
    const diagonal = 1 / factor[j * 7];
    for (let i = j + 1; i < 6; i++) {
      let sum = factor[i * 6 + j] * diagonal;
      for (let k = j + 1; k < i; k++) sum += factor[i * 6 + k] * factor[k * 6 + j];
      factor[i * 6 + j] = -sum / factor[i * 7];
    }
    factor[j * 7] = diagonal;
  }
  // A^-1 = L^-T L^-1.
  for (let i = 0; i < 6; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = i; k < 6; k++) sum += factor[k * 6 + i] * factor[k * 6 + j];
      out[outAt + i * 6 + j] = sum;
      out[outAt + j * 6 + i] = sum;
    }
  }
  return true;
}
