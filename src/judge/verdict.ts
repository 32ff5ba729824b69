/**
 * The verdict on a test pass: pass, marginal, fail or unmeasurable against the delivery of the crew, with reasons in numbers and
 * what to change first, from the sections of the run document.
 */
import type {
  MotionSection,
  StabiliseSection,
  SurfaceSection,
  TrackingSection,
  VerdictSection,
  Warning,
} from '../run/index.js';
import type { DeliveryLimits } from './delivery.js';
import { adviceFor } from './advice/advise.js';
import { decide } from './decide.js';
import { bySeverity, worstGrade } from './finding.js';
import { obstacles, type ClipFactsForJudge } from './measurable.js';
import { notes } from './notes.js';
import type { MeasuredPass } from './pass/measured-pass.js';

/** What a verdict is made from. */
export interface JudgeInput {
  readonly motion: MotionSection;
  readonly stabilise: StabiliseSection;
  readonly surface: SurfaceSection;
  readonly tracking: TrackingSection;
  readonly delivery: DeliveryLimits;
  /** Warnings of the whole run; they are listed in the document and do not decide. */
  readonly warnings?: readonly Warning[];
  /** Range and frame count of the clip; without it a clip is never found too short. */
  readonly clip?: ClipFactsForJudge;
  /** The pass with its motion, which advice is foretold from; null where only the sections are there: steps then come without. */
  readonly pass: MeasuredPass | null;
  /** True for advice that is found quickly: its searches look at fewer places. */
  readonly coarse?: boolean;
}

/**
 * Judges a run.
 *
 * The grade is the worst of the findings and comes from raw values, never from printed ones. Reasons stand worst first;
 * those with a null limit are notes and decide nothing. When the clip does not support a verdict, only what stands in the way
 * is listed, since the other figures cannot be trusted.
 *
 * @returns the section as the run document carries it; advice is never empty
 */
export function judge({
  motion,
  stabilise,
  surface,
  tracking,
  delivery,
  clip,
  pass,
  coarse,
}: JudgeInput): VerdictSection {
  const blocked = obstacles(tracking, motion, clip);

  const findings =
    blocked.length > 0
      ? blocked
      : [...bySeverity(decide(motion, stabilise, delivery)), ...notes(motion, stabilise, surface, delivery)];
  const grade = worstGrade(findings);
  return {
    grade,
    reasons: findings.map(({ reason }) => reason),
    advice: adviceFor({ grade, findings, motion, stabilise, surface, delivery, pass, coarse }),
  };
}
