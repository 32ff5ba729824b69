/** The steps of an advice that have to do with what keeps a verdict from pass. */
import type { VerdictSection } from '../../run/index.js';

type Cause = 'crop' | 'left' | 'rows';

/** What the reasons that keep a verdict from pass are about. */
const CAUSES: Readonly<Record<string, Cause>> = {
  'crop-over-limit': 'crop',
  'crop-at-limit': 'crop',
  'crop-near-limit': 'crop',
  'residual-over-limit': 'left',
  'residual-at-limit': 'left',
  'residual-not-reliable': 'left',
  'translation-not-measured': 'left',
  'readout-wobble': 'rows',
};

/** What a step brings down, or lets the next measurement tell. */
const HELPS: Readonly<Record<string, readonly Cause[]>> = {
  'keep-the-move': ['crop'],
  'smooth-less': ['crop'],
  'smooth-more': ['left'],
  'smoothest-path': ['crop', 'left'],
  'moving-crop': ['crop'],
  'less-shake': ['crop'],
  'allow-crop': ['crop', 'left'],
  'frame-wider': ['crop'],
  'shim-bump': ['crop', 'left'],
  'change-surface': ['left'],
  'show-depth': ['left'],
  'calibrate-lens': ['left'],
  'faster-readout': ['left', 'rows'],
  'correct-rows': ['rows'],
};

/** The steps in their order; all of them where the pass is good or could not be measured. */
export function stepsThatCount({ grade, reasons, advice }: VerdictSection): VerdictSection['advice'] {
  if (grade !== 'marginal' && grade !== 'fail') return advice;
  const causes = new Set(reasons.map(({ code }) => CAUSES[code]));
  return advice.filter(({ code }) => (HELPS[code] ?? []).some((cause) => causes.has(cause)));
}
