/**
 * How much a readout could matter in a clip, and where in it: from the fast motion of the picture within the frames that
 * the path tells. Seconds; normalised image units.
 */
import { windowOf } from '../observations.js';
import { noiseOf } from '../adjust.js';
import { usableFrames, type ReadoutClip } from './correct-readout.js';
import { fastCubics, nearestCubics } from './row-cubics.js';
import { RATE_NUMBERS } from './row-equations.js';
import { rowMotion } from './row-motion.js';
import { sceneWindow, type Scene } from '../scene.js';

/** Longest readout that is looked for; slower sensors are not used for moving pictures. */
const LONGEST_S = 0.033;
/** Change of the readout from which the motion within the frames per second of readout is taken. */
export const NUDGE_S = 0.0005;
/** The search looks at a stretch of at most this many frames. */
const STRETCH_FRAMES = 120;
const SEEN_IN_STRETCH = 6;

/** Frames, observations and scene of the stretch in which the camera moves most within a frame. */
export interface Stretch {
  readonly clip: ReadoutClip;
  readonly scene: Scene;
  readonly used: readonly number[];
}

/**
 * How much of the cost of an uncorrected clip the longest readout could make up, at most: mean square of the fast
 * motion of the picture within the frames over twice the noise.
 *
 * @param scene adjusted to the observations as measured
 */
export function largestEffect(clip: ReadoutClip, scene: Scene, rateHz: number, cutoffHz: number): number {
  const used = usableFrames(clip, scene);
  const power = fastPower(scene, used, clip.timeS, rateHz, cutoffHz);
  const mean = power.reduce((sum, value) => sum + value, 0) / Math.max(used.length, 1);
  const noise = noiseOf(clip.measured, scene, clip.sigmaStart);
  return (mean * longestS(rateHz) ** 2) / (2 * noise * noise);
}

/** Longest readout that is possible at a frame rate, as far as it is looked for. */
export const longestS = (rateHz: number): number => Math.min(LONGEST_S, 1 / rateHz);

/** Mean square of the fast motion of the picture within each frame, per second of readout squared; normalised units. */
export function fastPower(
  scene: Scene,
  used: readonly number[],
  timeS: Float64Array,
  rateHz: number,
  cutoffHz: number,
): Float64Array {
  const cubics = nearestCubics(rowMotion(scene, used, timeS, NUDGE_S)).map((value) => value / NUDGE_S);
  const fast = fastCubics(cubics, used, rateHz, cutoffHz);
  // Median depth is about one scene unit, so that displacements count like turns; u^2 is one third on average.
  return Float64Array.from(
    { length: cubics.length / RATE_NUMBERS },
    (_, t) => [0, 1, 3, 4].reduce((sum, a) => sum + fast[RATE_NUMBERS * t + a] ** 2, 0) / 3,
  );
}

/** The stretch in which the camera moves most within a frame, as a clip of its own with a copy of its scene. */
export function liveliestStretch(clip: ReadoutClip, scene: Scene, rateHz: number, cutoffHz: number): Stretch {
  const { measured, timeS, lostFrames } = clip;
  const length = Math.min(measured.frameCount, STRETCH_FRAMES);
  const power = fastPower(scene, usableFrames(clip, scene), timeS, rateHz, cutoffHz);
  const total = (from: number): number => power.subarray(from, from + length).reduce((sum, v) => sum + v, 0);
  let from = 0;
  for (let at = 0; at + length <= measured.frameCount; at += 10) if (total(at) > total(from)) from = at;
  const to = from + length;
  const { observations, trackOfWhole } = windowOf(measured, from, to, SEEN_IN_STRETCH);
  const part: ReadoutClip = {
    ...clip,
    measured: observations,
    timeS: timeS.subarray(from, to),
    lostFrames: lostFrames.filter((t) => t >= from && t < to).map((t) => t - from),
  };
  const copy = sceneWindow(scene, from, to, trackOfWhole);
  return { clip: part, scene: copy, used: usableFrames(part, copy) };
}
