/**
 * The highest point of a polyhedron in three unknowns, exactly: maximise the third unknown under linear limits.
 *
 * Cutting planes: the optimum of a few limits is known; the limit that it breaks the most is added and is tight at the
 * next optimum, which is therefore found among the corners that it forms with pairs of the few. Own derivation.
 */

/** A point (x, y, height). */
export interface Highest {
  readonly x: number;
  readonly y: number;
  readonly height: number;
}

/** Numbers per limit: p x + q y + k height <= limit. */
export const LIMIT_NUMBERS = 4;
/** Coefficients are about 1 and limits some thousands of pixels: rounding stays far below this. */
const TOLERANCE = 1e-8;
const FLAT = 1e-12;
/** More rounds than a few dozen have not been seen. */
const MOST_CUTS = 200;

/**
 * The point of greatest height that keeps all limits and lies in the box |x|, |y| <= reach, height <= most.
 *
 * @param limits LIMIT_NUMBERS numbers each: p, q, k, limit
 * @returns where several points are highest, a corner of them; when rounding or limits that contradict each other leave
 *   no corner, the last one found, which may break some
 */
export function highestPoint(limits: Readonly<Float64Array>, reach: number, most: number): Highest {
  const cuts = [
    [1, 0, 0, reach],
    [-1, 0, 0, reach],
    [0, 1, 0, reach],
    [0, -1, 0, reach],
    [0, 0, 1, most],
  ];
  let best: Highest = { x: reach, y: reach, height: most };
  while (cuts.length < MOST_CUTS) {
    const broken = mostBroken(limits, best);
    if (broken < 0) break;
    const tight = Array.from(limits.subarray(broken, broken + LIMIT_NUMBERS));
    const next = highestOn(tight, cuts);
    if (next === null) break;
    best = next;
    cuts.push(tight);
  }
  return best;
}

/** Offset of the limit that a point breaks the most; -1 when it keeps them all. */
function mostBroken(limits: Readonly<Float64Array>, { x, y, height }: Highest): number {
  let worst = TOLERANCE;
  let at = -1;
  for (let i = 0; i < limits.length; i += LIMIT_NUMBERS) {
    const excess = limits[i] * x + limits[i + 1] * y + limits[i + 2] * height - limits[i + 3];
    if (excess > worst) {
      worst = excess;
      at = i;
    }
  }
  return at;
}

/** The highest corner of `cuts` on the plane of a further limit; null when there is none. */
function highestOn(tight: readonly number[], cuts: readonly (readonly number[])[]): Highest | null {
  let best: Highest | null = null;
  for (let i = 0; i < cuts.length; i++) {
    for (let j = 0; j < i; j++) {
      const corner = cornerOf(tight, cuts[i], cuts[j]);
      if (corner === null || (best !== null && corner.height <= best.height)) continue;
      const keeps = cuts.every(
        ([p, q, k, limit]) => p * corner.x + q * corner.y + k * corner.height <= limit + TOLERANCE,
      );
      if (keeps) best = corner;
    }
  }
  return best;
}

/** Where three planes meet, by Cramer's rule; null when they do not meet in one point. */
function cornerOf(a: readonly number[], b: readonly number[], c: readonly number[]): Highest | null {
  const bc0 = b[1] * c[2] - b[2] * c[1];
  const bc1 = b[2] * c[0] - b[0] * c[2];
  const bc2 = b[0] * c[1] - b[1] * c[0];
  const determinant = a[0] * bc0 + a[1] * bc1 + a[2] * bc2;
  if (Math.abs(determinant) < FLAT) return null;
  const ca0 = c[1] * a[2] - c[2] * a[1];
  const ca1 = c[2] * a[0] - c[0] * a[2];
  const ca2 = c[0] * a[1] - c[1] * a[0];
  const ab0 = a[1] * b[2] - a[2] * b[1];
  const ab1 = a[2] * b[0] - a[0] * b[2];
  const ab2 = a[0] * b[1] - a[1] * b[0];
  return {
    x: (a[3] * bc0 + b[3] * ca0 + c[3] * ab0) / determinant,
    y: (a[3] * bc1 + b[3] * ca1 + c[3] * ab1) / determinant,
    height: (a[3] * bc2 + b[3] * ca2 + c[3] * ab2) / determinant,
  };
}
