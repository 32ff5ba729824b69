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
export { predictTakes, type TestPass } from './longer-take.js';
export { framingForPicture, tighterFocalLengthMm, type Framing, type FramingPlan } from './framing.js';
export { deliveryPixels, type DeliveryPixels } from './delivery-pixels.js';
export { cropAtFocal, focalTable, longestFocalWithinLimits, type FocalRow } from './what-if-focal.js';
export { cropAtSpeed, motionAtSpeed, speedTable, type SpeedMethod, type SpeedRow } from './what-if-speed.js';
export { recommendSmoothing, type SmoothingChoice } from './recommend.js';
export { shutterAngleForBlurDeg } from './shutter-for-blur.js';
export type { BlurLeft, Left, ResidualCauses } from './residual-types.js';
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
