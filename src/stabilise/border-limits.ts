/**
 * The linear limits that the borders of all frames set to a window near a given one, pixels.
 *
 * Heights are measured in window heights, so that the window is a square of half width a around (x, y). A side of a
 * border stops the window at a corner of the window, where the border falls in towards the corner, or where the border
 * bulges into the picture between the corners. The first are the lines of the border's pieces at the corners' heights, the
 * second the innermost such bulge. For straight sides both are exact for every window, for bent ones for windows whose
 * corners stand beside the same pieces. Own derivation.
 */
import { LIMIT_NUMBERS } from './highest-point.js';

/** A square window, px. */
export interface SquareWindow {
  readonly x: number;
  readonly y: number;
  readonly halfWidth: number;
}

/** Borders of all frames: polygons of one number of corners, side by side, in order from the upper left corner to the right. */
export interface Borders {
  readonly frames: number;
  /** Points per border; a quarter of them on each side. */
  readonly points: number;
  /** Length frames * points. */
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** At most two corners and one bulge for each of four sides. */
const LIMITS_PER_FRAME = 12;

/** A side of the border as seen by the window: `outward` towards it, `along` it. */
interface Side {
  readonly acrossIsX: boolean;
  readonly outward: 1 | -1;
  /** Whether the order of the points runs with growing x or y. */
  readonly forward: boolean;
}

const SIDES: readonly Side[] = [
  { acrossIsX: false, outward: -1, forward: true },
  { acrossIsX: true, outward: 1, forward: true },
  { acrossIsX: false, outward: 1, forward: false },
  { acrossIsX: true, outward: -1, forward: false },
];

/** The limits p x + q y + k a <= limit that hold for windows near `near`, LIMIT_NUMBERS numbers each. */
export function borderLimits(borders: Borders, near: SquareWindow): Float64Array {
  const { frames, points } = borders;
  const perSide = points / 4;
  const out = new Float64Array(frames * LIMITS_PER_FRAME * LIMIT_NUMBERS);
  let used = 0;
  // Distance outwards and place along the side, points in growing order along it.
  const u = new Float64Array(perSide + 1);
  const w = new Float64Array(perSide + 1);
  for (let t = 0; t < frames; t++) {
    for (let s = 0; s < 4; s++) {
      const { acrossIsX, outward, forward } = SIDES[s];
      const across = acrossIsX ? borders.x : borders.y;
      const along = acrossIsX ? borders.y : borders.x;
      for (let i = 0; i <= perSide; i++) {
        const at = t * points + ((s * perSide + (forward ? i : perSide - i)) % points);
        u[i] = outward * across[at];
        w[i] = along[at];
      }
      const middle = acrossIsX ? near.y : near.x;
      const low = pieceAt(w, middle - near.halfWidth);
      const high = pieceAt(w, middle + near.halfWidth);
      const add = (slope: number, end: number, limit: number): void => {
        out[used] = acrossIsX ? outward : -slope;
        out[used + 1] = acrossIsX ? -slope : outward;
        out[used + 2] = 1 - slope * end;
        out[used + 3] = limit;
        used += LIMIT_NUMBERS;
      };
      for (const [piece, end] of [
        [low, -1],
        [high, 1],
      ]) {
        const slope = (u[piece + 1] - u[piece]) / (w[piece + 1] - w[piece]);
        if (Number.isFinite(slope)) add(slope, end, u[piece] - slope * w[piece]);
      }
      let bulge = Infinity;
      for (let i = low + 1; i <= high; i++)
        if (u[i] <= u[i - 1] && u[i] <= u[i + 1]) bulge = Math.min(bulge, u[i]);
      if (bulge < Infinity) add(0, 0, bulge);
    }
  }
  return out.subarray(0, used);
}

/** The piece between neighbouring points that holds a place, or the first or last one when it lies beyond. */
function pieceAt(w: Float64Array, place: number): number {
  let low = 0;
  let high = w.length - 2;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (w[middle] <= place) low = middle;
    else high = middle - 1;
  }
  return low;
}
