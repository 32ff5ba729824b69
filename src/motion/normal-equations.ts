/**
 * The weighted normal equations of one Gauss-Newton step over all frames and tracks, with the tracks eliminated.
 *
 *   U_t = sum w Jf^T Jf,  V_i = sum w Jp^T Jp,  E_o = w Jf^T Jp,  g = sum w J^T r      (w includes 1 / sigma^2)
 * With V = K K^T (Cholesky) and the whitened blocks Ew = E K^-T the reduced system over the frames is
 *   S x = b,   S = U - sum Ew Ew^T,   b = g_frame - sum Ew (K^-1 g_track),
 * and the tracks follow as K^-T (K^-1 g_track - sum Ew^T x). S itself is never formed: see schur-pcg.ts.
 */
import type { Observations } from './observations.js';
import type { Linearisation } from './projection.js';
import { observationWeight, type Kernel } from './robust-weights.js';

/** Keeps V invertible for tracks whose depth is not seen; far below any real information. */
const TRACK_DAMPING = 1e-6;

/** The blocks of the normal equations; sizes in numbers per frame (T), track (P) or observation (N). */
export interface NormalEquations {
  /** U, 36 T, row-major 6x6, not damped. */
  readonly frameBlocks: Float64Array;
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
export function makeNormalEquations(
  obs: Pick<Observations, 'count' | 'frameCount' | 'trackCount'>,
): NormalEquations {
  return {
    frameBlocks: new Float64Array(36 * obs.frameCount),
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
 *
 * @param tracksOnly true leaves out what the frames would need: blocks, gradient and coupling then mean nothing
 */
export function accumulate(
  obs: Observations,
  lin: Linearisation,
  trackWeights: Float64Array,
  sigma: number,
  kernel: Kernel,
  out: NormalEquations,
  tracksOnly = false,
): void {
  const { frameBlocks, reducedGradient, trackFactors, trackGradient, coupling, weights } = out;
  const { residualX, residualY, projectedX, projectedY, inverseDepth, trackJacobian, inFront } = lin;
  const { trackCount, trackStart, frame } = obs;
  const perSigma2 = 1 / (sigma * sigma);
  frameBlocks.fill(0);
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
      if (trust <= 0 || tracksOnly) continue;
      // The rows of J_frame (projection.ts), their zeros left out.
      const px = projectedX[o];
      const py = projectedY[o];
      const q = inverseDepth[o];
      const pxy = px * py;
      const x1 = 1 + px * px;
      const y0 = -1 - py * py;
      const g = 6 * frame[o];
      const wrx = wt * rx;
      const wry = wt * ry;
      const qrx = q * wrx;
      const qry = q * wry;
      reducedGradient[g] += y0 * wry - pxy * wrx;
      reducedGradient[g + 1] += x1 * wrx + pxy * wry;
      reducedGradient[g + 2] += px * wry - py * wrx;
      reducedGradient[g + 3] -= qrx;
      reducedGradient[g + 4] -= qry;
      reducedGradient[g + 5] += px * qrx + py * qry;
      const e = 18 * o;
      coupleColumn(coupling, e, px, py, q, wt * ax, wt * ay);
      coupleColumn(coupling, e + 1, px, py, q, wt * bx, wt * by);
      coupleColumn(coupling, e + 2, px, py, q, wt * cx, wt * cy);
      const u = 36 * frame[o];
      const wq = wt * q;
      const wqq = wq * q;
      const r2 = px * px + py * py;
      frameBlocks[u] += wt * (pxy * pxy + y0 * y0);
      frameBlocks[u + 6] += wt * pxy * (y0 - x1);
      frameBlocks[u + 7] += wt * (x1 * x1 + pxy * pxy);
      frameBlocks[u + 12] += wt * px * (py * py + y0);
      frameBlocks[u + 13] += wt * py * (px * px - x1);
      frameBlocks[u + 14] += wt * r2;
      frameBlocks[u + 18] += wq * pxy;
      frameBlocks[u + 19] -= wq * x1;
      frameBlocks[u + 20] += wq * py;
      frameBlocks[u + 21] += wqq;
      frameBlocks[u + 24] -= wq * y0;
      frameBlocks[u + 25] -= wq * pxy;
      frameBlocks[u + 26] -= wq * px;
      frameBlocks[u + 28] += wqq;
      frameBlocks[u + 30] += wq * py * (y0 - px * px);
      frameBlocks[u + 31] += wq * px * (x1 + py * py);
      frameBlocks[u + 33] -= wqq * px;
      frameBlocks[u + 34] -= wqq * py;
      frameBlocks[u + 35] += wqq * r2;
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
    if (tracksOnly) continue;
    if (trust <= 0) {
      coupling.fill(0, 18 * begin, 18 * end);
      continue;
    }
    // Whiten the coupling and take the track's pull out of its frames.
    const per00 = 1 / k00;
    const per11 = 1 / k11;
    const per22 = 1 / k22;
    for (let o = begin; o < end; o++) {
      const g = 6 * frame[o];
      let p = 18 * o;
      for (let r = 0; r < 6; r++, p += 3) {
        const w0 = coupling[p] * per00;
        const w1 = (coupling[p + 1] - k10 * w0) * per11;
        const w2 = (coupling[p + 2] - k20 * w0 - k21 * w1) * per22;
        coupling[p] = w0;
        coupling[p + 1] = w1;
        coupling[p + 2] = w2;
        reducedGradient[g + r] -= w0 * h0 + w1 * h1 + w2 * h2;
      }
    }
  }
  mirror(frameBlocks);
}

/** One column of w Jf^T Jp: (jx, jy) is the column of J_track, weighed. */
function coupleColumn(
  coupling: Float64Array,
  at: number,
  px: number,
  py: number,
  q: number,
  jx: number,
  jy: number,
): void {
  const pxy = px * py;
  const qx = q * jx;
  const qy = q * jy;
  coupling[at] = -pxy * jx - (1 + py * py) * jy;
  coupling[at + 3] = (1 + px * px) * jx + pxy * jy;
  coupling[at + 6] = px * jy - py * jx;
  coupling[at + 9] = -qx;
  coupling[at + 12] = -qy;
  coupling[at + 15] = px * qx + py * qy;
}

/**
 * Diagonal blocks of S, 36 T: U_t minus what the frame's own tracks take away; a preconditioner.
 *
 * @param equations as accumulated
 */
export function reducedBlocks(obs: Observations, { frameBlocks, coupling }: NormalEquations): Float64Array {
  const { count, frame } = obs;
  const blocks = frameBlocks.slice();
  for (let o = 0; o < count; o++) {
    const e = 18 * o;
    const u = 36 * frame[o];
    for (let r = 0; r < 6; r++) {
      const w0 = coupling[e + 3 * r];
      const w1 = coupling[e + 3 * r + 1];
      const w2 = coupling[e + 3 * r + 2];
      for (let c = 0; c <= r; c++) {
        const s = e + 3 * c;
        blocks[u + 6 * r + c] -= w0 * coupling[s] + w1 * coupling[s + 1] + w2 * coupling[s + 2];
      }
    }
  }
  mirror(blocks);
  return blocks;
}

/** Only the lower halves were summed. */
function mirror(blocks: Float64Array): void {
  for (let u = 0; u < blocks.length; u += 36)
    for (let r = 0; r < 6; r++) for (let c = 0; c < r; c++) blocks[u + 6 * c + r] = blocks[u + 6 * r + c];
}
