/**
 * The pose of one frame from tracks whose place in the scene is known (resection): six unknowns, Gauss-Newton with
 * Geman-McClure weights, from a pose nearby.
 */
import { median } from '../numerics/index.js';
import { poseStep } from './frame-pair.js';
import type { Observations } from './observations.js';
import { moveCentre, turn } from './rotation-steps.js';
import type { Scene } from './scene.js';

const ALL_SIX = [0, 1, 2, 3, 4, 5] as const;
/** A pose has six unknowns and a track gives two numbers: fewer than this leave nothing for robustness. */
export const FEWEST_TRACKS = 6;

/**
 * Sets the pose of frame t of `scene` from the observations `wanted` accepts, starting from the pose that is there.
 *
 * @param sigma least noise per axis, normalised
 * @returns false when fewer than FEWEST_TRACKS are known; the pose is then left alone
 */
export function resect(
  obs: Observations,
  scene: Scene,
  t: number,
  wanted: (track: number) => boolean,
  sigma: number,
  iterations: number,
): boolean {
  const { frameStart, byFrame, track } = obs;
  const seen: number[] = [];
  for (let k = frameStart[t]; k < frameStart[t + 1]; k++)
    if (wanted(track[byFrame[k]])) seen.push(byFrame[k]);
  const count = seen.length;
  if (count < FEWEST_TRACKS) return false;
  const data = {
    count,
    x: new Float64Array(count),
    y: new Float64Array(count),
    inverseDepth: new Float64Array(count),
    residualX: new Float64Array(count),
    residualY: new Float64Array(count),
  };
  const lengths = new Float64Array(count);
  for (let iteration = 0; iteration < iterations; iteration++) {
    for (let k = 0; k < count; k++) {
      const o = seen[k];
      projectTrack(scene, t, track[o], data, k);
      data.residualX[k] = obs.x[o] - data.x[k];
      data.residualY[k] = obs.y[o] - data.y[k];
      lengths[k] = Math.hypot(data.residualX[k], data.residualY[k]);
    }
    const step = poseStep(data, ALL_SIX, Math.max(median(lengths) / 1.1774, sigma));
    moveCentre(scene.rotations, scene.centres, t, step[3], step[4], step[5]);
    turn(scene.rotations, t, step[0], step[1], step[2]);
    if (step.every((value) => Math.abs(value) < 1e-8)) break;
  }
  return true;
}

/** Projects one track into one frame: image point and inverse depth, entry k of `out`. */
export function projectTrack(
  scene: Scene,
  t: number,
  i: number,
  out: { x: Float64Array; y: Float64Array; inverseDepth: Float64Array },
  k: number,
): void {
  const { rotations, centres, chartRotations, chartCentres, points } = scene;
  const rho = points[3 * i + 2];
  let y1 = 0;
  let y2 = 0;
  let y3 = 0;
  for (let j = 0; j < 3; j++) {
    const world =
      points[3 * i] * chartRotations[9 * i + j] +
      points[3 * i + 1] * chartRotations[9 * i + 3 + j] +
      chartRotations[9 * i + 6 + j] +
      rho * (chartCentres[3 * i + j] - centres[3 * t + j]);
    y1 += rotations[9 * t + j] * world;
    y2 += rotations[9 * t + 3 + j] * world;
    y3 += rotations[9 * t + 6 + j] * world;
  }
  const inverse = 1 / Math.max(y3, 0.02);
  out.x[k] = y1 * inverse;
  out.y[k] = y2 * inverse;
  out.inverseDepth[k] = rho * inverse;
}
