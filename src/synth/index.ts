/** Made-up passes: a scene filmed along a known path, as clip, truth and rig; for demonstrations and for tests of accuracy. */
export { SYNTH_SCENES, type SceneName } from './scene-list.js';
export {
  DECK_DEFAULTS,
  FLOOR_DEFAULTS,
  JOINT_DEFAULTS,
  SYNTH_DEFAULTS,
  VIBRATION_DEFAULTS,
} from './option-defaults.js';
export { resolveSynthOptions } from './resolve-options.js';
export {
  frameCountOf,
  frameTimeS,
  type BumpOptions,
  type DeckOptions,
  type FloorOptions,
  type JointOptions,
  type Move,
  type PartialSynthOptions,
  type StepOptions,
  type SynthOptions,
  type TrackSide,
  type VibrationOptions,
  type VibrationPeak,
} from './options.js';
export type { LampOptions, MachineOptions, MountOptions, WheelChoice, WheelLobe } from './causes/options.js';
export type { TrueCause } from './causes/true-causes.js';
export { sceneSound, SOUND_RATE_HZ } from './sound/scene-sound.js';
export { synthesise, type SynthFiles, type SynthesiseSettings } from './synthesise.js';
export {
  TRUTH_FORMAT,
  readTruth,
  truthOf,
  truthText,
  type SynthTruth,
  type TrueFloor,
  type TrueVibration,
} from './truth.js';
export { rigOf } from './rig-file.js';
export { cameraOf, renderFrame, startFilm, type Film, type RenderedFrame } from './film.js';
export { makeCameraPath, type CameraPath } from './camera-path.js';
export { buildScene, MEASURING_WALL_M } from './build-scene.js';
export type { Pose } from './projected-surfaces.js';
export type { Scene, Surface } from './surface.js';
export { sampleClips, writeSampleClips, type SampleClip } from './sample-clips.js';
