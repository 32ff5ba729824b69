/**
 * The largest centred rectangle of a given shape inside a polygon, exactly, in the unit of the polygon.
 *
 * With y measured in rectangle heights, the half width at which a growing rectangle first meets a point is
 * max(|x|, |y| / shape): a norm. The answer is the distance of the border from the centre in that norm. On a straight
 * edge the norm is piecewise linear and convex, so its minimum lies at an end or where |x| = |y| / shape.
 */

/**
 * Half width of the largest rectangle centred on the origin that fits inside a closed polygon.
 *
 * @param x corner columns relative to the centre of the rectangle, length n >= 3, in order around the polygon
 * @param y corner rows, length n; the polygon need not be convex
 * @param heightPerWidth shape of the rectangle, height / width, > 0
 * @returns 0 when the origin is not inside the polygon
 * @remarks Own derivation.
 */
export function largestCentredHalfWidth(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  heightPerWidth: number,
): number {
  const n = x.length;
  let least = Infinity;
  let inside = false;
  for (let i = 0, j = n - 1; i < n; j = i++) {
    const px = x[j];
    const py = y[j] / heightPerWidth;
    const dx = x[i] - px;
    const dy = y[i] / heightPerWidth - py;
    // Even-odd rule on the ray from the origin along +x.
    if (py > 0 !== py + dy > 0 && px - (py / dy) * dx > 0) inside = !inside;
    least = Math.min(least, Math.max(Math.abs(px), Math.abs(py)));
    least = Math.min(least, normAtCrossing(px, py, dx, dy, 1), normAtCrossing(px, py, dx, dy, -1));
  }
  return inside ? least : 0;
}

/** The norm where the edge crosses x = sign * y between its ends, else infinity. */
function normAtCrossing(px: number, py: number, dx: number, dy: number, sign: number): number {
  const slope = dx - sign * dy;
  if (slope === 0) return Infinity;
  const s = (sign * py - px) / slope;
  if (!(s > 0 && s < 1)) return Infinity;
  return Math.max(Math.abs(px + s * dx), Math.abs(py + s * dy));
}
