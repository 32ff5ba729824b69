/** What stabilising costs in crop, what it cannot remove, and what a longer take will need. */
export * from './types.js';
export * from './plan-stabilisation.js';
export * from './stabilise-section.js';
export { correctionHomographies, exactCrop, exactZoomForPath, horizontalCropPercent } from './exact-crop.js';
export { rowChanges } from './row-changes.js';
export { correctionAt, turnOfFrame, type FrameTurn } from './frame-turn.js';
export { sourcePlaces, sourcePlacesOfRays } from './source-places.js';
export { largestCentredHalfWidth } from './crop-geometry.js';
export { smoothBelow } from './moving-zoom.js';
export { predictTakes, type TestPass } from './longer-take.js';
