/** What stabilising costs in crop, what it cannot remove, and what a longer take will need. */
export * from './types.js';
export * from './plan-stabilisation.js';
export * from './stabilise-section.js';
export {
  correctionHomographies,
  exactCrop,
  exactZoomForPath,
  heightPerWidth,
  horizontalCropPercent,
  wholeHalfWidth,
} from './crop/exact-crop.js';
export { offCentreCrop } from './crop/off-centre-crop.js';
export { rowChanges } from './turn/row-changes.js';
export { correctionAt, turnOfFrame, type FrameTurn } from './turn/frame-turn.js';
export { sourcePlaces, sourcePlacesOfRays } from './turn/source-places.js';
export { largestCentredHalfWidth } from './crop/crop-geometry.js';
export { MOVING_ZOOM_WINDOW_S, smoothBelow } from './crop/moving-zoom.js';
export * from './take/longer-take-types.js';
export { hitsOf, predictTakes, stretchAgain, TAKE_LENGTHS_S } from './take/longer-take.js';
export { findHits } from './take/hits.js';
export {
  framingForPicture,
  tighterFocalLengthMm,
  type Framing,
  type FramingPlan,
} from './what-if/framing.js';
export { deliveryPixels, type DeliveryPixels } from './what-if/delivery-pixels.js';
export { cropAtFocal, focalTable, longestFocalWithinLimits, type FocalRow } from './what-if/what-if-focal.js';
export {
  cropAtSpeed,
  speedRefusal,
  speedTable,
  type SpeedMethod,
  type SpeedRefusal,
  type SpeedRow,
} from './what-if/what-if-speed.js';
export { estimateOf, motionAtSpeed } from './what-if/motion-at-speed.js';
export { recommendSmoothing, type SmoothingChoice } from './what-if/recommend.js';
export type { BlurLeft, Left, Residual, ResidualCauses } from './residual/residual-types.js';
export { residualOf, type FrameTimes, type ResidualInput } from './residual/residual-by-cause.js';
export {
  BLUR_PULSE_LIMIT_PX,
  blurPulseLimitPx,
  shutterForBlur,
  type ShutterAdvice,
  type ShutterInput,
} from './residual/blur-shutter.js';
export {
  arcMinutesPerLine,
  arcMinutesPerPx,
  screenLines,
  viewingDistanceHeights,
  type ViewedPicture,
} from './residual/viewing.js';
export {
  croppingRatio,
  distortionValue,
  stabilityScore,
  steadinessOf,
  type Steadiness,
  type SteadinessFigures,
  type SteadinessInput,
} from './residual/steadiness.js';
export { holdStill } from './path/hold-still.js';
export { smoothestPath, type SmoothestOptions, type SmoothestPath } from './path/smoothest-path.js';
export {
  PATH_WEIGHTS,
  WEIGHTS_RATE_HZ,
  pathRoughnessPx,
  pathStretches,
  type PathStretches,
  type PathWeights,
} from './path/path-smoothness.js';
export { vibrationForMode, type TargetPath, type TargetRequest } from './path/target-path.js';
export { againSentence, hitsSentence, takeSentence } from './take/take-words.js';
export {
  HIGHEST_CUTOFF_SHARE,
  LEAST_PERIODS,
  smoothingFits,
  smoothingOf,
  vibrationAt,
  withoutEnds,
} from './path/vibration-at.js';
export { bareWayOf, wayOf, type WayInput, type WayWish } from './ways.js';
export { staticCrop } from './crop/static-crop.js';
export { cameraAtFocal } from './what-if/what-if-focal.js';
export { pictureMeanSquares, pictureReach, type PictureReach } from './residual/residual-reach.js';
