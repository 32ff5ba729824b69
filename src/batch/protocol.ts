/** What a batch and the process that measures one of its clips say to each other. */
import type { Tools } from '../footage/index.js';
import type { MeasureRequest, StageProgress } from '../measure-request.js';
import type { PrintPaper } from '../report/index.js';
import type { RunDocument } from '../run/index.js';
import type { ClipFigures } from './clip-figures.js';
import type { ClipFailure } from './failure.js';

/** A clip to be measured, reported and kept. */
export interface MeasureOrder {
  readonly request: MeasureRequest;
  /** Where its report goes. */
  readonly folder: string;
  /** Paper of report.pdf; none is printed without. */
  readonly paper?: PrintPaper | undefined;
  /** The log that keeps it, and what it is kept as; null keeps it nowhere. */
  readonly keep: {
    readonly logFile: string;
    readonly settingsKey: string;
    /** Whether a run of the same clip and settings that is there by then stands for it. */
    readonly once: boolean;
  } | null;
  readonly tools: Tools;
  /** Threads of the tracker. */
  readonly threads: number;
  /** Whether the run document is wanted back. */
  readonly withDocument: boolean;
}

/** A clip that was measured. */
export interface MeasuredClip {
  readonly figures: ClipFigures;
  readonly sha256: string;
  /** Its number in the log; null where it is not kept. */
  readonly run: number | null;
  /** What went wrong besides, the measurement standing: log or PDF that could not be written. */
  readonly notices: readonly ClipFailure[];
  /** Where it was asked for. */
  readonly document: RunDocument | null;
}

/** What the process tells. */
export type FromMeasuring =
  | StageProgress
  | { readonly kind: 'done'; readonly measured: MeasuredClip }
  | { readonly kind: 'failed'; readonly failure: ClipFailure };
