/**
 * Solves the reduced normal equations over the frames: by a factor of S (schur-band.ts), or, where tracks are so long that S has hardly a
 * zero, by conjugate gradients without ever forming it:
 * S x = U x - sum_o Ew_o ( sum_o' Ew_o'^T x ), one pass over the observations, track by track.
 *
 * Inexact Newton steps on the implicit Schur complement, preconditioned by its diagonal blocks: Agarwal, Snavely,
 * Seitz, Szeliski 2010, "Bundle adjustment in the large" (from memory).
 */
import { conjugateGradients, invert6 } from '../numerics/index.js';
import { reducedBlocks, type NormalEquations } from './normal-equations.js';
import { factorFrames, frameEnvelope } from './schur-band.js';
import type { Observations } from './observations.js';

/**
 * Relative Levenberg damping of the frame blocks unless asked otherwise. It also settles the seven freedoms (pose of the world, scale)
 * that the pictures leave open, so that no frame has to be pinned.
 */
const FRAME_DAMPING = 1e-4;
const PRECONDITIONER_DAMPING = 1e-6;
/** Absolute floor (information, 1/rad^2) for blocks that nothing informs: rotation-only scenes, empty frames. */
const EMPTY_BLOCK = 1e-3;
/**
 * A multiply-add of the factor takes a quarter of the time of one of the conjugate gradients, which hardly ever end before their last
 * iteration; and the factor is exact.
 */
const FACTOR_WORTH = 4;
/** Multiply-adds of one iteration of the conjugate gradients for each observation. */
const PER_OBSERVATION = 72;

/** How far to solve. */
export interface PcgOptions {
  readonly maxIterations: number;
  /** Stop when the energy of the residual has fallen to this share of its start, 0..1. */
  readonly tolerance: number;
  /** Frames marked 1 keep their pose; null moves all. */
  readonly held: Uint8Array | null;
  /** Relative damping of the frame blocks; FRAME_DAMPING when missing. */
  readonly damping?: number;
}

/** Frame steps: 6 per frame, turn w (rad) then displacement d (scene units), in camera axes. */
export function solveFrames(
  obs: Observations,
  equations: NormalEquations,
  options: PcgOptions,
): Float64Array {
  return frameSolver(obs, equations, options)(equations.reducedGradient);
}

/** Frame steps for any number of right-hand sides of the same equations, 6 numbers per frame each. */
export function frameSolver(
  obs: Observations,
  equations: NormalEquations,
  options: PcgOptions,
): (gradient: Float64Array) => Float64Array {
  const { frameBlocks, coupling } = equations;
  const { frameCount, trackCount, trackStart, frame } = obs;
  const { held, damping = FRAME_DAMPING } = options;
  const damped = frameBlocks.slice();
  for (let u = 0; u < damped.length; u += 36) {
    for (let k = 0; k < 36; k += 7) damped[u + k] += damping * damped[u + k] + EMPTY_BLOCK;
  }
  const envelope = frameEnvelope(obs);
  if (envelope.work < FACTOR_WORTH * PER_OBSERVATION * options.maxIterations * obs.count) {
    const factor = factorFrames(obs, damped, coupling, envelope, held);
    return (gradient) => factor.solve(held ? lessHeld(gradient, held) : gradient);
  }
  const inverse = invertPreconditioner(frameBlocks, reducedBlocks(obs, equations), held, damping);

  function multiplySchur(x: Float64Array, out: Float64Array): void {
    multiplyBlocks(damped, x, out, frameCount);
    for (let i = 0; i < trackCount; i++) {
      const begin = trackStart[i];
      const end = trackStart[i + 1];
      let y0 = 0;
      let y1 = 0;
      let y2 = 0;
      for (let o = begin; o < end; o++) {
        const at = 6 * frame[o];
        const e = 18 * o;
        for (let r = 0; r < 6; r++) {
          const value = x[at + r];
          y0 += coupling[e + 3 * r] * value;
          y1 += coupling[e + 3 * r + 1] * value;
          y2 += coupling[e + 3 * r + 2] * value;
        }
      }
      for (let o = begin; o < end; o++) {
        const at = 6 * frame[o];
        const e = 18 * o;
        for (let r = 0; r < 6; r++) {
          out[at + r] -=
            coupling[e + 3 * r] * y0 + coupling[e + 3 * r + 1] * y1 + coupling[e + 3 * r + 2] * y2;
        }
      }
    }
  }

  const precondition = (r: Float64Array, out: Float64Array): void =>
    multiplyBlocks(inverse, r, out, frameCount);
  const { maxIterations, tolerance } = options;
  return (gradient) =>
    conjugateGradients(multiplySchur, precondition, gradient, { maxIterations, tolerance }).x;
}

