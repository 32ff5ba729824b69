/**
 * The normal equations of one frame's pose and of its motion within the frame, a polynomial in the row time u (-1 at the
 * upper edge of the picture, 1 at the lower one). The derivative of an observation by the coefficient of u^k is u^k times
 * that by the pose, so that the sums of w u^p J^T J over p hold all blocks.
 */
import { median } from '../../numerics/index.js';
import type { Observations } from '../observations.js';
import { frameJacobian, linearise, makeLinearisation } from '../projection.js';
import { observationWeight } from '../robust-weights.js';
import type { Scene } from '../scene.js';

/** Highest power of u that is fitted. */
export const RATE_ORDER = 3;
/** Coefficients per frame, and unknowns with the pose. */
export const RATE_NUMBERS = 6 * RATE_ORDER;
export const FIT_SIZE = 6 + RATE_NUMBERS;

/** One power more than the equations need: what the first power left out would do to the rest. */
const POWERS = 2 * RATE_ORDER + 2;
/** A frame whose own residuals are this much larger than the clip's is weighed by its own: a knock falls into it. */
const UNRULY = 1.25;
const NORMAL_MEDIAN = 0.6745;
const ENOUGH_TRACKS = 10;
/** Numbers of the lower half of a 6 x 6 block, row by row. */
const LOWER = 21;

/** Equations of every frame; information in 1/rad^2 and the like. */
export interface RowEquations {
  /** Writes the lower half of the FIT_SIZE x FIT_SIZE matrix of frame t, row-major; the rest means nothing. */
  matrixOf(t: number, out: Float64Array): void;
  /** Writes the FIT_SIZE numbers of the right-hand side of frame t. */
  gradientOf(t: number, out: Float64Array): void;
  /** Writes the right-hand side that a unit coefficient of u^(RATE_ORDER + 1) on component a would leave in frame t. */
  leftOutOf(t: number, a: number, out: Float64Array): void;
  /** Weight over variance of each observation as the equations hold it. */
  readonly pulls: Float64Array;
}

/** Row time of an observation. */
export const rowTime = (rowShare: number): number => 2 * rowShare - 1;

/**
 * Sums the equations of all frames at the present scene.
 *
 * @param obs observations at mid-row time, as far as the motion within the frames is known
 * @param sigma noise per axis, normalised
 */
export function rowEquations(obs: Observations, scene: Scene, sigma: number): RowEquations {
  const lin = makeLinearisation(obs.count);
  linearise(obs, scene, lin);
  const { residualX, residualY, projectedX, projectedY, inverseDepth, inFront } = lin;
  const blocks = new Float64Array(LOWER * POWERS * obs.frameCount);
  const gradients = new Float64Array(FIT_SIZE * obs.frameCount);
  const pulls = new Float64Array(obs.count);
  const rowX = new Float64Array(6);
  const rowY = new Float64Array(6);
  const square = new Float64Array(LOWER);
  for (let t = 0; t < obs.frameCount; t++) {
    const noise = frameNoise(obs, scene, residualX, residualY, t, sigma);
    for (let k = obs.frameStart[t]; k < obs.frameStart[t + 1]; k++) {
      const o = obs.byFrame[k];
      const trust = scene.trackWeights[obs.track[o]];
      if (trust <= 0 || !inFront[o]) continue;
      const rx = residualX[o];
      const ry = residualY[o];
      const pull = (trust * observationWeight(rx * rx + ry * ry, noise, 'gemanMcClure')) / (noise * noise);
      pulls[o] = pull;
      frameJacobian(projectedX[o], projectedY[o], inverseDepth[o], rowX, rowY);
      for (let r = 0, k = 0; r < 6; r++)
        for (let c = 0; c <= r; c++, k++) square[k] = pull * (rowX[r] * rowX[c] + rowY[r] * rowY[c]);
      const u = rowTime(obs.rowShare[o]);
      let power = 1;
      for (let p = 0; p < POWERS; p++) {
        const at = LOWER * (POWERS * t + p);
        for (let k = 0; k < LOWER; k++) blocks[at + k] += power * square[k];
        if (p <= RATE_ORDER) {
          const g = FIT_SIZE * t + 6 * p;
          for (let r = 0; r < 6; r++) gradients[g + r] += power * pull * (rowX[r] * rx + rowY[r] * ry);
        }
        power *= u;
      }
    }
  }
  /** Sum of w u^p J^T J, entry (r, c). */
  const entry = (t: number, p: number, r: number, c: number): number =>
    blocks[LOWER * (POWERS * t + p) + placeInLower(r, c)];
  return {
    pulls,
    matrixOf(t, out) {
      for (let q = 0; q <= RATE_ORDER; q++) {
        for (let p = 0; p <= q; p++) {
          const from = LOWER * (POWERS * t + p + q);
          for (let r = 0; r < 6; r++)
            for (let c = 0; c < 6; c++)
              out[FIT_SIZE * (6 * q + r) + 6 * p + c] = blocks[from + placeInLower(r, c)];
        }
      }
    },
    gradientOf(t, out) {
      out.set(gradients.subarray(FIT_SIZE * t, FIT_SIZE * (t + 1)));
    },
    leftOutOf(t, a, out) {
      for (let i = 0; i < FIT_SIZE; i++) out[i] = entry(t, Math.floor(i / 6) + RATE_ORDER + 1, i % 6, a);
    },
  };
}

/** Place of entry (r, c) of a symmetric block in its lower half. */
function placeInLower(r: number, c: number): number {
  return r >= c ? (r * (r + 1)) / 2 + c : (c * (c + 1)) / 2 + r;
}

/** Noise to weigh frame t by: the clip's, or its own where that is clearly larger. */
function frameNoise(
  obs: Observations,
  scene: Scene,
  residualX: Float64Array,
  residualY: Float64Array,
  t: number,
  sigma: number,
): number {
  const sizes: number[] = [];
  for (let k = obs.frameStart[t]; k < obs.frameStart[t + 1]; k++) {
    const o = obs.byFrame[k];
    if (scene.trackWeights[obs.track[o]] > 0) sizes.push(Math.abs(residualX[o]), Math.abs(residualY[o]));
  }
  if (sizes.length < 2 * ENOUGH_TRACKS) return sigma;
  const own = median(sizes) / NORMAL_MEDIAN;
  return own > UNRULY * sigma ? own : sigma;
}
