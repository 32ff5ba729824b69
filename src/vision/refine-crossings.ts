/**
 * Moves roughly known crossings of a chessboard to where they are, by the gradients around them, in pixels.
 *
 * At the crossing q every gradient g at a place p near it is at right angles to p - q: on an edge, because the edge runs
 * through q; elsewhere, because there is none. The weighted least squares of g . (p - q) = 0 is solved again and again around
 * its own answer (W. Foerstner and E. Guelch, "A fast operator for detection and precise location of distinct points", 1987).
 */
import type { GreyPicture } from './types.js';

/** Reach of the window: a quarter of a square, between these limits in px. */
const REACH_SHARE = 0.25;
const LEAST_REACH_PX = 3;
const MOST_REACH_PX = 8;
/** The black of the markers begins this far from both edges, in squares; blurred by about this many px. */
const MARKER_GAP = 0.15;
const BLUR_PX = 1.5;
/** Edges are used up to here, in squares: before the next crossing comes near. */
const ARM = 0.4;
const STEPS = 12;
/** A step this short ends the search, px. */
const SETTLED_PX = 0.002;
/** An eigenvalue ratio below this means one edge and no crossing. */
const LEAST_ROUNDNESS = 0.02;

/** A place in the picture, or null when the picture shows no crossing there. */
export type Crossing = { readonly xPx: number; readonly yPx: number } | null;

/** The sides of a square at a crossing, as they lie in the picture: one step along the board's x and one along its y, px. */
export interface SquareSides {
  readonly right: readonly [number, number];
  readonly down: readonly [number, number];
}

/**
 * The crossing near a rough place; null when the picture shows none there, or one further away than a sixth of a square.
 * Gradients of markers are kept out: only places near one of the two edges count.
 */
export function refineCrossing(picture: GreyPicture, xPx: number, yPx: number, sides: SquareSides): Crossing {
  const [rx, ry] = sides.right;
  const [dx, dy] = sides.down;
  const area = rx * dy - ry * dx;
  const lengths = [Math.hypot(rx, ry), Math.hypot(dx, dy)];
  const sidePx = Math.min(...lengths);
  if (!(Math.abs(area) > 0.1 * lengths[0] * lengths[1])) return null;
  const window: Window = {
    reachPx: Math.max(LEAST_REACH_PX, Math.min(MOST_REACH_PX, REACH_SHARE * Math.max(...lengths))),
    alongX: [dy / area, -dx / area],
    alongY: [-ry / area, rx / area],
    gapX: MARKER_GAP - (BLUR_PX * lengths[1]) / Math.abs(area),
    gapY: MARKER_GAP - (BLUR_PX * lengths[0]) / Math.abs(area),
  };
  const furthest = Math.max(1, sidePx / 6);
  let [x, y] = [xPx, yPx];
  for (let step = 0; step < STEPS; step++) {
    const next = solveAround(picture, x, y, window);
    if (!next || Math.hypot(next.xPx - xPx, next.yPx - yPx) > furthest) return null;
    const moved = Math.hypot(next.xPx - x, next.yPx - y);
    [x, y] = [next.xPx, next.yPx];
    if (moved < SETTLED_PX) break;
  }
  return { xPx: x, yPx: y };
}

interface Window {
  readonly reachPx: number;
  /** Takes a step in px to squares along the board's x, and its y. */
  readonly alongX: readonly [number, number];
  readonly alongY: readonly [number, number];
  /** Distance from an edge, in squares, within which a place belongs to it. */
  readonly gapX: number;
  readonly gapY: number;
}

/** How much the gradient at (i, j) px from the middle of the window counts. */
function weightAt({ reachPx, alongX, alongY, gapX, gapY }: Window, i: number, j: number): number {
  const u = Math.abs(alongX[0] * i + alongX[1] * j);
  const v = Math.abs(alongY[0] * i + alongY[1] * j);
  const nearMiddle = i * i + j * j <= 2;
  if (!nearMiddle && ((u > gapX && v > gapY) || u > ARM || v > ARM)) return 0;
  return Math.exp((-2 * (i * i + j * j)) / (reachPx * reachPx));
}

function solveAround(
  { widthPx, heightPx, grey }: GreyPicture,
  x: number,
  y: number,
  window: Window,
): Crossing {
  const reach = Math.ceil(window.reachPx);
  const side = 2 * reach + 3;
  const left = x - reach - 1;
  const top = y - reach - 1;
  if (!(left >= 0 && top >= 0 && left + side < widthPx && top + side < heightPx)) return null;
  // A patch centred on (x, y), interpolated between pixels, one pixel wider than the window for its gradients.
  const patch = new Float64Array(side * side);
  const [column, row] = [Math.floor(left), Math.floor(top)];
  const [fx, fy] = [left - column, top - row];
  for (let j = 0; j < side; j++) {
    for (let i = 0; i < side; i++) {
      const at = (row + j) * widthPx + column + i;
      patch[j * side + i] =
        (1 - fy) * ((1 - fx) * grey[at] + fx * grey[at + 1]) +
        fy * ((1 - fx) * grey[at + widthPx] + fx * grey[at + widthPx + 1]);
    }
  }
  let [xx, xy, yy, bx, by] = [0, 0, 0, 0, 0];
  for (let j = -reach; j <= reach; j++) {
    for (let i = -reach; i <= reach; i++) {
      const at = (j + reach + 1) * side + i + reach + 1;
      const gx = (patch[at + 1] - patch[at - 1]) / 2;
      const gy = (patch[at + side] - patch[at - side]) / 2;
      const weight = weightAt(window, i, j);
      if (weight === 0) continue;
      const [gxx, gxy, gyy] = [weight * gx * gx, weight * gx * gy, weight * gy * gy];
      xx += gxx;
      xy += gxy;
      yy += gyy;
      bx += gxx * i + gxy * j;
      by += gxy * i + gyy * j;
    }
  }
  const spread = Math.hypot((xx - yy) / 2, xy);
  if (!((xx + yy) / 2 - spread > LEAST_ROUNDNESS * ((xx + yy) / 2 + spread))) return null;
  const determinant = xx * yy - xy * xy;
  return { xPx: x + (yy * bx - xy * by) / determinant, yPx: y + (xx * by - xy * bx) / determinant };
}
