/**
 * The one adjustment over the whole clip that all figures come from, and when it may stop: when neither the cost nor
 * any vibration series moves by anything that could be seen above the noise.
 *
 * Slow drifts that the conjugate gradients leave lie below the cut-off and vanish in the high-pass, which is why an
 * inexact solution is enough.
 */
import type { Camera } from '../optics/index.js';
import { AXES, type SixAxes } from '../run/index.js';
import { rms } from '../numerics/index.js';
import { adjust, LOWEST_SIGMA_SHARE, type AdjustReport } from './adjust.js';
import { meanAxisCovariance } from './axis-noise.js';
import { frameCovariances } from './covariance.js';
import { passedShare } from './estimate.js';
import type { Observations } from './observations.js';
import type { Scene } from './scene.js';
import { poseSeries, vibrationOf } from './series.js';

/** Pictures settle in 7 to 16, simulated tracks in 5 (own trials). */
const MOST_ITERATIONS = 20;
/** Relative change of the cost that counts as none, and change of a series in floors that does. */
const COST_STILL = 1e-4;
const SERIES_STILL = 0.2;
/** Frames in which pan and lateral (or tilt and vertical) trade places this easily need longer solves. */
const STIFF_CORRELATION = 0.99;

/** Adjusts the whole scene in place; at least four iterations, since track weights are renewed from the third. */
export function refineScene(
  obs: Observations,
  scene: Scene,
  camera: Camera,
  clip: { readonly sigmaStart: number; readonly rateHz: number; readonly cutoffHz: number },
  onIteration: () => void,
): AdjustReport {
  const { sigmaStart, rateHz, cutoffHz } = clip;
  const { white, coherent } = frameCovariances(obs, scene, camera, false, LOWEST_SIGMA_SHARE * sigmaStart);
  const frames = Array.from({ length: obs.frameCount }, (_, t) => t);
  const { plain } = meanAxisCovariance(white, coherent, frames, 0, 1);
  const floors = AXES.map((_, a) => Math.sqrt(passedShare(rateHz, cutoffHz) * plain[7 * a]));
  const vibration = (): SixAxes =>
    vibrationOf(poseSeries(scene.rotations, scene.centres), rateHz, cutoffHz).vibration;

  let before = vibration();
  let iteration = 0;
  return adjust(obs, scene, {
    sigmaStart,
    iterations: MOST_ITERATIONS,
    pcgIterations: isStiff(white) ? 100 : 25,
    kernel: 'gemanMcClure',
    trackWeightsFrom: 2,
    isSettled: (cost, previousCost) => {
      onIteration();
      const now = vibration();
      const moved = AXES.map((axis) => rms(now[axis].map((v, t) => v - before[axis][t])));
      before = now;
      iteration++;
      const costStill = Math.abs(previousCost - cost) < COST_STILL * cost;
      return iteration >= 4 && costStill && moved.every((m, a) => m < SERIES_STILL * floors[a]);
    },
  });
}

function isStiff(white: Float64Array): boolean {
  for (let u = 0; u < white.length; u += 36) {
    const panLateral = Math.abs(white[u + 9]) / Math.sqrt(white[u + 7] * white[u + 21]);
    const tiltVertical = Math.abs(white[u + 4]) / Math.sqrt(white[u] * white[u + 28]);
    if (panLateral > STIFF_CORRELATION || tiltVertical > STIFF_CORRELATION) return true;
  }
  return false;
}
