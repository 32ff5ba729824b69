/** What the smoothing slider of the report hands to the script of the page: words as they are shown, outlines as fractions. */

/** One setting of the slider, in words. */
export interface CropSliderStep {
  readonly smoothing: string;
  readonly crop: string;
  readonly left: string;
  readonly lens: string;
  readonly stands: string;
  /** All of it in one sentence, for those who do not see the page. */
  readonly spoken: string;
  readonly grade: 'pass' | 'marginal' | 'fail';
  /** The window in the pictured frame: points around it, x and y in turn, as fractions of the frame. */
  readonly window: readonly number[];
  /** The window in the frame that decides its size. */
  readonly deciding: readonly number[];
}

/** All settings, by growing smoothing. */
export interface CropSliderData {
  readonly steps: readonly CropSliderStep[];
  /** The setting of the report. */
  readonly chosen: number;
  /** Size of the drawing of the frame, px. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** Parts of the window that are the action and the title safe area. */
  readonly safe: readonly number[];
}
