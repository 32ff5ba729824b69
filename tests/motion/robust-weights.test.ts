import { describe, expect, it } from 'vitest';
import { linearise, makeLinearisation } from '../../src/motion/projection.js';
import {
  keptShare,
  observationWeight,
  residualScale,
  robustCost,
  weighTracks,
} from '../../src/motion/robust-weights.js';
import { expectWithin } from '../support/expect-within.js';
import { randomScene } from './support/random-scene.js';

const SIGMA = 1e-3;

describe('robust weights', () => {
  const { obs, scene } = randomScene(20, 40, SIGMA, 3);
  const lin = makeLinearisation(obs.count);
  linearise(obs, scene, lin);
  const all = new Float64Array(obs.trackCount).fill(1);

  it('follow the closed forms of Geman-McClure and Huber', () => {
    // e^2 = |r|^2 / (2 sigma^2): at |r| = 3 sqrt(2) sigma the first kernel is at a quarter, the second at a half.
    const r2 = 18 * SIGMA ** 2;
    expectWithin(observationWeight(r2, SIGMA, 'gemanMcClure'), 0.25, { abs: 1e-12, why: 'closed form' });
    expectWithin(observationWeight(r2, SIGMA, 'huber'), 0.5, { abs: 1e-12, why: 'closed form' });
    expect(observationWeight(0, SIGMA, 'gemanMcClure')).toBe(1);
    expect(observationWeight(0, SIGMA, 'huber')).toBe(1);
  });

  it('read the noise per axis from residuals although a tenth of them is wild', () => {
    const wild = structuredClone(lin);
    for (let o = 0; o < obs.count; o += 10) wild.residualX[o] += 50 * SIGMA;
    // 1600 normal numbers give their median to 3 %; a tenth of wild x residuals lifts it by a few per cent.
    expectWithin(residualScale(obs, lin, all), SIGMA, { rel: 0.09, why: 'sampling of a median' });
    expectWithin(residualScale(obs, wild, all), SIGMA, {
      rel: 0.15,
      why: 'one twentieth of the numbers is wild',
    });
  });

  it('keep a good track that holds one gross error, and drop a track that moves by itself', () => {
    const mixed = structuredClone(lin);
    mixed.residualX[obs.trackStart[5] + 7] += 60 * SIGMA;
    for (let o = obs.trackStart[9], k = -10; o < obs.trackStart[10]; o++, k++)
      mixed.residualX[o] += 0.8 * k * SIGMA;
    const weights = new Float64Array(obs.trackCount);
    weighTracks(obs, mixed, SIGMA, weights);
    expect(weights[5]).toBe(1);
    expect(weights[9]).toBe(0);
    expectWithin(keptShare(weights), 39 / 40, { abs: 1e-12, why: 'only the moving track goes' });
  });

  it('price noise at about one and wild residuals at no more than nine', () => {
    // Mean of chi-square(2) / 2 is 1; the cap takes off little.
    expectWithin(robustCost(obs, lin, SIGMA, all), 1, { rel: 0.1, why: 'sampling of 800 squared lengths' });
    const wild = structuredClone(lin);
    wild.residualX.fill(1);
    expect(robustCost(obs, wild, SIGMA, all)).toBe(9);
  });

  it('do not change the price by a jump when a track comes or goes', () => {
    const mixed = structuredClone(lin);
    mixed.residualX.fill(60 * SIGMA, obs.trackStart[9], obs.trackStart[10]);
    const without = all.slice();
    without[9] = 0;
    const hardly = all.slice();
    hardly[9] = 1e-6;
    const price = robustCost(obs, mixed, SIGMA, without);
    expectWithin(robustCost(obs, mixed, SIGMA, hardly), price, { rel: 1e-5, why: 'weight of a millionth' });
    expect(robustCost(obs, mixed, SIGMA, all)).toBeGreaterThan(1.1 * price);
  });
});
