/** What the main thread and the tracking workers say to each other; points are columns in pixels. */
import type { PictureShare, Points } from '../vision/index.js';
import type { Corners } from './corners.js';
import type { Errand } from './follow.js';

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

/** Take the frame in `slot`: the frame before becomes the previous picture. */
export interface LoadRequest {
  readonly kind: 'load';
  readonly slot: number;
  /** What the light became from the frame before to this one; null where it held. */
  readonly relight: Relight | null;
}

/** Follow points of the previous picture into the latest one. */
export interface FollowRequest extends Errand {
  readonly kind: 'follow';
}

/** Cut templates of points in the latest frame. */
export interface CutRequest {
  readonly kind: 'cut';
  /** Number of the track of each point; a track has one template at most. */
  readonly tracks: Int32Array;
  readonly points: Points;
}

/** Find the templates of these tracks in the latest frame, near the points; templates of all other tracks are dropped. */
export interface RefineRequest {
  readonly kind: 'refine';
  readonly tracks: Int32Array;
  readonly points: Points;
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

export type WorkerRequest =
  LoadRequest | FollowRequest | CutRequest | RefineRequest | CornersRequest | HeapRequest;

/** Points in the new frame. */
export interface Followed extends Points {
  /** 1 where the point came back to its place when followed backwards. */
  readonly kept: Uint8Array;
  /** 1 where the prediction did not do and the whole pyramid was searched. */
  readonly searched: Uint8Array;
}

/** Points as their templates put them. */
export interface Refined extends Points {
  /** 1 where the template is there and looks like itself. */
  readonly kept: Uint8Array;
}

/** The answer to each kind of request. */
export interface WorkerAnswers {
  readonly load: true;
  readonly follow: Followed;
  readonly cut: true;
  readonly refine: Refined;
  /** One entry per bucket asked for, in the order asked. */
  readonly corners: readonly Corners[];
  readonly heap: number;
}

/** What a worker posts: first `ready`, then one answer per request, in order. */
export type WorkerReply =
  | { readonly kind: 'ready' }
  | { readonly kind: 'answer'; readonly answer: WorkerAnswers[keyof WorkerAnswers] }
  | { readonly kind: 'failed'; readonly message: string };
