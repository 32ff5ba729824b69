/** Which stretch of a picture row a projected rectangle can cover, in normalised image coordinates. */
import { NEAREST_M } from './projected-surfaces.js';

/** Planes further away than this count as horizon. */
const FURTHEST_M = 1e4;

/**
 * Narrows [span[0], span[1]] of x to where all conditions of a rectangle hold for some y in [low, high]: 0 <= u <= 1,
 * 0 <= v <= 1 and a depth between the nearest and the furthest.
 *
 * @param planes plane table, see projected-surfaces
 * @param at start of the rectangle's nine numbers
 * @param span two numbers, changed in place; first > second when nothing is left
 */
export function narrowSpan(
  planes: Float64Array,
  at: number,
  low: number,
  high: number,
  span: Float64Array,
): void {
  const ux = planes[at];
  const uy = planes[at + 1];
  const uc = planes[at + 2];
  const vx = planes[at + 3];
  const vy = planes[at + 4];
  const vc = planes[at + 5];
  const wx = planes[at + 6];
  const wy = planes[at + 7];
  const wc = planes[at + 8];
  halfPlane(ux, uy, uc, low, high, span);
  halfPlane(wx - ux, wy - uy, wc - uc, low, high, span);
  halfPlane(vx, vy, vc, low, high, span);
  halfPlane(wx - vx, wy - vy, wc - vc, low, high, span);
  halfPlane(wx, wy, wc - 1 / FURTHEST_M, low, high, span);
  halfPlane(-wx, -wy, 1 / NEAREST_M - wc, low, high, span);
}

/** Condition a x + b y + c >= 0 for some y in [low, high]. */
function halfPlane(a: number, b: number, c: number, low: number, high: number, span: Float64Array): void {
  const rest = c + b * (b >= 0 ? high : low);
  if (a > 0) {
    const from = -rest / a;
    if (from > span[0]) span[0] = from;
  } else if (a < 0) {
    const to = rest / -a;
    if (to < span[1]) span[1] = to;
  } else if (rest < 0) {
    span[1] = -Infinity;
  }
}
