/** What the main thread and the tracking workers say to each other; points are columns in pixels. */
import type { Points } from '../vision/index.js';
import type { Corners } from './corners.js';

/** Given to a worker at its start. */
export interface WorkerSetup {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Frame slots shared by all threads, each widthPx * heightPx bytes. */
  readonly slots: SharedArrayBuffer;
}

/** Take the frame in `slot` and follow `points` of the frame before into it. */
export interface FollowRequest {
  readonly kind: 'follow';
  readonly slot: number;
  readonly points: Points;
  /** Where to look first: the points moved on by their last step. */
  readonly start: Points;
}

/** Find corners of the latest frame in some buckets of the grid. */
export interface CornersRequest {
  readonly kind: 'corners';
  readonly buckets: readonly number[];
}

/** Say how much memory the image engine holds. */
export interface HeapRequest {
  readonly kind: 'heap';
}

export type WorkerRequest = FollowRequest | CornersRequest | HeapRequest;

/** Points in the new frame; kept is 1 where the point came back to its place when followed backwards. */
export interface Followed extends Points {
  readonly kept: Uint8Array;
}

/** The answer to each kind of request. */
export interface WorkerAnswers {
  readonly follow: Followed;
  /** One entry per bucket asked for, in the order asked. */
  readonly corners: readonly Corners[];
  readonly heap: number;
}

/** What a worker posts: first `ready`, then one answer per request, in order. */
export type WorkerReply =
  | { readonly kind: 'ready' }
  | { readonly kind: 'answer'; readonly answer: WorkerAnswers[keyof WorkerAnswers] }
  | { readonly kind: 'failed'; readonly message: string };
