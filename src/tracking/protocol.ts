/** What the main thread and the tracking workers say to each other; points are columns in pixels. */
import type { Corners, PictureShare, Points } from '../vision/index.js';

/** Given to a worker at its start. */
export interface WorkerSetup {
  /** The pictures, shared by all threads. */
  readonly share: PictureShare;
  /** Number of the worker, from 0. */
  readonly hand: number;
}

/** A change of the light: each grey level becomes `gain` times itself plus `offset`. */
export interface Relight {
  readonly gain: number;
  readonly offset: number;
}

/** Points with the numbers of their tracks; a track has one template at most. */
export interface TrackPoints {
  readonly tracks: Int32Array;
  readonly points: Points;
}

/** Take the frame in `slot`: the frame before becomes the previous picture. Then follow points from that into this one. */
export interface StepRequest extends TrackPoints {
  readonly kind: 'step';
  /** Templates to be cut before that, in the frame before. */
  readonly cut: TrackPoints;
  readonly slot: number;
  /** What the light became from the frame before to this one; null where it held. */
  readonly relight: Relight | null;
  /** Where the frame should hold the points, one for each. */
  readonly predicted: Points;
  /** True to put each point where its template lies; templates of all other tracks are dropped. */
  readonly refine: boolean;
}

/** Do the latest step once more, as if it had not been done, and trust no prediction. */
export interface AgainRequest {
  readonly kind: 'again';
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

export type WorkerRequest = StepRequest | AgainRequest | CornersRequest | HeapRequest;

/** Points in the new frame. */
export interface Followed extends Points {
  /** 1 where the point came back to its place when followed backwards and, when refined, its template is there and looks like itself. */
  readonly kept: Uint8Array;
  /** 1 where the prediction did not do and the whole pyramid was searched. */
  readonly searched: Uint8Array;
}

/** The answer to each kind of request. */
export interface WorkerAnswers {
  readonly step: Followed;
  readonly again: Followed;
  /** One entry per bucket asked for, in the order asked. */
  readonly corners: readonly Corners[];
  readonly heap: number;
}

/** What a worker posts: first `ready`, then one answer per request, in order. */
export type WorkerReply =
  | { readonly kind: 'ready' }
  | { readonly kind: 'answer'; readonly answer: WorkerAnswers[keyof WorkerAnswers] }
  | { readonly kind: 'failed'; readonly message: string };
