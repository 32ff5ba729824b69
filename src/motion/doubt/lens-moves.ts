/**
 * What each frame shows of a lens that is not the same in every frame: how wide the picture is, and where its middle lies. Depths
 * and poses are those of the adjusted scene; each pose may give way, so that only what no move of the camera explains is left.
 * Normalised image units.
 *
 * By the pose a point moves by J_frame (projection.ts). By a scale s it moves by s (px, py), whatever its distance, which only a scene
 * of one single distance mistakes for a move along the lens; by a slide (cx, cy) of the picture under the lens all points move alike,
 * where a turn moves those at the sides by px^2 more. The scale is taken across the picture alone: rows that are read one after the
 * other stretch its height. Own derivation.
 */
import { choleskyInPlace, choleskySolveInPlace } from '../../numerics/index.js';
import type { Observations } from '../observations.js';
import { frameJacobian, linearise, makeLinearisation } from '../projection.js';
import { observationWeight, residualScale, weighTracks } from '../robust-weights.js';
import type { Scene } from '../scene.js';

/** What one frame after another shows of the lens; columns of the length of the clip, NaN where a frame shows too little. */
export interface LensMoves {
  /** Scale of the picture across, beyond what the pose explains, 0 for none, and its standard deviation for white noise. */
  readonly scale: Float64Array;
  readonly scaleSd: Float64Array;
  /** Slide of the picture, right and down, and the standard deviations. */
  readonly slideX: Float64Array;
  readonly slideXSd: Float64Array;
  readonly slideY: Float64Array;
  readonly slideYSd: Float64Array;
}

/** Scale across, scale of the height, slide right, slide down. */
const EXTRAS = 4;
/** A frame with fewer kept tracks shows nothing of its lens. */
const FEWEST_TRACKS = 24;
/** Keeps poses solvable along what nothing informs. */
const DAMPING = 1e-9;

/**
 * Fits every frame.
 *
 * @param obs that the scene is adjusted to
 * @param lowestSigma noise per axis never counts as less
 * @param looseness 1 asks the tracks that the scene trusts; more also asks those that lie so many times the noise off it, as all do
 *   when the lens moves faster than the scene can follow
 */
export function lensMoves(
  obs: Observations,
  scene: Scene,
  rotationOnly: boolean,
  lowestSigma: number,
  looseness = 1,
): LensMoves {
  const lin = makeLinearisation(obs.count);
  linearise(obs, scene, lin);
  const trackWeights = scene.trackWeights.slice();
  let sigma = Math.max(residualScale(obs, lin, trackWeights), lowestSigma);
  if (looseness > 1) {
    weighTracks(obs, lin, looseness * sigma, trackWeights);
    sigma = Math.max(residualScale(obs, lin, trackWeights), sigma);
  }
  const poses = rotationOnly ? 3 : 6;
  const size = poses + EXTRAS;
  const unknown = (): Float64Array => new Float64Array(obs.frameCount).fill(NaN);
  const moves = {
    scale: unknown(),
    scaleSd: unknown(),
    slideX: unknown(),
    slideXSd: unknown(),
    slideY: unknown(),
    slideYSd: unknown(),
  };
  const values = [moves.scale, unknown(), moves.slideX, moves.slideY];
  const deviations = [moves.scaleSd, unknown(), moves.slideXSd, moves.slideYSd];
  const rowX = new Float64Array(6);
  const rowY = new Float64Array(6);
  const fullX = new Float64Array(size);
  const fullY = new Float64Array(size);
  const matrix = new Float64Array(size * size);
  const right = new Float64Array(size);
  const column = new Float64Array(size);
  for (let t = 0; t < obs.frameCount; t++) {
    matrix.fill(0);
    right.fill(0);
    let seen = 0;
    for (let k = obs.frameStart[t]; k < obs.frameStart[t + 1]; k++) {
      const o = obs.byFrame[k];
      const i = obs.track[o];
      const rx = lin.residualX[o];
      const ry = lin.residualY[o];
      const trust = trackWeights[i] * lin.inFront[o];
      if (trust <= 0) continue;
      const w = (trust * observationWeight(rx * rx + ry * ry, sigma, 'gemanMcClure')) / (sigma * sigma);
      const px = lin.projectedX[o];
      const py = lin.projectedY[o];
      frameJacobian(px, py, lin.inverseDepth[o], rowX, rowY);
      for (let r = 0; r < poses; r++) {
        fullX[r] = rowX[r];
        fullY[r] = rowY[r];
      }
      fullX[poses] = px;
      fullY[poses + 1] = py;
      fullX[poses + 2] = fullY[poses + 3] = 1;
      for (let r = 0; r < size; r++) {
        right[r] += w * (fullX[r] * rx + fullY[r] * ry);
        for (let c = 0; c <= r; c++) matrix[size * r + c] += w * (fullX[r] * fullX[c] + fullY[r] * fullY[c]);
      }
      seen++;
    }
    if (seen < FEWEST_TRACKS) continue;
    for (let r = 0; r < size; r++) {
      matrix[(size + 1) * r] *= 1 + DAMPING;
      for (let c = 0; c < r; c++) matrix[size * c + r] = matrix[size * r + c];
    }
    if (!choleskyInPlace(matrix, size)) continue;
    choleskySolveInPlace(matrix, right, size);
    for (let e = 0; e < EXTRAS; e++) {
      column.fill(0);
      column[poses + e] = 1;
      choleskySolveInPlace(matrix, column, size);
      values[e][t] = right[poses + e];
      deviations[e][t] = Math.sqrt(column[poses + e]);
    }
  }
  return moves;
}
