/**
 * How sure poses are once the motion within the frames had to be found as well: covariances of the pose with the cubics
 * of row-rates.ts integrated out, in the order turn w (rad), displacement d (scene units).
 *
 * On top comes what the cubics leave out: the next power of the row time is taken to be as large as the last one fitted, and
 * what it would do to the pose is added. Own derivation.
 */
import type { Camera } from '../../optics/index.js';
import { choleskySolveInPlace } from '../../numerics/index.js';
import { cellOf, CELLS, type FrameCovariances } from '../covariance.js';
import type { Observations } from '../observations.js';
import { frameJacobian } from '../projection.js';
import {
  FIT_SIZE,
  RATE_NUMBERS,
  RATE_ORDER,
  rowEquations,
  rowTime,
  type RowEquations,
} from './row-equations.js';
import { factorWithPrior, type RowRates } from './row-rates.js';
import type { Scene } from '../scene.js';

/** Size of the power left out over that of the last one fitted; set on simulated knocks (ringing of 5 to 40 Hz). */
const LEFT_OUT_SHARE = 1;

/** Covariances with the motion within the frames in them. */
export interface RowCovariances {
  readonly covariances: FrameCovariances;
  /** 36 per frame, row-major: the part of `white` that comes from what the cubics leave out. */
  readonly leftOut: Float64Array;
}

/**
 * Widens the covariances of frames whose motion within the frame was fitted.
 *
 * @param obs observations at mid-row time
 * @param known covariances that take the motion within the frames as known
 * @param used frames that were fitted; the others keep their covariance
 * @param rotationOnly true gives the turn alone and zeros elsewhere
 */
export function withRowRates(
  obs: Observations,
  scene: Scene,
  camera: Camera,
  known: FrameCovariances,
  rates: RowRates,
  used: readonly number[],
  rotationOnly: boolean,
): RowCovariances {
  const equations = rowEquations(obs, scene, known.sigma);
  const white = known.white.slice();
  const coherent = known.coherent.slice();
  const leftOut = new Float64Array(white.length);
  const size = rotationOnly ? 3 : 6;
  const factor = new Float64Array(FIT_SIZE * FIT_SIZE);
  const x = new Float64Array(FIT_SIZE);
  const addSquare = (out: Float64Array, t: number, scale: number): void => {
    for (let r = 0; r < size; r++)
      for (let c = 0; c < size; c++) out[36 * t + 6 * r + c] += scale * x[r] * x[c];
  };
  for (const t of used) {
    const prior = (j: number): number => rates.ordinary[t] / rates.variances[j];
    if (!factorWithPrior(equations, t, prior, factor)) continue;
    for (let r = 0; r < size; r++) {
      x.fill(0);
      x[r] = 1;
      choleskySolveInPlace(factor, x, FIT_SIZE);
      for (let c = 0; c < size; c++) white[36 * t + 6 * r + c] = x[c];
    }
    for (let a = 0; a < size; a++) {
      const last = rates.rates[RATE_NUMBERS * t + 6 * (RATE_ORDER - 1) + a];
      equations.leftOutOf(t, a, x);
      choleskySolveInPlace(factor, x, FIT_SIZE);
      addSquare(leftOut, t, (LEFT_OUT_SHARE * last) ** 2);
    }
    for (let k = 36 * t; k < 36 * (t + 1); k++) white[k] += leftOut[k];
    coherent.fill(0, 36 * t, 36 * (t + 1));
    for (const pull of cellPulls(obs, camera, known, equations, t)) {
      x.set(pull);
      choleskySolveInPlace(factor, x, FIT_SIZE);
      addSquare(coherent, t, 1);
    }
  }
  return { covariances: { ...known, white, coherent }, leftOut };
}

/** Right-hand sides that a unit shift of each cell, in x and in y, makes in frame t. */
function cellPulls(
  obs: Observations,
  camera: Camera,
  { projectedX, projectedY, inverseDepth }: FrameCovariances,
  { pulls }: RowEquations,
  t: number,
): Float64Array[] {
  const sides = Array.from({ length: 2 * CELLS }, () => new Float64Array(FIT_SIZE));
  const rowX = new Float64Array(6);
  const rowY = new Float64Array(6);
  for (let k = obs.frameStart[t]; k < obs.frameStart[t + 1]; k++) {
    const o = obs.byFrame[k];
    if (pulls[o] === 0) continue;
    frameJacobian(projectedX[o], projectedY[o], inverseDepth[o], rowX, rowY);
    const cell = cellOf(camera, obs.x[o], obs.y[o]);
    const u = rowTime(obs.rowShare[o]);
    for (let p = 0, power = pulls[o]; p <= RATE_ORDER; p++, power *= u) {
      for (let r = 0; r < 6; r++) {
        sides[2 * cell][6 * p + r] += power * rowX[r];
        sides[2 * cell + 1][6 * p + r] += power * rowY[r];
      }
    }
  }
  return sides;
}
