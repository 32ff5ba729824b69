/** Which columns of a row a surface may lie in: row-span.ts. */
import { centreXPx, focalPx, get, rayX, rayY, straight, width } from './memory';

const NEAREST_M: f64 = 0.12;
const FURTHEST_M: f64 = 1e4;

/** The span that `narrowSpan` found, rays; the columns that `columnRange` found. */
export let low: f64 = 0;
export let high: f64 = 0;
export let first: i32 = 0;
export let last: i32 = 0;

/** Condition a x + b y + c >= 0 for some y in [from, to]. */
function halfPlane(a: f64, b: f64, c: f64, from: f64, to: f64): void {
  const rest = c + b * (b >= 0 ? to : from);
  if (a > 0) {
    const least = -rest / a;
    if (least > low) low = least;
  } else if (a < 0) {
    const most = rest / -a;
    if (most < high) high = most;
  } else if (rest < 0) {
    high = -Infinity;
  }
}

/** Sets low and high to the span of a rectangle in rows from..to. */
export function narrowSpan(plane: usize, from: f64, to: f64): void {
  low = -Infinity;
  high = Infinity;
  const ux = get(plane, 0);
  const uy = get(plane, 1);
  const uc = get(plane, 2);
  const vx = get(plane, 3);
  const vy = get(plane, 4);
  const vc = get(plane, 5);
  const wx = get(plane, 6);
  const wy = get(plane, 7);
  const wc = get(plane, 8);
  halfPlane(ux, uy, uc, from, to);
  halfPlane(wx - ux, wy - uy, wc - uc, from, to);
  halfPlane(vx, vy, vc, from, to);
  halfPlane(wx - vx, wy - vy, wc - vc, from, to);
  halfPlane(wx, wy, wc - 1 / FURTHEST_M, from, to);
  halfPlane(-wx, -wy, 1 / NEAREST_M - wc, from, to);
}

/** Sets first and last to the columns whose centres lie in the span; for a bent row, those that might. */
export function columnRange(plane: usize, rowLow: f64, rowHigh: f64): bool {
  narrowSpan(plane, rowLow, rowHigh);
  if (low > high) return false;
  if (straight) {
    const from = max<f64>(0, ceil(low * focalPx + centreXPx));
    const to = min<f64>(<f64>(width - 1), floor(high * focalPx + centreXPx));
    if (!(from <= to)) return false;
    first = <i32>from;
    last = <i32>to;
    return true;
  }
  let a = 0;
  while (a < width && get(rayX, a) < low) a++;
  let b = width - 1;
  while (b >= 0 && get(rayX, b) > high) b--;
  first = a;
  last = b;
  return a <= b;
}

/** True where the ray of column x meets the rectangle. */
export function hits(plane: usize, x: i32): bool {
  const rx = get(rayX, x);
  const ry = get(rayY, x);
  const w = get(plane, 6) * rx + get(plane, 7) * ry + get(plane, 8);
  const u = get(plane, 0) * rx + get(plane, 1) * ry + get(plane, 2);
  const v = get(plane, 3) * rx + get(plane, 4) * ry + get(plane, 5);
  return u >= 0 && v >= 0 && u <= w && v <= w;
}
