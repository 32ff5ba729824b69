/** What a worker and the process of one measurement say to each other. */
import type { Tools } from '../footage/index.js';
import type { Stage } from '../measure-request.js';
import type { ClipOrder } from '../run/index.js';

/** A clip that is a file of this machine, to be measured. */
export interface MeasureOrder {
  readonly file: string;
  readonly order: ClipOrder;
  readonly tools: Tools;
  readonly threads: number;
  /** Machine and process that the work is done for. */
  readonly worker: string;
}

/** What the process tells. */
export type FromMeasuring =
  | {
      readonly kind: 'progress';
      readonly stage: Stage;
      readonly done: number;
      readonly total: number | null;
    }
  /** The result as it is handed over, and the sum of the bytes that were measured. */
  | { readonly kind: 'done'; readonly packed: Uint8Array; readonly sha256: string; readonly grade: string }
  /** A failure that people can be told; `code` is null where the fault is ours. */
  | { readonly kind: 'failed'; readonly code: string | null; readonly message: string };
