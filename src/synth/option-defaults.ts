/** What a made-up pass is when nothing else is asked for: an ordinary lateral move through the hall, without vibration. */
import type { DeckOptions, FloorOptions, JointOptions, SynthOptions, VibrationOptions } from './options.js';

/** Defaults of the vibration. */
export const VIBRATION_DEFAULTS: VibrationOptions = {
  angularDegRms: { pan: 0, tilt: 0, roll: 0 },
  translationMmRms: { lateral: 0, vertical: 0, axial: 0 },
  bandHz: [2, 10],
  peaks: [],
};

/** Defaults of the joints, where there are any. */
export const JOINT_DEFAULTS: JointOptions = {
  spacingM: 0.3,
  lippageMm: 0.3,
  gapWidthMm: 4,
  gapDepthMm: 2,
  firstAtM: 0.1,
};

/** Defaults of the floor. */
export const FLOOR_DEFAULTS: FloorOptions = {
  gdM3: 1e-6,
  waviness: 2,
  coherencePerM: 3,
  joints: null,
  steps: [],
  bumps: [],
};

/** Defaults of the deck, where there is one. */
export const DECK_DEFAULTS: DeckOptions = {
  wheelbaseM: 0.45,
  trackWidthM: 0.4,
  wheelRadiusM: 0.04,
  contactPatchM: 0.004,
  cameraOffsetM: 0.05,
  lobes: [],
  mount: null,
  floor: FLOOR_DEFAULTS,
};

/** Defaults of a pass; the azimuth follows from the move. */
export const SYNTH_DEFAULTS: Omit<SynthOptions, 'lensAzimuthDeg' | 'fpsFraction'> = {
  seed: 1,
  scene: 'dairy-hall',
  durationS: 5,
  fps: 25,
  widthPx: 1280,
  heightPx: 720,
  focalLengthMm: 35,
  sensorWidthMm: 36,
  move: 'lateral',
  speedMps: 0.2,
  speedWander: 0.1,
  driftDeg: 0.05,
  arcRadiusM: 3.2,
  cameraHeightM: 1.1,
  vibration: VIBRATION_DEFAULTS,
  deck: null,
  machines: [],
  lamps: null,
  sound: false,
  subjectDistanceM: null,
  readoutMs: 0,
  shutterAngleDeg: 0,
  motionSamples: 6,
  noiseGrey: 0.5,
  softnessPx: 0.6,
  brightness: 1,
  contrast: 1,
  transfer: 'display',
  lensK1: 0,
  colour: true,
  crf: 16,
  allIntra: false,
  bFrames: null,
  preset: 'medium',
};
