/**
 * The target path of the camera's angles for what the stabilised picture is to do, and what a report may say of it: from a
 * measured motion (radians) and the camera (px) to measured path minus target path.
 */
import type { Camera } from '../../optics/index.js';
import { ANGULAR_AXES, type AngularAxis } from '../../run/index.js';
import type { Motion } from '../../motion/index.js';
import { holdStill } from './hold-still.js';
import { smoothestPath, type SmoothestPath } from './smoothest-path.js';
import type { AngularVibration, RowChanges, StabiliseMode } from '../types.js';
import { angularVibrationAt, smoothingOf } from './vibration-at.js';

/** What a target path is chosen for. */
export interface TargetRequest {
  readonly motion: Motion;
  /** Camera of the analysis frames. */
  readonly camera: Camera;
  /** Turns within the frames that are corrected with it, or null. */
  readonly rows: RowChanges | null;
  /** Height per width of the delivery. */
  readonly shape: number;
  /** keepMove: one over the cut-off, seconds; that at which the motion was split unless given. */
  readonly smoothingS?: number;
  /** smoothest: most that the crop may take of the width, per cent. */
  readonly maxCropPercent: number;
}

/** What is taken out of the angles in one mode, and what may be said of the path that is left. */
export type TargetPath =
  | {
      readonly mode: 'keepMove';
      /** Radians, length n. */
      readonly vibration: AngularVibration;
      readonly smoothingS: number;
      /** Motion at this frequency is halved; slower motion stays, at the ends of the clip too. */
      readonly cutoffHz: number;
    }
  | {
      readonly mode: 'holdStill';
      readonly vibration: AngularVibration;
      /** How far the camera turned in all, radians: greatest minus least angle, shake included. */
      readonly rangeRad: Readonly<Record<AngularAxis, number>>;
    }
  | ({ readonly mode: 'smoothest' } & SmoothestPath);

/**
 * Measured path minus target path for one mode.
 *
 * keepMove: the penalised smoother of `vibrationAt`; holdStill: one orientation, at the least crop; smoothest: the L1-optimal
 * path within `maxCropPercent`. All three are exact at the ends of the clip: they use its frames and no invented ones.
 *
 * @throws RangeError when smoothing, limit or shape are out of range
 * @example vibrationForMode('holdStill', { motion, camera, rows: null, shape: 9 / 16, maxCropPercent: 5 }).vibration
 */
export function vibrationForMode(mode: StabiliseMode, request: TargetRequest): TargetPath {
  const { motion, camera, rows, shape, maxCropPercent } = request;
  const { pan, tilt, roll } = motion.path;
  const path = { pan, tilt, roll };
  switch (mode) {
    case 'keepMove': {
      const smoothingS = request.smoothingS ?? smoothingOf(motion);
      const vibration = angularVibrationAt(motion, smoothingS);
      return { mode, vibration, smoothingS, cutoffHz: 1 / smoothingS };
    }
    case 'holdStill': {
      const [panRad, tiltRad, rollRad] = ANGULAR_AXES.map((axis) => rangeOf(path[axis]));
      const rangeRad = { pan: panRad, tilt: tiltRad, roll: rollRad };
      return { mode, vibration: holdStill(path, rows, camera, shape), rangeRad };
    }
    case 'smoothest':
      return { mode, ...smoothestPath(path, rows, camera, shape, { rateHz: motion.rateHz, maxCropPercent }) };
  }
}

function rangeOf(values: Readonly<Float64Array>): number {
  let least = Infinity;
  let most = -Infinity;
  for (const value of values) {
    least = Math.min(least, value);
    most = Math.max(most, value);
  }
  return values.length > 0 ? most - least : 0;
}
