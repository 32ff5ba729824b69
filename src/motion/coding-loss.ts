/**
 * What inter-frame coding may have moved between angle and translation, from the vibration itself (rad and the unit of
 * the depths) and the scene's depth.
 *
 * A coder that predicts frames from one another keeps smooth motion and rounds small departures from it away, most of
 * all far from the camera, where a shake of the camera moves the picture least. Near points still show the shake, far
 * ones stand still: that looks like more translation and an opposite turn. The tracks agree with it, so no residual
 * tells. Own trials on made-up clips (H.264, B frames, crf 16, 1280 px wide, translation alone, two seeds, all-intra beside
 * it): at picture shifts of 0.014, 0.028, 0.056, 0.11 and 0.22 px RMS (at a width of 960) the false turn beyond the other
 * noise was about 0.3, 0.5, 0.75, 0.7 and 0.5 mdeg, a third of the equivalent turn at first and then nearly constant; lateral
 * and vertical came out 3 to 7 % too large up to 0.056 px (once 15 %) and right above. All-intra clips show none of it.
 */
import { rms } from '../numerics/index.js';
import type { Camera } from '../optics/index.js';
import type { SixAxes } from '../run/index.js';
import type { SceneDepth } from './types.js';

/** Largest share of the equivalent turn of a translation that coding turns into a false angle. */
const LOST_TURN = 0.35;
/** Largest relative error of a translation that comes with it. */
const GAINED_TRANSLATION = 0.25;
/** Picture shift, px RMS at a width of 960, at which half of this is left; beyond, the lost shift grows no more. */
const HALF_SHIFT_PX = 0.056;

/** Possible effect of coding on one pair of axes. */
export interface CodingLoss {
  /** RMS of the false turn, rad. */
  readonly turnRad: number;
  /** Relative error of the translation, 0..1. */
  readonly translationShare: number;
}

/**
 * The possible effect on pan with lateral, and on tilt with vertical.
 *
 * @param vibration high-passed series, `trimFrames` of which are left out at each end
 * @param depth inverse depths in one over the unit of the translations
 * @param codingScale how much more of the picture a coding error is worth than on clips 1280 px wide
 */
export function codingLoss(
  vibration: SixAxes,
  depth: SceneDepth,
  camera: Camera,
  trimFrames: number,
  codingScale = 1,
): { readonly pan: CodingLoss; readonly tilt: CodingLoss } {
  const pxPerRad = (camera.focalPx * 960) / camera.widthPx / codingScale;
  const of = (turn: Float64Array, shift: Float64Array): CodingLoss => {
    const ends = [trimFrames, turn.length - trimFrames] as const;
    const equivalentRad = shift.subarray(...ends).map((value) => value * depth.meanInverse);
    const pictureRad = turn.subarray(...ends).map((value, t) => value + equivalentRad[t]);
    const shiftPx = rms(pictureRad) * pxPerRad;
    const left = 1 / (1 + shiftPx / HALF_SHIFT_PX);
    return {
      turnRad: LOST_TURN * left * rms(equivalentRad),
      translationShare: GAINED_TRANSLATION * left,
    };
  };
  return { pan: of(vibration.pan, vibration.lateral), tilt: of(vibration.tilt, vibration.vertical) };
}
