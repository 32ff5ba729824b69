/**
 * How much the picture grew and shrank in each frame beyond what rotation explains: what is left of motion along the
 * lens when the camera did not travel. Relative (1 = doubled).
 */
import type { FrameCovariances } from './covariance.js';
import type { Observations } from './observations.js';

/** Scale change and its variance, one value per frame; 0 and Infinity where a frame holds no kept track. */
export function pictureScale(
  obs: Observations,
  fit: FrameCovariances,
): { readonly scale: Float64Array; readonly variance: Float64Array } {
  const scale = new Float64Array(obs.frameCount);
  const variance = new Float64Array(obs.frameCount).fill(Infinity);
  for (let t = 0; t < obs.frameCount; t++) {
    let pull = 0;
    let size = 0;
    for (let k = obs.frameStart[t]; k < obs.frameStart[t + 1]; k++) {
      const o = obs.byFrame[k];
      const x = fit.projectedX[o];
      const y = fit.projectedY[o];
      pull += fit.weights[o] * (x * fit.residualX[o] + y * fit.residualY[o]);
      size += fit.weights[o] * (x * x + y * y);
    }
    if (size <= 0) continue;
    scale[t] = pull / size;
    variance[t] = (fit.sigma * fit.sigma) / size;
  }
  return { scale, variance };
}
