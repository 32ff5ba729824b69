/** One thing the judge looked at: how it turned out, and the reason as the run document carries it. */
import type { VerdictSection } from '../run/index.js';

/** The four verdicts. */
export type Grade = VerdictSection['grade'];

/** A reason in numbers: plain words first, value and limit in `unit`; a null limit marks a note that decides nothing. */
export type Reason = Omit<VerdictSection['reasons'][number], 'margin' | 'ci95'>;

/** A first step for the crew and what it brings. */
export type Advice = Omit<VerdictSection['advice'][number], 'predicted'>;

/** How one check turned out; a note decides nothing. */
export interface Finding {
  readonly outcome: Grade | 'note';
  readonly reason: Reason;
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
