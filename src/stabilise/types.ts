/** What the stabilise room hands on: the crop that removing the vibration costs, and what is left afterwards. */
import type { Camera } from '../optics/index.js';
import type { AngularAxis, Assumption } from '../run/index.js';
import type { ShutterAdvice } from './residual/blur-shutter.js';
import type { DeliveryPixels } from './what-if/delivery-pixels.js';
import type { FramingPlan } from './what-if/framing.js';
import type { TakeForecast } from './take/longer-take-types.js';
import type { Residual } from './residual/residual-types.js';
import type { Steadiness } from './residual/steadiness.js';
import type { ViewedPicture } from './residual/viewing.js';
import type { FocalRow, LongestFocal } from './what-if/what-if-focal.js';
import type { SpeedRow } from './what-if/what-if-speed.js';

/** Angular vibration in radians, columns of equal length n: measured path minus target path, at the middle of each frame. */
export type AngularVibration = Readonly<Record<AngularAxis, Float64Array>>;

/**
 * What the stabilised camera is to do: keep the intended move and lose its vibration, stand still as if locked off, or
 * take the smoothest path that a given crop allows.
 */
export type StabiliseMode = 'keepMove' | 'holdStill' | 'smoothest';

/**
 * How the camera turns while the rows of a frame are read: path(t + time of a row) - path(t), radians.
 *
 * Given at `knots` rows, evenly spaced from the top edge of the picture (row -0.5) to its bottom edge (row H - 0.5), and
 * straight between them.
 */
export interface RowChanges {
  /** At least 2. */
  readonly knots: number;
  /** Length n * knots, all knots of a frame side by side. */
  readonly pan: Float64Array;
  readonly tilt: Float64Array;
  readonly roll: Float64Array;
}

/** What is taken out of every frame of a clip. */
export interface Corrections {
  readonly vibration: AngularVibration;
  /** Null: each frame is turned as one. */
  readonly rows: RowChanges | null;
}

/** A crop window that may lie off the middle of the frame; the same window for all frames. */
export interface OffCentreCrop {
  /** Middle of the window from the middle of the frame, px of the camera, right and down positive. */
  readonly offsetXPx: number;
  readonly offsetYPx: number;
  readonly zoom: number;
  readonly cropPercent: number;
  readonly coverable: boolean;
}

/** One point of the trade-off between steadiness and crop. */
export interface CurvePoint {
  /** One over the frequency below which motion counts as the intended move, seconds. */
  readonly smoothingS: number;
  readonly zoom: number;
  readonly cropPercent: number;
  /** RMS of all picture motion left at this smoothing, px of the delivery; null when it is not known. */
  readonly residualPx: number | null;
}

/** What one window for all frames costs. */
export interface StaticCrop {
  /** Half width of the largest rectangle without border in any frame, relative to the unwarped one: 1 means no crop. */
  readonly leastShare: number;
  /** Smallest static zoom that shows no border in any frame; limited to 20. */
  readonly zoom: number;
  /** 100 (1 - 1/zoom), of the picture width. */
  readonly cropPercent: number;
  /** Frame that decides the zoom; -1 when there are no frames. */
  readonly worstFrame: number;
  /** False when a frame needs more than half of the width: that is no shot to stabilise. */
  readonly coverable: boolean;
}

/** The exact crop of one set of corrections; columns of length n, one per frame. */
export interface ExactCrop extends StaticCrop {
  /** As `leastShare`, of each frame alone. */
  readonly halfWidthShare: Float64Array;
}

/** One way to stabilise: a mode with what it takes out, costs and leaves. */
export interface Way {
  readonly mode: StabiliseMode;
  /** One over the frequency below which motion is kept, seconds; null where the mode has no smoothing of its own. */
  readonly smoothingS: number | null;
  /** What a reader should know of the path; null where there is nothing. */
  readonly remark: string | null;
  readonly corrections: Corrections;
  readonly crop: ExactCrop;
  readonly residual: Residual;
}

/** A way without the crop of each frame alone: what it costs and leaves as a whole. */
export type BareWay = Omit<Way, 'crop'> & { readonly crop: StaticCrop };

/** What to set in the stabiliser, and how to shoot on the day. */
export interface Recommendation {
  /** The smoothing to set; null in a mode that has none. */
  readonly smoothingS: number | null;
  /** Why, in words for a reader. */
  readonly why: string;
  /** Zoom with the reserve. */
  readonly zoom: number;
  /** How much wider to frame. */
  readonly framing: FramingPlan;
  /** The longest lens that keeps the limits of the delivery; null when none does. */
  readonly longestLens: LongestFocal | null;
  /** Whether the pixels of the clip still fill the delivery. */
  readonly pixels: DeliveryPixels;
  /** The shutter that tames pulsing blur; null when it does not pulse. */
  readonly shutter: ShutterAdvice | null;
}

/** The same shake on other lenses and at other speeds. */
export interface WhatIf {
  readonly focal: readonly FocalRow[];
  readonly speed: readonly SpeedRow[];
}

/** A plan to stabilise one clip. */
export interface Stabilisation {
  readonly mode: StabiliseMode;
  /** Null where the mode has no smoothing of its own. */
  readonly smoothingS: number | null;
  /** Seconds, length n. */
  readonly timeS: Float64Array;
  /** Camera of the analysis frames. */
  readonly camera: Camera;
  readonly corrections: Corrections;
  /** Crop that each frame alone would need, 0..1 of the width, length n. */
  readonly cropFraction: Float64Array;
  readonly zoom: number;
  readonly cropPercent: number;
  /** Columns of the delivery that the crop takes away, left and right together. */
  readonly cropPx: number;
  readonly coverable: boolean;
  /** Time stamp of the frame that decides the zoom; null without frames. */
  readonly worstFrameS: number | null;
  /** Crop of a slowly moving zoom, 0..1 of the width, length n. */
  readonly movingCropFraction: Float64Array;
  /** Mean over the clip of the moving zoom's crop. */
  readonly movingCropPercent: number;
  /** The best window off the middle, the same in all frames. */
  readonly offCentre: OffCentreCrop;
  /** All modes on this clip, the chosen one among them. */
  readonly ways: readonly Way[];
  /** The take that was asked for, or the usual one, seconds; its forecast is told first. */
  readonly takeS: number;
  readonly forecast: TakeForecast;
  /** In order of growing smoothing. */
  readonly curve: readonly CurvePoint[];
  readonly residual: Residual;
  readonly recommended: Recommendation;
  readonly whatIf: WhatIf;
  readonly steadiness: Steadiness;
  readonly delivery: ViewedPicture;
  readonly assumed: readonly Assumption[];
}
