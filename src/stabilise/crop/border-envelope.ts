/**
 * How far the borders of all frames together let a window reach, side by side, in the unit of the borders: the innermost
 * place of each side over any stretch along it.
 */

/** Borders of one number of points, a quarter of them on each side, in order from the upper left corner to the right. */
export interface Borders {
  readonly count: number;
  /** Points of each. */
  readonly points: number;
  /** Length count * points. */
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** Stretches along a side over which the innermost place is kept; about one pixel each. */
const BINS = 2048;

/** Innermost place of one side of all borders. */
export interface SideEnvelope {
  /**
   * The least distance outwards that the side has anywhere on those of its bins that lie between two places along it;
   * infinity when there are none.
   */
  readonly least: (from: number, to: number) => number;
}

/** The four sides; distances outwards are y, x, -y, -x for bottom, right, top, left. */
export interface BorderEnvelope {
  readonly top: SideEnvelope;
  readonly right: SideEnvelope;
  readonly bottom: SideEnvelope;
  readonly left: SideEnvelope;
}

/** Takes the four sides of all borders together. */
export function borderEnvelope(borders: Borders): BorderEnvelope {
  const { x, y } = borders;
  return {
    top: sideEnvelope(borders, 0, y, -1, x),
    right: sideEnvelope(borders, 1, x, 1, y),
    bottom: sideEnvelope(borders, 2, y, 1, x),
    left: sideEnvelope(borders, 3, x, -1, y),
  };
}

function sideEnvelope(
  { count, points }: Borders,
  side: number,
  across: Float64Array,
  outward: 1 | -1,
  along: Float64Array,
): SideEnvelope {
  let low = Infinity;
  let high = -Infinity;
  for (const place of along) {
    low = Math.min(low, place);
    high = Math.max(high, place);
  }
  const width = high > low ? (high - low) / BINS : 1;
  const innermost = new Float64Array(BINS).fill(Infinity);
  const perSide = points / 4;
  for (let b = 0; b < count; b++) {
    for (let i = 0; i < perSide; i++) {
      const from = b * points + side * perSide + i;
      const to = b * points + ((side * perSide + i + 1) % points);
      const forward = along[from] <= along[to];
      const [first, last] = forward ? [from, to] : [to, from];
      addPiece(
        innermost,
        (along[first] - low) / width,
        (along[last] - low) / width,
        outward * across[first],
        outward * across[last],
      );
    }
  }
  const leastOf = rangeMinimum(innermost);
  return { least: (from, to) => leastOf(Math.ceil((from - low) / width), Math.floor((to - low) / width)) };
}

/** Takes a straight piece from place p to q >= p (in bins), at distances u and v, into the bins that it touches. */
function addPiece(innermost: Float64Array, p: number, q: number, u: number, v: number): void {
  const slope = q > p ? (v - u) / (q - p) : 0;
  const end = Math.min(BINS - 1, Math.floor(q));
  for (let bin = Math.max(0, Math.floor(p)); bin <= end; bin++) {
    const atStart = bin > p ? u + slope * (bin - p) : u;
    const atEnd = bin + 1 < q ? u + slope * (bin + 1 - p) : v;
    innermost[bin] = Math.min(innermost[bin], atStart, atEnd);
  }
}

/** Gives the minimum of values[from .. to - 1], from minima over stretches of every power of two. */
function rangeMinimum(values: Float64Array): (from: number, to: number) => number {
  const levels = [values];
  for (let span = 1; 2 * span <= values.length; span *= 2) {
    const shorter = levels[levels.length - 1];
    levels.push(shorter.map((value, i) => Math.min(value, shorter[Math.min(i + span, shorter.length - 1)])));
  }
  return (from, to) => {
    const first = Math.max(0, from);
    const length = Math.min(values.length, to) - first;
    if (length <= 0) return Infinity;
    const level = 31 - Math.clz32(length);
    return Math.min(levels[level][first], levels[level][first + length - (1 << level)]);
  };
}
