/** One step of the advice: what to do, what it brings, and what it costs a crew to take. */
import type { PredictedOutcome } from '../../run/index.js';
import type { DeliveryLimits } from '../delivery.js';
import type { MeasuredPass } from '../pass/measured-pass.js';
import type { Finding, Grade } from '../finding.js';
import type { MotionSection, StabiliseSection, SurfaceSection } from '../../run/index.js';

/** What the advice is computed from. */
export interface AdviceInput {
  readonly grade: Grade;
  readonly findings: readonly Finding[];
  readonly motion: MotionSection;
  readonly stabilise: StabiliseSection;
  readonly surface: SurfaceSection;
  readonly delivery: DeliveryLimits;
  /** Null: the steps come without predictions. */
  readonly pass: MeasuredPass | null;
  /** Searches look at fewer places, for an answer that is to be quick. */
  readonly coarse?: boolean | undefined;
}

/** Kinds of steps, the cheapest for a crew first: a setting in post costs nothing, boards have to be fetched. */
export const EFFORTS = ['post', 'lens', 'speed', 'shim', 'machine', 'wheels', 'boards'] as const;
export type Effort = (typeof EFFORTS)[number];

/** A step as the run document carries it. */
export interface Step {
  readonly code: string;
  readonly text: string;
  readonly effect: string;
  /** Null where the step changes neither crop nor what stays. */
  readonly predicted: PredictedOutcome | null;
}

/** A step whose effect was foretold, to be ranked among others. */
export interface ForetoldStep extends Step {
  readonly predicted: PredictedOutcome;
  readonly effort: Effort;
}

/** A step without figures of its own. */
export function told(code: string, text: string, effect: string): Step {
  return { code, text, effect, predicted: null };
}
