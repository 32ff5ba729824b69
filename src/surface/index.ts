/** Roughness of the floor under a pass: grade, class, and how the deck turns heights into shake. */
export { gradeSurface } from './grade-surface.js';
export { surfaceSection } from './surface-section.js';
export { spokenGrade, type SpokenGrade } from './grades/spoken.js';
export { LEAST_HELD_SHARE } from './grades/flatness.js';
export { passForFlatness } from './grades/flatness-pass.js';
export { surfaceClass, type SurfaceClass } from './roughness/surface-class.js';
export * from './roughness/road-profile.js';
export * from './roughness/smoothed-spectrum.js';
export { cameraFromDeck, deckFromCamera, type Pair } from './deck/deck-kinematics.js';
export { contactPowerGain, deckPowerGain, type DeckChannel, type DollySize } from './deck/deck-transfer.js';
export { travelOf, type Pass } from './deck/pass.js';
export type { Travel } from './deck/travel.js';
export type { Mounting } from './deck/deck-series.js';
export {
  CLASS_SHAPE,
  expectedSpectra,
  type ExpectedSpectra,
  type FloorPowerGain,
  type PassSettings,
} from './roughness/expected-spectrum.js';
export type { MachineLine } from './roughness/machine-lines.js';
export type { WavinessFit } from './roughness/waviness.js';
export type { RoughnessGrade } from './roughness/roughness-grade.js';
export type { Surface, SurfaceDetail, SurfaceOptions, SurfaceView } from './types.js';
export { floorFromSurface } from './predict/floor-from-surface.js';
export { predictShake } from './predict/predict-shake.js';
export { bumpResponse, type RolledStretch } from './predict/bump-response.js';
export { HARD_WHEEL_CYCLES_PER_M, SOFT_TYRE_CYCLES_PER_M } from './predict/changed-setups.js';
export type {
  PredictedEvent,
  PredictedFloor,
  PredictedWheel,
  SetupForPrediction,
  ShakePrediction,
} from './predict/types.js';
export { PREDICTED_FOCAL_LENGTHS_MM } from './predict/changed-setups.js';