/** Nothing pulls at held frames. */
function lessHeld(gradient: Float64Array, held: Uint8Array): Float64Array {
  return gradient.map((value, k) => (held[Math.floor(k / 6)] ? 0 : value));
}

/**
 * Track steps (a, b, rho), 3 per track, that go with the frame steps `x` (null: frames stay where they are).
 */
export function solveTracks(
  obs: Observations,
  equations: NormalEquations,
  x: Float64Array | null,
): Float64Array {
  const { trackFactors, trackGradient, coupling } = equations;
  const { trackCount, trackStart, frame } = obs;
  const steps = new Float64Array(3 * trackCount);
  for (let i = 0; i < trackCount; i++) {
    let h0 = trackGradient[3 * i];
    let h1 = trackGradient[3 * i + 1];
    let h2 = trackGradient[3 * i + 2];
    for (let o = trackStart[i]; x && o < trackStart[i + 1]; o++) {
      for (let r = 0; r < 6; r++) {
        const value = x[6 * frame[o] + r];
        h0 -= coupling[18 * o + 3 * r] * value;
        h1 -= coupling[18 * o + 3 * r + 1] * value;
        h2 -= coupling[18 * o + 3 * r + 2] * value;
      }
    }
    // K^T m = h, from the last unknown up.
    const f = 6 * i;
    const m2 = h2 / trackFactors[f + 5];
    const m1 = (h1 - trackFactors[f + 4] * m2) / trackFactors[f + 2];
    steps[3 * i] = (h0 - trackFactors[f + 1] * m1 - trackFactors[f + 3] * m2) / trackFactors[f];
    steps[3 * i + 1] = m1;
    steps[3 * i + 2] = m2;
  }
  return steps;
}

/** Inverses of the diagonal blocks of S; zero blocks for held frames, which conjugate gradients then never move. */
function invertPreconditioner(
  frameBlocks: Float64Array,
  reduced: Float64Array,
  held: Uint8Array | null,
  damping: number,
): Float64Array {
  const inverse = new Float64Array(frameBlocks.length);
  const block = new Float64Array(36);
  for (let t = 0; 36 * t < inverse.length; t++) {
    if (held && held[t]) continue;
    const u = 36 * t;
    block.set(reduced.subarray(u, u + 36));
    for (let k = 0; k < 36; k += 7) {
      block[k] += (damping + PRECONDITIONER_DAMPING) * frameBlocks[u + k] + EMPTY_BLOCK;
    }
    if (invert6(block, 0, inverse, u)) continue;
    // Rounding made the block indefinite: its own diagonal always serves.
    for (let k = 0; k < 36; k += 7) inverse[u + k] = 1 / (frameBlocks[u + k] + EMPTY_BLOCK);
  }
  return inverse;
}

function multiplyBlocks(blocks: Float64Array, x: Float64Array, out: Float64Array, frameCount: number): void {
  for (let t = 0; t < frameCount; t++) {
    for (let r = 0; r < 6; r++) {
      const row = 36 * t + 6 * r;
      let sum = 0;
      for (let c = 0; c < 6; c++) sum += blocks[row + c] * x[6 * t + c];
      out[6 * t + r] = sum;
    }
  }
}
