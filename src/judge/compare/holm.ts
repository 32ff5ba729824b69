/** Holm's correction: two-sided p of a family of questions that was fixed beforehand, to p that hold for the family as a whole. */

/**
 * Multiplies the smallest p by m, the next by m - 1 and so on, never letting a larger p end up smaller.
 *
 * @param p in any order, each 0..1; null is a question that could not be asked, and counts for nothing
 * @returns in the order given, at most 1
 * @remarks Source: Holm 1979, Scandinavian Journal of Statistics 6, 65-70 [from memory].
 * @example holm([0.001, 0.012, 0.02, 0.04, 0.3]) // [0.005, 0.048, 0.06, 0.08, 0.3]
 */
export function holm(p: readonly (number | null)[]): (number | null)[] {
  const asked = p.flatMap((value, index) => (value === null ? [] : [{ value, index }]));
  asked.sort((one, other) => one.value - other.value);
  const corrected: (number | null)[] = p.map(() => null);
  let most = 0;
  asked.forEach(({ value, index }, rank) => {
    most = Math.max(most, Math.min(1, (asked.length - rank) * value));
    corrected[index] = most;
  });
  return corrected;
}
