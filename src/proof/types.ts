/** What a proof is made from and what is said of it: the clip stabilised, at the crop that was foretold. */
import type { ClipFacts, EncodeRecord, PlaneCodec, Tools } from '../footage/index.js';
import type { Camera, PictureSize } from '../optics/index.js';
import type { Warning } from '../run/index.js';
import type { Corrections } from '../stabilise/index.js';

/** alone: the stabilised picture; beside: original left; above: original above; split: left half of the original, right half stabilised. */
export type ProofLayout = 'alone' | 'beside' | 'above' | 'split';

/**
 * Which part of the stabilised picture is shown. A zoom of 1 shows the largest rectangle of the delivery's shape inside
 * the frame.
 */
export type ProofWindow =
  | { readonly kind: 'centred'; readonly zoom: number }
  | {
      readonly kind: 'offCentre';
      /** Middle of the window from the middle of the frame, px of the camera, right and down positive. */
      readonly offsetXPx: number;
      readonly offsetYPx: number;
      readonly zoom: number;
    }
  | {
      readonly kind: 'moving';
      /** One zoom per sample time, straight between them. */
      readonly zoom: Float64Array;
    };

/** How a picture is to be turned into a stabilised one. */
export interface StabilisedView {
  /** Seconds from the start of the clip, length n >= 1, strictly rising; before and after them the ends are held. */
  readonly timeS: Float64Array;
  /** One per sample time. */
  readonly corrections: Corrections;
  /** Of the frames the corrections were measured on; they show the same picture at any size. */
  readonly camera: Camera;
  readonly window: ProofWindow;
  /** Height per width of the delivery, as shown; that of `camera` keeps the whole picture. */
  readonly shape: number;
}

/** What to render. */
export interface ProofRequest extends StabilisedView {
  readonly clip: string;
  readonly facts: ClipFacts;
  /** Seconds from the start of the clip; frames stamped inS <= t < outS are rendered. */
  readonly range: { readonly inS: number; readonly outS: number };
  /** .mp4, .mov or .mkv; replaced when it is there. */
  readonly file: string;
  readonly layout: ProofLayout;
  readonly codec: PlaneCodec;
  /** H.264: constant quality, 0 lossless to 51. ProRes takes none. */
  readonly quality?: number | undefined;
}

/** What a proof needs from outside, and whom it tells how far it has come. */
export interface ProofHooks {
  readonly tools: Tools;
  readonly signal?: AbortSignal | undefined;
  /** Whole number from 1; default 2. With 1 no worker is started. */
  readonly threads?: number | undefined;
  /** Frames written, of about how many. */
  readonly onProgress?: ((done: number, total: number) => void) | undefined;
  readonly onWarning?: ((warning: Warning) => void) | undefined;
}

/** What was rendered; what coding did to it included. */
export interface ProofRecord extends Omit<EncodeRecord, 'frameCount'> {
  readonly file: string;
  readonly layout: ProofLayout;
  readonly codec: PlaneCodec;
  readonly frames: number;
  /** Of the written picture, in stored pixels, all parts of the layout included. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** Of the stabilised picture in it. */
  readonly stabilised: PictureSize;
  /** Frames in which a pixel of the stabilised picture lay outside the recorded one. */
  readonly framesOutside: number;
  /** How far outside at most, stored px; 0 when none was. Infinity where nothing lies behind a pixel at all. */
  readonly furthestOutsidePx: number;
  /** Wall time per frame, seconds. */
  readonly secondsPerFrame: number;
}
