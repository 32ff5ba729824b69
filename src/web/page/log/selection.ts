/** Which runs are selected after a click or a key. Pure functions. */

/** Selects a run or takes it off the selection. */
export function toggled(selected: readonly number[], id: number): readonly number[] {
  return selected.includes(id) ? selected.filter((one) => one !== id) : [...selected, id];
}

/**
 * Selects, or takes off, everything between two runs as they are listed, both included.
 *
 * @param listed in the order of the list
 * @param from where the last click was; null for none: then only the other end is meant
 */
export function withRange(
  selected: readonly number[],
  listed: readonly number[],
  from: number | null,
  to: number,
  on: boolean,
): readonly number[] {
  const ends = [listed.indexOf(from ?? to), listed.indexOf(to)].sort((a, b) => a - b);
  const range = ends[0] < 0 ? [to] : listed.slice(ends[0], ends[1] + 1);
  if (!on) return selected.filter((id) => !range.includes(id));
  return [...selected, ...range.filter((id) => !selected.includes(id))];
}
