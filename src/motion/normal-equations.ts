/**
 * The weighted normal equations of one Gauss-Newton step over all frames and tracks, with the tracks eliminated.
 *
 *   U_t = sum w Jf^T Jf,  V_i = sum w Jp^T Jp,  E_o = w Jf^T Jp,  g = sum w J^T r      (w includes 1 / sigma^2)
 * With V = K K^T (Cholesky) and the whitened blocks Ew = E K^-T the reduced system over the frames is
 *   S x = b,   S = U - sum Ew Ew^T,   b = g_frame - sum Ew (K^-1 g_track),
 * and the tracks follow as K^-T (K^-1 g_track - sum Ew^T x). S itself is never formed: see schur-pcg.ts.
 */
import type { Observations } from './observations.js';
import { frameJacobian, type Linearisation } from './projection.js';
import { observationWeight, type Kernel } from './robust-weights.js';

/** Keeps V invertible for tracks whose depth is not seen; far below any real information. */
const TRACK_DAMPING = 1e-6;

/** The blocks of the normal equations; sizes in numbers per frame (T), track (P) or observation (N). */
export interface NormalEquations {
  /** U, 36 T, row-major 6x6, not damped. */
  readonly frameBlocks: Float64Array;
  /** Diagonal blocks of S, 36 T: U_t minus what the frame's own tracks take away. */
  readonly reducedBlocks: Float64Array;
  /** b, 6 T. */
  readonly reducedGradient: Float64Array;
  /** K, 6 P: k00, k10, k11, k20, k21, k22. */
  readonly trackFactors: Float64Array;
  /** K^-1 g_track, 3 P. */
  readonly trackGradient: Float64Array;
  /** Ew, 18 N, row-major 6x3; zero for tracks of weight 0. */
  readonly coupling: Float64Array;
  /** Robust weight of each observation, 0..1, track weight left out; N. */
  readonly weights: Float64Array;
}

/** Room for the normal equations of a set of observations. */
export function makeNormalEquations(obs: Observations): NormalEquations {
  return {
    frameBlocks: new Float64Array(36 * obs.frameCount),
    reducedBlocks: new Float64Array(36 * obs.frameCount),
    reducedGradient: new Float64Array(6 * obs.frameCount),
    trackFactors: new Float64Array(6 * obs.trackCount),
    trackGradient: new Float64Array(3 * obs.trackCount),
    coupling: new Float64Array(18 * obs.count),
    weights: new Float64Array(obs.count),
  };
}

/**
 * Fills `out` from the residuals and Jacobians of a linearisation.
 *
 * A track of weight 0 sends nothing to the frames, but its own three numbers keep following them: otherwise it could
 * never come back.
 */
