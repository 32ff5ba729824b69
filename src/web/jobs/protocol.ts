/** What the queue and a worker process say to each other. */
import type { Tools } from '../../footage/index.js';
import type { DeliveryPresets } from '../../judge/index.js';
import type { Job, JobOrder, JobStage, Look, Problem, Settings } from '../api.js';

/** What every task is done with; paths are absolute. */
interface Means {
  readonly clip: string;
  readonly logFile: string;
  readonly outDir: string;
  readonly tools: Tools;
  readonly threads: number;
}

/** A clip to be measured, reported and kept. */
export interface MeasureTask extends Means {
  readonly kind: 'measure';
  /** The clip as the crew calls it; its report folder is named after it. */
  readonly name: string;
  readonly settings: Settings;
  readonly presets: DeliveryPresets;
}

/** A run of the log to be rendered stabilised. */
export interface ProofTask extends Means, Pick<JobOrder & { kind: 'proof' }, 'run' | 'layout' | 'window'> {
  readonly kind: 'proof';
}

export type Task = MeasureTask | ProofTask;

/** Samples of the rough angles, degrees from the first frame on. */
export interface TraceSamples {
  readonly timeS: number[];
  readonly panDeg: number[];
  readonly tiltDeg: number[];
  readonly rollDeg: number[];
}

/** What became of a task. */
export interface Outcome extends Pick<Job, 'run' | 'grade' | 'sentence' | 'problem'> {
  /** Of the clip that was measured; null where none was. */
  readonly sha256: string | null;
  /** Runs of the log that changed. */
  readonly changed: readonly number[];
}

/** What a worker tells. */
export type FromWorker =
  | {
      readonly kind: 'progress';
      readonly stage: JobStage;
      readonly done: number;
      readonly total: number | null;
    }
  | { readonly kind: 'look'; readonly look: Omit<Look, 'job'> }
  | { readonly kind: 'trace'; readonly samples: TraceSamples }
  /** It begins to write there; `made` when the folder is its own. */
  | { readonly kind: 'writing'; readonly folder: string; readonly made: boolean }
  | { readonly kind: 'done'; readonly outcome: Outcome }
  | { readonly kind: 'failed'; readonly problem: Problem };
