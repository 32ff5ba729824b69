/** What somebody meant who wrote a name that is not known. */

/** The known name that the one given begins, or with the fewest letter edits from it (Levenshtein distance, case ignored). */
export function nearestName(name: string, known: readonly string[]): string {
  const begun = known.filter((candidate) => candidate.toLowerCase().startsWith(name.toLowerCase()));
  if (begun.length === 1) return begun[0];
  let best = known[0] ?? '';
  let bestEdits = Infinity;
  for (const candidate of known) {
    const edits = editDistance(name.toLowerCase(), candidate.toLowerCase());
    if (edits < bestEdits) [best, bestEdits] = [candidate, edits];
  }
  return best;
}

/** Letters of a name that is known this well may be wrong, as a share of them. */
const WRONG_SHARE = 0.4;
/** Of shorter names one wrong letter leaves too little to go by. */
const LEAST_LETTERS = 4;

/** The nearest name where that is likely to be meant; null where nothing is near: a name that is far off helps nobody. */
export function likelyName(name: string, known: readonly string[]): string | null {
  const nearest = nearestName(name, known);
  const [given, meant] = [name.toLowerCase(), nearest.toLowerCase()];
  if (given !== '' && meant.startsWith(given)) return nearest;
  if (given.length < LEAST_LETTERS) return null;
  return editDistance(given, meant) <= WRONG_SHARE * given.length ? nearest : null;
}

function editDistance(a: string, b: string): number {
  let previous = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++)
      row[j] = Math.min(previous[j] + 1, row[j - 1] + 1, previous[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1));
    previous = row;
  }
  return previous[b.length];
}
