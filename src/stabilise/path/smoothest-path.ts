/**
 * The smoothest path within a given crop: from measured angles (radians) to the target made of still, even and evenly
 * accelerated stretches whose crop window never leaves the recorded frame.
 *
 * Method: Grundmann, Kwatra, Essa, "Auto-directed video stabilization with robust L1 optimal camera paths", CVPR 2011:
 * least w1 |D P| + w2 |D2 P| + w3 |D3 P| over all frames, a linear programme. Its weights 10, 1 and 100 are quoted as the
 * paper's in public re-implementations; the paper itself was not at hand. Own here: P holds the camera's pan, tilt and roll
 * instead of parameters of the picture, the window is held exactly (limits linear in the correction, taken anew about each
 * solution), and the derivatives are scaled so that the frame rate does not matter. Derivatives stand only where the clip
 * has the frames for them: nothing is extrapolated at its ends.
 */
import type { Camera } from '../../optics/index.js';
import { ANGULAR_AXES } from '../../run/index.js';
import { exactCrop, MOST_CROP_PERCENT, wholeHalfWidth } from '../crop/exact-crop.js';
import { checkPath, holdStill } from './hold-still.js';
import {
  PATH_WEIGHTS,
  pathRoughnessPx,
  pathStretches,
  smoothnessTerms,
  type PathStretches,
  type PathWeights,
} from './path-smoothness.js';
import { smoothInWindow } from './path-in-window.js';
import type { AngularVibration, RowChanges } from '../types.js';

/** What the smoothest path may use. */
export interface SmoothestOptions {
  /** Frames per second of the path. */
  readonly rateHz: number;
  /** Most that the crop may take of the width, per cent, 0 .. 50. */
  readonly maxCropPercent: number;
  /** Weights of the derivatives; those of the paper unless given. */
  readonly weights?: PathWeights;
}

/** The smoothest path, what it costs, and what it is like. */
export interface SmoothestPath {
  /** Measured path minus smoothest path, radians. */
  readonly vibration: AngularVibration;
  /**
   * still: the whole clip fits into the crop with the camera standing, at the least crop for that; moving: the path uses
   * the crop that it may; asFilmed: the crop leaves no room to move the window.
   */
  readonly kind: 'still' | 'moving' | 'asFilmed';
  /** Exact crop of the path, per cent. */
  readonly cropPercent: number;
  /** The limit that was kept, per cent. */
  readonly limitPercent: number;
  /** True when turning the rows of the frames needs more crop than was allowed: the limit was raised to what they need. */
  readonly limitRaised: boolean;
  /** Weighted sum of the derivatives, px at 30 frames per second: of the measured path and of the smoothest one. */
  readonly roughnessBeforePx: number;
  readonly roughnessPx: number;
  readonly stretches: PathStretches;
}

/** With less room than this the window cannot be moved to any use, px. */
const LEAST_ROOM_PX = 0.05;
/** What is added to the crop that the rows need, as a share of it and per cent. */
const ROWS_RESERVE = { share: 0.1, percent: 0.05 };

/**
 * The smoothest path whose exact crop stays within a limit, in every frame, first and last included.
 *
 * When the clip can be held still within the limit, that is the smoothest path, and the one with the least crop is given.
 * Otherwise the camera stands, moves evenly and speeds up evenly as far as the window allows: it uses the whole limit, and
 * a slow move comes out shorter at both ends of the clip. Zero correction always fits when frames turn as one; when their
 * rows are turned, that alone may need more than the limit, which is then raised and said. Never NaN. Deterministic.
 *
 * @param path measured pan, tilt and roll in radians, columns of one length n, evenly spaced, not changed
 * @param rows turns within the frames, or null; they stay as they are
 * @param shape height per width of the delivery
 * @throws RangeError when columns differ in length, or the shape, the rate or the limit are out of range
 * @example smoothestPath(path, null, camera, 9 / 16, { rateHz: 25, maxCropPercent: 5 }).vibration
 */
export function smoothestPath(
  path: AngularVibration,
  rows: RowChanges | null,
  camera: Camera,
  shape: number,
  options: SmoothestOptions,
): SmoothestPath {
  const { rateHz, maxCropPercent, weights = PATH_WEIGHTS } = options;
  checkPath(path, shape);
  if (!(rateHz > 0 && Number.isFinite(rateHz)))
    throw new RangeError(`rateHz must be positive, got ${rateHz}`);
  if (!(maxCropPercent >= 0 && maxCropPercent <= MOST_CROP_PERCENT))
    throw new RangeError(`maxCropPercent must lie in 0..${MOST_CROP_PERCENT}, got ${maxCropPercent}`);
  const cropOf = (vibration: AngularVibration): number =>
    exactCrop({ vibration, rows }, camera, shape).cropPercent;
  const filmed = centredRows(rows, path.pan.length);
  const needed = cropOf(filmed);
  const reserved = rows === null ? 0 : needed * (1 + ROWS_RESERVE.share) + ROWS_RESERVE.percent;
  const limitPercent = Math.min(MOST_CROP_PERCENT, Math.max(maxCropPercent, reserved));
  const result = (kind: SmoothestPath['kind'], vibration: AngularVibration): SmoothestPath => ({
    vibration,
    kind,
    cropPercent: cropOf(vibration),
    limitPercent,
    limitRaised: limitPercent > maxCropPercent,
    roughnessBeforePx: pathRoughnessPx(path, camera, rateHz, weights),
    roughnessPx: pathRoughnessPx(difference(path, vibration), camera, rateHz, weights),
    stretches: pathStretches(difference(path, vibration), camera),
  });

  const still = holdStill(path, rows, camera, shape);
  if (cropOf(still) <= limitPercent) return result('still', still);
  const roomPx = (wholeHalfWidth(camera, shape) * limitPercent) / 100;
  if (roomPx < LEAST_ROOM_PX || needed >= limitPercent) return result('asFilmed', filmed);
  const terms = smoothnessTerms(path, camera, rateHz, weights);
  return result('moving', smoothInWindow({ terms, filmed, rows, camera, shape, limitPercent }));
}

/** The correction that turns the middle of each frame's range of rows to where its middle row was; zero without rows. */
function centredRows(rows: RowChanges | null, n: number): AngularVibration {
  const column = (values: Float64Array | undefined): Float64Array => {
    const out = new Float64Array(n);
    if (rows === null || values === undefined) return out;
    for (let t = 0; t < n; t++) {
      const ofFrame = values.subarray(t * rows.knots, (t + 1) * rows.knots);
      out[t] = -(Math.min(...ofFrame) + Math.max(...ofFrame)) / 2;
    }
    return out;
  };
  return { pan: column(rows?.pan), tilt: column(rows?.tilt), roll: column(rows?.roll) };
}

function difference(a: AngularVibration, b: AngularVibration): AngularVibration {
  const [pan, tilt, roll] = ANGULAR_AXES.map((axis) => a[axis].map((value, t) => value - b[axis][t]));
  return { pan, tilt, roll };
}
