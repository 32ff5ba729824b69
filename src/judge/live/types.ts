/** What a question to a measured pass is answered with at once, while sliders move: figures with their ranges, grade, what the picture does. */
import type { Camera } from '../../optics/index.js';
import type { PredictedOutcome, ResolvedDelivery, VerdictSection } from '../../run/index.js';
import type { Corrections, StabiliseMode } from '../../stabilise/index.js';
import type { DeliveryPresets } from '../presets.js';

/** What an answer takes in besides the pass. */
export interface LiveExtras {
  /** Deliveries by name; the built-in ones unless the crew has a file. */
  readonly presets?: DeliveryPresets;
  /** The verdict of the run. */
  readonly verdict: VerdictSection;
}

/** A question answered. What is refused leaves the pass as it was measured. */
export interface LiveAnswer {
  /** Why it cannot be foretold, in a sentence; null where it can. */
  readonly refused: string | null;
  /** False where nothing that a figure depends on is different: all figures are then the stored ones. */
  readonly changed: boolean;
  readonly grade: VerdictSection['grade'];
  /** What decides the grade, worst first; notes, which decide nothing, are not among them. */
  readonly reasons: VerdictSection['reasons'];
  readonly outcome: PredictedOutcome;
  /** Columns of the delivery that the crop takes. */
  readonly cropPx: number;
  readonly zoom: number;
  /** True where the shake left is an upper bound. */
  readonly residualAtMost: boolean;
  /** What should be known of the path; null where there is nothing. */
  readonly remark: string | null;
  readonly delivery: ResolvedDelivery;
  readonly mode: StabiliseMode;
  /** Null where the way has no smoothing. */
  readonly smoothingS: number | null;
  /** Null where no lens was named. */
  readonly focalLengthMm: number | null;
  /** Focal length in pixels over that of the pass, with the picture as large. */
  readonly focalFactor: number;
  readonly speedMps: number | null;
  /** What is taken for granted, plain sentences. */
  readonly assumes: readonly string[];
  readonly view: LiveView;
  /** The trade-off along the smoothing under the same lens, speed and delivery; null where it was not asked for. */
  readonly curve: readonly LivePoint[] | null;
}

/** What the stabilised picture shows of the frames of the clip. */
export interface LiveView {
  /** Of each sample of the clip, seconds, length n. */
  readonly timeS: Float64Array;
  readonly corrections: Corrections;
  /** That took the frames of the clip, at the size of the analysis. */
  readonly camera: Camera;
  /** From the whole frame of the clip: that of a longer lens shows its middle. */
  readonly zoom: number;
  /** Height per width of the delivery. */
  readonly shape: number;
  /** What the frames of the clip cannot show of the question. */
  readonly lacks: 'speed' | 'widerLens' | null;
}

/** One smoothing of the trade-off. */
export interface LivePoint extends PredictedOutcome {
  readonly smoothingS: number;
  /** The one that was asked for. */
  readonly chosen: boolean;
}
