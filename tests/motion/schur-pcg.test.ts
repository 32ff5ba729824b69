import { describe, expect, it } from 'vitest';
import { accumulate, makeNormalEquations } from '../../src/motion/normal-equations.js';
import {
  frameJacobian,
  linearise,
  makeLinearisation,
  type Linearisation,
} from '../../src/motion/projection.js';
import { observationWeight } from '../../src/motion/robust-weights.js';
import { solveFrames, solveTracks } from '../../src/motion/schur-pcg.js';
import type { Observations } from '../../src/motion/observations.js';
import { solveSymmetric } from '../../src/numerics/index.js';
import { expectWithin } from '../support/expect-within.js';
import { randomScene } from './support/random-scene.js';

const SIGMA = 1e-3;
const FULLY = { maxIterations: 5000, tolerance: 1e-20 };

/** The plain way: one dense matrix over all frames and tracks, row by row, with the same damping. */
function denseStep(obs: Observations, lin: Linearisation, trackWeights: Float64Array): Float64Array {
  const frames = 6 * obs.frameCount;
  const n = frames + 3 * obs.trackCount;
  const matrix = new Float64Array(n * n);
  const right = new Float64Array(n);
  const rowX = new Float64Array(6);
  const rowY = new Float64Array(6);
  for (let o = 0; o < obs.count; o++) {
    const w = observationWeight(lin.residualX[o] ** 2 + lin.residualY[o] ** 2, SIGMA, 'gemanMcClure');
    const weight = (w * trackWeights[obs.track[o]]) / SIGMA ** 2;
    frameJacobian(lin.projectedX[o], lin.projectedY[o], lin.inverseDepth[o], rowX, rowY);
    const at = [0, 1, 2, 3, 4, 5].map((u) => 6 * obs.frame[o] + u);
    at.push(...[0, 1, 2].map((u) => frames + 3 * obs.track[o] + u));
    for (const [row, shift, residual] of [
      [rowX, 0, lin.residualX[o]],
      [rowY, 3, lin.residualY[o]],
    ] as const) {
      const j = [...row, ...lin.trackJacobian.subarray(6 * o + shift, 6 * o + shift + 3)];
      for (let a = 0; a < 9; a++) {
        right[at[a]] += weight * j[a] * residual;
        for (let b = 0; b < 9; b++) matrix[n * at[a] + at[b]] += weight * j[a] * j[b];
      }
    }
  }
  for (let k = 0; k < n; k++) {
    matrix[(n + 1) * k] += k < frames ? 1e-4 * matrix[(n + 1) * k] + 1e-3 : 1e-6 * matrix[(n + 1) * k] + 1e-6;
  }
  return solveSymmetric(matrix, right, n);
}

describe('the reduced normal equations', () => {
  const { obs, scene } = randomScene(6, 25, 0.002, 11);
  const lin = makeLinearisation(obs.count);
  linearise(obs, scene, lin);
  const equations = makeNormalEquations(obs);

  it('give the step of the full dense system', () => {
    const trust = new Float64Array(obs.trackCount).fill(1);
    trust[3] = 0.4;
    accumulate(obs, lin, trust, SIGMA, 'gemanMcClure', equations);
    const frames = solveFrames(obs, equations, { ...FULLY, held: null });
    const tracks = solveTracks(obs, equations, frames);
    const dense = denseStep(obs, lin, trust);
    const largest = dense.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
    const tolerance = { abs: 1e-6 * largest, why: 'rounding, times the stiffness of the free gauge' };
    frames.forEach((v, k) => expectWithin(v, dense[k], tolerance, `frame unknown ${k}`));
    tracks.forEach((v, k) => expectWithin(v, dense[frames.length + k], tolerance, `track unknown ${k}`));
  });

  it('move the frames as if tracks of weight zero were not there, while those tracks follow', () => {
    const trust = new Float64Array(obs.trackCount).fill(1);
    trust[0] = 0;
    accumulate(obs, lin, trust, SIGMA, 'gemanMcClure', equations);
    const shifted = structuredClone(lin);
    for (let o = obs.trackStart[0]; o < obs.trackStart[1]; o++) shifted.residualX[o] += 0.5 * SIGMA;
    const without = solveFrames(obs, equations, { ...FULLY, held: null });
    accumulate(obs, shifted, trust, SIGMA, 'gemanMcClure', equations);
    const withShift = solveFrames(obs, equations, { ...FULLY, held: null });
    expect(withShift).toEqual(without);
    const own = solveTracks(obs, equations, withShift).subarray(0, 3);
    expect(Math.hypot(own[0], own[1], own[2])).toBeGreaterThan(0.1 * SIGMA);
  });

  it('leave held frames exactly where they are', () => {
    accumulate(obs, lin, new Float64Array(obs.trackCount).fill(1), SIGMA, 'gemanMcClure', equations);
    const held = Uint8Array.of(1, 0, 0, 1, 0, 0);
    const x = solveFrames(obs, equations, { ...FULLY, held });
    for (const t of [0, 3]) expect(Array.from(x.subarray(6 * t, 6 * t + 6))).toEqual([0, 0, 0, 0, 0, 0]);
    expect(Math.abs(x[6])).toBeGreaterThan(0);
  });
});
