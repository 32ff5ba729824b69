/** Joints, steps, bumps and dips: what a scan of the run finds, metres, and how it is listed. */
import type { StretchInformation } from '../profile/types.js';

/** Scores of added shapes along the run, before anything was released. */
export interface EventScan {
  /** Candidate places, evenly spaced over the run, metres. */
  readonly placesM: Float64Array;
  readonly spacingM: number;
  /** Score of the best event at each place: chi-square with `degreesOfFreedom` where the floor is nothing but rough. */
  readonly score: Float64Array;
  readonly degreesOfFreedom: number;
  /** Score from which an event stands by itself. */
  readonly threshold: number;
  /** Way of the dolly in one frame, metres. */
  readonly frameStepM: number;
  /** What shapes are smeared over: the way of the dolly during one exposure, and a soft wheel's contact; metres. */
  readonly blurM: number;
  /** What each stretch of the pass says; `difference` is null without deck roll. */
  readonly stretches: readonly {
    readonly mean: StretchInformation;
    readonly difference: StretchInformation | null;
  }[];
}

/** An event that was found by its own score. */
export interface FoundEvent {
  readonly placeM: number;
  readonly score: number;
  /** Shape that explains it best; `lengthM` is 0 for a step, its base for a dip, its length for a bump. */
  readonly shape: 'step' | 'dip' | 'bump';
  readonly lengthM: number;
}

/** Joints at even distances, accepted as a row. */
export interface JointRow {
  readonly spacingM: number;
  readonly spacingSdM: number;
  /** Places of all joints of the row within the run, each moved to where it is seen, metres. */
  readonly placesM: readonly number[];
  /** ln of the Bayes factor against no joints at all. */
  readonly lnEvidence: number;
  /** Size of the joints' steps that explains the row best, metres RMS. */
  readonly stepRmsM: number;
}

export type EventKind = 'step' | 'joint' | 'bump' | 'dip';
export type WheelLine = 'left' | 'right' | 'both' | 'unknown';

/** One line of the grip's list. */
export interface FloorEvent {
  readonly kind: EventKind;
  /** Along the run from the rear axle's place at the first frame of the clip, metres; the sd leaves out the scale of the speed. */
  readonly atM: number;
  readonly atSdM: number;
  /** When the first axle that meets it in the clip is over it, seconds from the container. */
  readonly atS: number;
  /** + up along the travel for a step or joint, + above the floor for a bump, - below it for a dip as this wheel sees it; metres. */
  readonly heightM: number;
  readonly heightSdM: number;
  /** Under each wheel line; null without deck roll. */
  readonly sides: { readonly leftM: number; readonly rightM: number; readonly sdM: number } | null;
  readonly wheelLine: WheelLine;
  /** 0 for a step or joint. */
  readonly lengthM: number;
  /** Probability that it is there. */
  readonly confidence: number;
  /** Stands out by itself, or is there because the row it belongs to is. */
  readonly foundBy: 'itself' | 'pattern';
  /** Largest shift of the picture that it makes at the delivery size, px; null without a view. */
  readonly pictureShiftPx: number | null;
}
