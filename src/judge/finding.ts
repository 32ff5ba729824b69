/** One thing the judge looked at: how it turned out, and the reason as the run document carries it. */
import type { Ranged, VerdictSection } from '../run/index.js';
import { gradeAgainst } from './pass/grade-figures.js';
import type { RelativeRange } from './relative-range.js';

/** The four verdicts. */
export type Grade = VerdictSection['grade'];

/**
 * A reason in numbers: plain words first; value, limit, margin and 95 % range in `unit`. A null limit marks a note that decides
 * nothing.
 */
export type Reason = VerdictSection['reasons'][number];

/** How one check turned out; a note decides nothing. */
export interface Finding {
  readonly outcome: Grade | 'note';
  readonly reason: Reason;
}

/** A figure with its 95 % range and the most that is allowed. */
export interface Measured {
  readonly range: Ranged;
  readonly limit: number;
  readonly unit: string;
}

/** What a figure is called, and in which words it is told. */
export interface Told {
  readonly code: string;
  readonly text: string;
}

/** The figure with the ends of its 95 % range. @param factors on the value, see `relativeRange` */
export function rangeOf(value: number, [least, most]: RelativeRange): Ranged {
  return { value, low: value * least, high: value * most };
}

/**
 * A figure against the most that is allowed: pass or fail when its whole range lies on one side, marginal when the limit lies within.
 * @param tell the words for that outcome
 */
export function decided(
  { range, limit, unit }: Measured,
  tell: (outcome: 'pass' | 'marginal' | 'fail') => Told,
): Finding {
  const outcome = gradeAgainst(range, limit);
  const { value, low, high } = range;
  return {
    outcome,
    reason: { ...tell(outcome), value, limit, margin: limit - value, ci95: [low, high], unit },
  };
}

/** A figure that has no range, or none at all: it cannot be told on which side of the limit it lies. */
export function undecided(value: number | null, limit: number, unit: string, told: Told): Finding {
  const margin = value === null ? null : limit - value;
  return { outcome: 'marginal', reason: { ...told, value, limit, margin, ci95: null, unit } };
}

/** What the crew should know beside the verdict. */
export function note(
  told: Told,
  { value, ci95, unit }: { value: number | null; ci95: [number, number] | null; unit: string },
): Finding {
  return { outcome: 'note', reason: { ...told, value, limit: null, margin: null, ci95, unit } };
}

/** Codes that pass without a 95 % range. */
const PASSES_WITHOUT_RANGE: ReadonlySet<string> = new Set(['residual-below-noise']);

/**
 * True for a reason that keeps the verdict from pass: beyond its limit, with its 95 % range reaching beyond it, or one that cannot be
 * told on which side it lies. Notes keep from nothing.
 */
export function keepsFromPass({
  code,
  limit,
  margin,
  ci95,
}: Pick<Reason, 'code' | 'limit' | 'margin' | 'ci95'>): boolean {
  if (limit === null) return false;
  if (margin !== null && margin < 0) return true;
  return ci95 === null ? !PASSES_WITHOUT_RANGE.has(code) : ci95[1] > limit;
}

const SEVERITY: Record<Finding['outcome'], number> = {
  note: 0,
  pass: 1,
  marginal: 2,
  fail: 3,
  unmeasurable: 4,
};

/** The grade that a set of findings adds up to: the worst of them; "unmeasurable" when nothing decides. */
export function worstGrade(findings: readonly Finding[]): Grade {
  let worst: Finding['outcome'] = 'note';
  for (const { outcome } of findings) if (SEVERITY[outcome] > SEVERITY[worst]) worst = outcome;
  return worst === 'note' ? 'unmeasurable' : worst;
}

/** Worst first, notes last; equal ones keep their order. */
export function bySeverity(findings: readonly Finding[]): Finding[] {
  return [...findings].sort((a, b) => SEVERITY[b.outcome] - SEVERITY[a.outcome]);
}
