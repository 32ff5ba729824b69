/** What the stabilise room hands on: the crop that removing the vibration costs, and what is left afterwards. */
import type { PictureSize } from '../optics/index.js';
import type { AngularAxis, Assumption } from '../run/index.js';

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

/** What "keep the move, remove the vibration" leaves behind, in delivery pixels; vector length, over the whole picture. */
export interface Residual {
  /**
   * value: the figures are estimates; atMost: the translation lies below the noise, the figures are upper bounds;
   * notObservable: translation cannot be told from rotation in this clip, rmsPx, p95Px and parallaxPx are null.
   */
  readonly status: 'value' | 'atMost' | 'notObservable';
  /** RMS of all picture motion left: translational vibration seen at the depths of the scene, and readout skew when known. */
  readonly rmsPx: number | null;
  /** 95th percentile over the frames of the translational part, with the mean readout skew; null when only a bound is known. */
  readonly p95Px: number | null;
  /** The part of rmsPx that differs between near and far: no shift of the whole picture removes it either. */
  readonly parallaxPx: number | null;
  /** Range (99.5 minus 0.5 percentile) of the length of motion blur: the still picture's sharpness pulses by this. */
  readonly blurPx: number | null;
  /** RMS skew within the frames that one warp per frame leaves on a sensor read row by row; null when readout is unknown. */
  readonly readoutPx: number | null;
}

/** One point of the trade-off between steadiness and crop. */
export interface CurvePoint {
  /** One over the frequency below which motion counts as the intended move, seconds. */
  readonly smoothingS: number;
  readonly zoom: number;
  readonly cropPercent: number;
  /** `Residual.rmsPx` at this smoothing; slower motion counts as intended there, not as residue. */
  readonly residualPx: number | null;
}

/** What a longer or shorter take on the same kind of floor will need. */
export interface LongerTake {
  readonly takeS: number;
  /** Chance, 0..1, that such a take needs more crop than this clip did. */
  readonly chanceExceeds: number;
  readonly medianPercent: number | null;
  /** 95 of 100 such takes need less; 100 means that nothing would be left of the picture. */
  readonly upper95Percent: number | null;
}

/** What to set in the stabiliser, and how much wider to frame on the day. */
export interface Recommendation {
  readonly smoothingS: number;
  /** Zoom with a small reserve. */
  readonly zoom: number;
  /** How much wider than the wanted picture to frame, per cent of its width. */
  readonly overscanPercent: number;
}

/** The exact crop of one set of corrections; columns of length n, one per frame. */
export interface ExactCrop {
  /** Half width of the largest rectangle without border, relative to the unwarped one: 1 means no crop. */
  readonly halfWidthShare: Float64Array;
  /** Smallest static zoom that shows no border in any frame; limited to 20. */
  readonly zoom: number;
  /** 100 (1 - 1/zoom), of the picture width. */
  readonly cropPercent: number;
  /** Frame that decides the zoom; -1 when there are no frames. */
  readonly worstFrame: number;
  /** False when a frame needs more than half of the width: that is no shot to stabilise. */
  readonly coverable: boolean;
}

/** A plan to stabilise one clip. */
export interface Stabilisation {
  readonly mode: 'keepMove';
  readonly smoothingS: number;
  /** Seconds, length n. */
  readonly timeS: Float64Array;
  /** Crop that each frame alone would need, 0..1 of the width, length n. */
  readonly cropFraction: Float64Array;
  /**
   * Row-major 3x3 homography per frame, length 9 n, in analysis pixels without lens distortion:
   * maps a pixel of the clip to its place in the stabilised picture, before the zoom.
   */
  readonly corrections: Float64Array;
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
  readonly longerTake: readonly LongerTake[];
  /** In order of growing smoothing. */
  readonly curve: readonly CurvePoint[];
  readonly residual: Residual;
  readonly recommended: Recommendation;
  /** Source pixels inside the static crop; null when the source size was not given. */
  readonly pixelsLeft: PictureSize | null;
  readonly frame: PictureSize;
  readonly delivery: PictureSize;
  readonly assumed: readonly Assumption[];
}
