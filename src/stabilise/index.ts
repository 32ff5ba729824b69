/** What stabilising costs in crop, what it cannot remove, and what a longer take will need. */
export * from './types.js';
export * from './plan-stabilisation.js';
export * from './stabilise-section.js';
export {
  correctionHomographies,
  exactCrop,
  exactZoomForPath,
  horizontalCropPercent,
  wholeHalfWidth,
} from './exact-crop.js';
export { offCentreCrop } from './off-centre-crop.js';
export { rowChanges } from './row-changes.js';
export { correctionAt, turnOfFrame, type FrameTurn } from './frame-turn.js';
export { sourcePlaces, sourcePlacesOfRays } from './source-places.js';
export { largestCentredHalfWidth } from './crop-geometry.js';
export { smoothBelow } from './moving-zoom.js';
export * from './longer-take-types.js';
export { predictTakes, TAKE_LENGTHS_S } from './longer-take.js';
export { findHits } from './hits.js';
export { framingForPicture, tighterFocalLengthMm, type Framing, type FramingPlan } from './framing.js';
export { deliveryPixels, type DeliveryPixels } from './delivery-pixels.js';
export { cropAtFocal, focalTable, longestFocalWithinLimits, type FocalRow } from './what-if-focal.js';
export { cropAtSpeed, speedTable, type SpeedMethod, type SpeedRow } from './what-if-speed.js';
export { motionAtSpeed } from './motion-at-speed.js';
export { recommendSmoothing, type SmoothingChoice } from './recommend.js';
export type { BlurLeft, Left, Residual, ResidualCauses } from './residual-types.js';
export { residualOf, type FrameTimes, type ResidualInput } from './residual-by-cause.js';
export {
  BLUR_PULSE_LIMIT_PX,
  shutterForBlur,
  type ShutterAdvice,
  type ShutterInput,
} from './blur-shutter.js';
export { arcMinutesPerLine, arcMinutesPerPx, screenLines, viewingDistanceHeights } from './viewing.js';
export {
  croppingRatio,
  distortionValue,
  stabilityScore,
  steadinessOf,
  type Steadiness,
  type SteadinessFigures,
  type SteadinessInput,
} from './steadiness.js';
export { holdStill } from './hold-still.js';
export { smoothestPath, type SmoothestOptions, type SmoothestPath } from './smoothest-path.js';
export {
  PATH_WEIGHTS,
  WEIGHTS_RATE_HZ,
  pathRoughnessPx,
  pathStretches,
  type PathStretches,
  type PathWeights,
} from './path-smoothness.js';
export { vibrationForMode, type TargetPath, type TargetRequest } from './target-path.js';
export { againSentence, hitsSentence, takeSentence } from './take-words.js';
