/**
 * The pinhole camera at the size the analysis works on.
 *
 * Image convention: x right, y down, pixel centres on whole numbers, so the middle of a frame of width W is (W-1)/2
 * and shrinking by area filtering maps x to (x+0.5)*s-0.5.
 */
import type { LensDistortion } from '../run/index.js';

/** A camera for one frame size. Distortion coefficients act on coordinates normalised by the focal length. */
export interface Camera {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focalPx: number;
  readonly centreXPx: number;
  readonly centreYPx: number;
  readonly distortion: LensDistortion | null;
}
