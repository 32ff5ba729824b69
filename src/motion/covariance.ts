/**
 * How sure the pose of each frame is: 6x6 covariances in the order turn w (rad), displacement d (scene units), camera
 * axes. Rotation and translation are always inverted together: what one can borrow from the other is the point.
 *
 * With depths known from the travel, the covariance per frame is within a few per cent of the full Cramer-Rao bound
 * over all poses and points (own trials), so the inverse of the frame's own information is used.
 */
import { invert3, invert6 } from '../numerics/index.js';
import { pixelOfNormalised, type Camera } from '../optics/index.js';
import { accumulate, makeNormalEquations } from './normal-equations.js';
import { KEPT_WEIGHT, type Observations } from './observations.js';
import { frameJacobian, linearise, makeLinearisation } from './projection.js';
import { residualScale } from './robust-weights.js';
import type { Scene } from './scene.js';

/** Covariances of all frames, and what they were made from. */
export interface FrameCovariances {
  /** 36 per frame, row-major: from noise that is independent from track to track. */
  readonly white: Float64Array;
  /** 36 per frame: from a shift of sigma = 1 normalised unit shared by each cell of a 3 x 2 grid of the picture. */
  readonly coherent: Float64Array;
  /** Kept tracks in each frame. */
  readonly inliers: Int32Array;
  /** Robust noise per axis, normalised. */
  readonly sigma: number;
  /** Final weight of each observation, track weight included, 0..1. */
  readonly weights: Float64Array;
  /** Inverse depth seen from the frame and residual of each observation. */
  readonly inverseDepth: Float64Array;
  readonly projectedX: Float64Array;
  readonly projectedY: Float64Array;
  readonly residualX: Float64Array;
  readonly residualY: Float64Array;
}

const CELL_COLUMNS = 3;
const CELL_ROWS = 2;
/** Cells of the picture that move together under inter-frame coding. */
export const CELLS = CELL_COLUMNS * CELL_ROWS;

/**
 * Covariances at the present scene.
 *
 * Inter-coded pictures move whole regions together by a few hundredths of a pixel; that error does not average out
 * over tracks and does not show in residuals. It is modelled as one shift per cell and axis.
 *
 * @param rotationOnly true gives the 3x3 covariance of the turn alone and zeros elsewhere
 * @param lowestSigma the noise never counts as less than this, normalised
 */
export function frameCovariances(
  obs: Observations,
  scene: Scene,
  camera: Camera,
  rotationOnly: boolean,
  lowestSigma: number,
): FrameCovariances {
  const lin = makeLinearisation(obs.count);
  const equations = makeNormalEquations(obs);
  linearise(obs, scene, lin);
  const sigma = Math.max(residualScale(obs, lin, scene.trackWeights), lowestSigma);
  accumulate(obs, lin, scene.trackWeights, sigma, 'gemanMcClure', equations);
  const weights = equations.weights.map((w, o) => w * scene.trackWeights[obs.track[o]]);

  const size = rotationOnly ? 3 : 6;
  const white = new Float64Array(36 * obs.frameCount);
  const coherent = new Float64Array(36 * obs.frameCount);
  const inliers = new Int32Array(obs.frameCount);
  const rowX = new Float64Array(6);
  const rowY = new Float64Array(6);
  const pulls = new Float64Array(2 * CELLS * 6);
  const shifts = new Float64Array(6);
  for (let t = 0; t < obs.frameCount; t++) {
    invertInformation(equations.frameBlocks, t, size, white);
    pulls.fill(0);
    for (let k = obs.frameStart[t]; k < obs.frameStart[t + 1]; k++) {
      const o = obs.byFrame[k];
      if (weights[o] > KEPT_WEIGHT) inliers[t]++;
      // h of the cell: sum of w J / sigma^2 over its observations, for a shift in x and one in y.
      frameJacobian(lin.projectedX[o], lin.projectedY[o], lin.inverseDepth[o], rowX, rowY);
      const pull = weights[o] / (sigma * sigma);
      const at = 12 * cellOf(camera, obs.x[o], obs.y[o]);
      for (let r = 0; r < size; r++) {
        pulls[at + r] += pull * rowX[r];
        pulls[at + 6 + r] += pull * rowY[r];
      }
    }
    for (let cell = 0; cell < 2 * CELLS; cell++) {
      // The pose moves by A^-1 h when the cell shifts by one.
      for (let r = 0; r < 6; r++) {
        let sum = 0;
        for (let c = 0; c < size; c++) sum += white[36 * t + 6 * r + c] * pulls[6 * cell + c];
        shifts[r] = sum;
      }
      for (let r = 0; r < 6; r++) {
        for (let c = 0; c < 6; c++) coherent[36 * t + 6 * r + c] += shifts[r] * shifts[c];
      }
    }
  }
  const { inverseDepth, projectedX, projectedY, residualX, residualY } = lin;
  return {
    white,
    coherent,
    inliers,
    sigma,
    weights,
    inverseDepth,
    projectedX,
    projectedY,
    residualX,
    residualY,
  };
}

/** Inverts the information of frame t; a frame that nothing informs gets a huge variance rather than none. */
function invertInformation(blocks: Float64Array, t: number, size: 3 | 6, out: Float64Array): void {
  const u = 36 * t;
  const block = new Float64Array(36);
  let largest = 0;
  for (let k = 0; k < size; k++) largest = Math.max(largest, blocks[u + 7 * k]);
  for (let r = 0; r < size; r++) {
    for (let c = 0; c < size; c++) block[size * r + c] = blocks[u + 6 * r + c];
    block[(size + 1) * r] += 1e-12 * largest + 1e-6;
  }
  const inverse = new Float64Array(36);
  if (size === 6 ? !invert6(block, 0, inverse, 0) : !invert3(block, 0, inverse, 0)) {
    for (let r = 0; r < size; r++) inverse[(size + 1) * r] = 1e6;
  }
  for (let r = 0; r < size; r++) {
    for (let c = 0; c < size; c++) out[u + 6 * r + c] = inverse[size * r + c];
  }
}

/** Which cell of the picture an ideal point is seen in, lens distortion included; points outside count to the nearest. */
export function cellOf(camera: Camera, x: number, y: number): number {
  const { xPx, yPx } = pixelOfNormalised(camera, x, y);
  const clamp = (share: number, n: number): number => Math.max(0, Math.min(n - 1, Math.floor(n * share)));
  const row = clamp(yPx / camera.heightPx, CELL_ROWS);
  return row * CELL_COLUMNS + clamp(xPx / camera.widthPx, CELL_COLUMNS);
}
