/**
 * Which of several rows of joints it is: the widest spacing that loses little evidence (own rule).
 *
 * Rows of half or a third of the true spacing hold all true joints and explain them as well: with a wheelbase of 1.5 spacings the
 * second kick of each joint even falls half-way between two of them.
 */
/** What speaks for a set of places. */
export interface RowWeight {
  /** ln Bayes factor beyond what events explain that stand by themselves. */
  readonly lnEvidence: number;
  /** The same against a floor with no joints and no other events. */
  readonly lnEvidenceOfAll: number;
  /** Size of the joints' steps that explains all of them best, metres RMS. */
  readonly stepRmsM: number;
}

/** Spacings that differ by less than this are the same row laid out anew. */
const SAME_SPACING_SHARE = 0.03;
/** Evidence that a wider row may always lose, and the share of all: more of a strong row, whose joints never fit to the last. */
const LOSS = 1;
const LOSS_SHARE = 0.03;
const STRONG = 200;
const STRONG_LOSS_SHARE = 0.1;
const MISFIT_SHARE = 0.3;
const EVERY = [2, 3, 4, 5] as const;

/** A row with its joints where they are seen, and what they count. */
export interface WeighedRow extends RowWeight {
  readonly spacingM: number;
  /** Rising, metres. */
  readonly placesM: readonly number[];
}

/**
 * Whether a wider row explains about as much as another one: little is lost beyond what stands by itself anyway, and of all evidence
 * no more than narrower rows owe to the misfit of their strong joints.
 */
export function explainsAsMuch(wider: RowWeight, most: RowWeight): boolean {
  const share = most.lnEvidence > STRONG ? STRONG_LOSS_SHARE : LOSS_SHARE;
  return (
    most.lnEvidence - wider.lnEvidence <= LOSS + share * Math.max(0, most.lnEvidence) &&
    wider.lnEvidenceOfAll >= most.lnEvidenceOfAll - MISFIT_SHARE * Math.abs(most.lnEvidenceOfAll)
  );
}

/** The widest of the rows that explain about as much as the best one; null for no rows. */
export function widestRow<Row extends WeighedRow>(rows: readonly Row[]): Row | null {
  if (rows.length === 0) return null;
  const best = bestRow(rows);
  const good = rows.filter((row) => explainsAsMuch(row, best));
  const widest = Math.max(...good.map((row) => row.spacingM));
  return bestRow(good.filter((row) => row.spacingM > (1 - SAME_SPACING_SHARE) * widest));
}

function bestRow<Row extends WeighedRow>(rows: readonly Row[]): Row {
  return rows.reduce((best, row) => (row.lnEvidence > best.lnEvidence ? row : best));
}

/**
 * Every second to fifth joint of a row instead of it, again and again, where these alone explain about as much; also when fewer
 * than four of them fit the run, so that what is left may be no row at all.
 *
 * @param weigh evidence of joints at given places
 */
export function thinnedRow(row: WeighedRow, weigh: (placesM: readonly number[]) => RowWeight): WeighedRow {
  let current = row;
  for (;;) {
    const thinner = EVERY.flatMap((every) => Array.from({ length: every }, (_, from) => ({ every, from })))
      .map(({ every, from }) => ({
        spacingM: current.spacingM * every,
        placesM: current.placesM.filter((_, k) => k % every === from),
      }))
      .filter(({ placesM }) => placesM.length >= 2)
      .map((less) => ({ ...less, ...weigh(less.placesM) }));
    const next = widestRow([current, ...thinner]);
    if (next === null || next === current) return current;
    current = next;
  }
}
