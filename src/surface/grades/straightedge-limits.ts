/** Limits on gaps under a straightedge: DIN 18202 table 3, rows for floors, and BS 8204; in mm, as the standards print them. */

/** Rows of DIN 18202 table 3 that speak of floors, numbered as in the older editions (from memory: those of 2013 and 2019 split row 2). */
export type DinRow = 1 | 2 | 3 | 4;

/** Rows from the easiest to the strictest. */
export const DIN_ROWS: readonly DinRow[] = [1, 2, 3, 4];

/** The row of the smallest gaps. */
export const STRICTEST_ROW: DinRow = 4;

/** Point distances of the table, m. */
const DISTANCES_M = [0.1, 1, 4, 10, 15];

/** Gaps in mm at those distances, read on two public trade pages; one of them prints 2 at 1 m in row 4, taken as its slip. */
const GAPS_MM: Readonly<Record<DinRow, readonly number[]>> = {
  // Unfinished top of slabs.
  1: [10, 15, 20, 25, 30],
  // The same with higher demand, floors of stores.
  2: [5, 8, 12, 15, 20],
  // Finished floors.
  3: [2, 4, 10, 12, 15],
  // Finished floors with higher demand.
  4: [1, 3, 9, 12, 15],
};

/** BS 8204 surface regularity under a bar of 2 m, the strictest first, gap in mm (read on a page of a trade society). */
const SURFACE_REGULARITY: readonly { readonly name: SurfaceRegularity; readonly gapMm: number }[] = [
  { name: 'SR1', gapMm: 3 },
  { name: 'SR2', gapMm: 5 },
  { name: 'SR3', gapMm: 10 },
];

/** Gap of the strictest of them, mm. */
export const STRICTEST_REGULARITY_MM = SURFACE_REGULARITY[0].gapMm;

/** Length of the bar of BS 8204, m (3 m in the edition of 1987). */
export const REGULARITY_BAR_M = 2;

export type SurfaceRegularity = 'SR1' | 'SR2' | 'SR3';

/**
 * Gap that DIN 18202 allows between two high points this far apart, whole mm.
 *
 * Straight between the distances of the table, rounded to whole mm; the first and the last limit hold beyond them.
 *
 * @throws RangeError unless distanceM > 0
 * @example dinLimitMm(3, 2.5) // 7
 */
export function dinLimitMm(row: DinRow, distanceM: number): number {
  return Math.round(dinLimitUnroundedMm(row, distanceM));
}

/** The same before rounding, mm. */
export function dinLimitUnroundedMm(row: DinRow, distanceM: number): number {
  if (!(distanceM > 0)) throw new RangeError(`distanceM must be positive, got ${distanceM}`);
  const gaps = GAPS_MM[row];
  const next = DISTANCES_M.findIndex((d) => d >= distanceM);
  if (next === 0) return gaps[0];
  if (next < 0) return gaps[gaps.length - 1];
  const along = (distanceM - DISTANCES_M[next - 1]) / (DISTANCES_M[next] - DISTANCES_M[next - 1]);
  return gaps[next - 1] + along * (gaps[next] - gaps[next - 1]);
}

/**
 * BS 8204 class of the largest gap under a 2 m straightedge; null when it is wider than all of them allow. Waviness within the
 * 2 m is not judged by it.
 *
 * @param gapM metres
 * @example surfaceRegularity(0.004) // 'SR2'
 */
export function surfaceRegularity(gapM: number): SurfaceRegularity | null {
  return SURFACE_REGULARITY.find(({ gapMm }) => 1000 * gapM <= gapMm)?.name ?? null;
}
