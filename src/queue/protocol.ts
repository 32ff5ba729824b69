/** What a worker and the process of one measurement say to each other. */
import type { StretchLimits } from '../follow-stretches.js';
import type { Tools } from '../footage/index.js';
import type { StageProgress } from '../measure-request.js';
import type { ClipOrder } from '../run/index.js';

/** A clip that is a file of this machine, to be measured in whole or in part. */
export interface MeasureOrder {
  readonly file: string;
  readonly order: ClipOrder;
  readonly part: OrderedPart;
  /** How long clips are cut; the usual limits unless set. */
  readonly limits?: StretchLimits | undefined;
  readonly tools: Tools;
  readonly threads: number;
  /** Machine and process that the work is done for. */
  readonly worker: string;
}

/** What of the clip is wanted. */
export type OrderedPart =
  /** The clip; of one that is too long to be held at once the first stretch, where `inStretches`. */
  | { readonly kind: 'clip'; readonly inStretches: boolean }
  /** A later stretch, given the record of the first. */
  | {
      readonly kind: 'stretch';
      readonly number: number;
      readonly count: number;
      readonly first: Uint8Array;
    }
  /** The clip, out of the records of all its stretches in their order. */
  | { readonly kind: 'join'; readonly records: readonly Uint8Array[] };

/** What the process tells. */
export type FromMeasuring =
  | StageProgress
  /** The result as it is handed over, and the sum of the bytes that were measured. */
  | { readonly kind: 'done'; readonly packed: Uint8Array; readonly sha256: string; readonly verdict: string }
  /** The record of a stretch, and how many stretches the clip has. */
  | { readonly kind: 'stretch'; readonly record: Uint8Array; readonly count: number }
  /** A failure that people can be told; `code` is null where the fault is ours. */
  | { readonly kind: 'failed'; readonly code: string | null; readonly message: string };