export function accumulate(
  obs: Observations,
  lin: Linearisation,
  trackWeights: Float64Array,
  sigma: number,
  kernel: Kernel,
  out: NormalEquations,
): void {
  const { frameBlocks, reducedBlocks, reducedGradient, trackFactors, trackGradient, coupling, weights } = out;
  const { residualX, residualY, projectedX, projectedY, inverseDepth, trackJacobian, inFront } = lin;
  const { trackCount, trackStart, frame } = obs;
  const perSigma2 = 1 / (sigma * sigma);
  const rowX = new Float64Array(6);
  const rowY = new Float64Array(6);
  frameBlocks.fill(0);
  reducedBlocks.fill(0);
  reducedGradient.fill(0);
  for (let i = 0; i < trackCount; i++) {
    const trust = trackWeights[i];
    const begin = trackStart[i];
    const end = trackStart[i + 1];
    let v00 = 0;
    let v10 = 0;
    let v11 = 0;
    let v20 = 0;
    let v21 = 0;
    let v22 = 0;
    let g0 = 0;
    let g1 = 0;
    let g2 = 0;
    // Sums of this track; its share in the frames' own sums; its coupling blocks, not yet whitened.
    for (let o = begin; o < end; o++) {
      const rx = residualX[o];
      const ry = residualY[o];
      const w = inFront[o] ? observationWeight(rx * rx + ry * ry, sigma, kernel) : 0;
      weights[o] = w;
      const wt = w * perSigma2 * (trust > 0 ? trust : 1);
      const j = 6 * o;
      const ax = trackJacobian[j];
      const bx = trackJacobian[j + 1];
      const cx = trackJacobian[j + 2];
      const ay = trackJacobian[j + 3];
      const by = trackJacobian[j + 4];
      const cy = trackJacobian[j + 5];
      v00 += wt * (ax * ax + ay * ay);
      v10 += wt * (bx * ax + by * ay);
      v11 += wt * (bx * bx + by * by);
      v20 += wt * (cx * ax + cy * ay);
      v21 += wt * (cx * bx + cy * by);
      v22 += wt * (cx * cx + cy * cy);
      g0 += wt * (ax * rx + ay * ry);
      g1 += wt * (bx * rx + by * ry);
      g2 += wt * (cx * rx + cy * ry);
      if (trust <= 0) continue;
      frameJacobian(projectedX[o], projectedY[o], inverseDepth[o], rowX, rowY);
      const u = 36 * frame[o];
      const g = 6 * frame[o];
      const e = 18 * o;
      for (let r = 0; r < 6; r++) {
        const fx = wt * rowX[r];
        const fy = wt * rowY[r];
        reducedGradient[g + r] += fx * rx + fy * ry;
        coupling[e + 3 * r] = fx * ax + fy * ay;
        coupling[e + 3 * r + 1] = fx * bx + fy * by;
        coupling[e + 3 * r + 2] = fx * cx + fy * cy;
        for (let c = 0; c <= r; c++) frameBlocks[u + 6 * r + c] += fx * rowX[c] + fy * rowY[c];
      }
    }
    // V = K K^T and the whitened gradient.
    const k00 = Math.sqrt(v00 * (1 + TRACK_DAMPING) + TRACK_DAMPING);
    const k10 = v10 / k00;
    const k20 = v20 / k00;
    const k11 = Math.sqrt(Math.max(v11 * (1 + TRACK_DAMPING) + TRACK_DAMPING - k10 * k10, TRACK_DAMPING));
    const k21 = (v21 - k20 * k10) / k11;
    const k22 = Math.sqrt(
      Math.max(v22 * (1 + TRACK_DAMPING) + TRACK_DAMPING - k20 * k20 - k21 * k21, TRACK_DAMPING),
    );
    const h0 = g0 / k00;
    const h1 = (g1 - k10 * h0) / k11;
    const h2 = (g2 - k20 * h0 - k21 * h1) / k22;
    const f = 6 * i;
    trackFactors[f] = k00;
    trackFactors[f + 1] = k10;
    trackFactors[f + 2] = k11;
    trackFactors[f + 3] = k20;
    trackFactors[f + 4] = k21;
    trackFactors[f + 5] = k22;
    trackGradient[3 * i] = h0;
    trackGradient[3 * i + 1] = h1;
    trackGradient[3 * i + 2] = h2;
    if (trust <= 0) {
      coupling.fill(0, 18 * begin, 18 * end);
      continue;
    }
    // Whiten the coupling and take the track out of its frames.
    for (let o = begin; o < end; o++) {
      const e = 18 * o;
      const u = 36 * frame[o];
      const g = 6 * frame[o];
      for (let r = 0; r < 6; r++) {
        const p = e + 3 * r;
        const w0 = coupling[p] / k00;
        const w1 = (coupling[p + 1] - k10 * w0) / k11;
        const w2 = (coupling[p + 2] - k20 * w0 - k21 * w1) / k22;
        coupling[p] = w0;
        coupling[p + 1] = w1;
        coupling[p + 2] = w2;
        reducedGradient[g + r] -= w0 * h0 + w1 * h1 + w2 * h2;
        for (let c = 0; c <= r; c++) {
          const s = e + 3 * c;
          reducedBlocks[u + 6 * r + c] -= w0 * coupling[s] + w1 * coupling[s + 1] + w2 * coupling[s + 2];
        }
      }
    }
  }
  completeBlocks(frameBlocks, reducedBlocks);
}

/** Only the lower halves were summed: adds U to the reduced blocks and mirrors both. */
function completeBlocks(frameBlocks: Float64Array, reducedBlocks: Float64Array): void {
  for (let u = 0; u < frameBlocks.length; u += 36) {
    for (let r = 0; r < 6; r++) {
      for (let c = 0; c <= r; c++) {
        const lower = u + 6 * r + c;
        const upper = u + 6 * c + r;
        reducedBlocks[lower] += frameBlocks[lower];
        reducedBlocks[upper] = reducedBlocks[lower];
        frameBlocks[upper] = frameBlocks[lower];
      }
    }
  }
}
