/** Nothing is left on the table: errors of the split against the least that any unbiased method could reach. */
import { describe, expect, it } from 'vitest';
import { mean } from '../../src/numerics/index.js';
import { AXES } from '../../src/run/index.js';
import { cramerRaoBound } from '../support/crb.js';
import { measurePass } from './support/measure-pass.js';
import { DEFAULTS, type PassOptions } from './support/simulated-tracks.js';

const SMALL = { durationS: 3, fps: 25, liveTracks: 120 } as const;
const SEEDS = [1, 2, 3, 4];

describe('the error of every axis against the Cramer-Rao bound', () => {
  it.each<[string, Partial<PassOptions>]>([
    ['a lateral move', { move: 'lateral' }],
    ['a push-in', { move: 'push' }],
    ['an arc', { move: 'arc' }],
    ['a creeping move of 2 cm/s', { speedMps: 0.02 }],
  ])('is 0.9 to 1.3 times the bound over the passes of %s', (_name, options) => {
    const ratios = SEEDS.map((seed) => {
      const { pass, motion, scores } = measurePass({ ...SMALL, ...options, seed });
      const bound = cramerRaoBound(pass, {
        noisePx: DEFAULTS.noisePx,
        grossShare: DEFAULTS.grossShare,
        rateHz: motion.rateHz,
        cutoffHz: motion.bandHz[0],
        trimFrames: motion.trimFrames,
      });
      return AXES.map((axis) => scores[axis].errorRms / bound[axis]);
    });
    AXES.forEach((axis, a) => {
      // Four passes of 50 samples: an axis scatters by 5 %; robust weights cost some 3 %.
      const together = Math.sqrt(mean(ratios.map((ratio) => ratio[a] ** 2)));
      expect(together, axis).toBeGreaterThan(0.9);
      expect(together, axis).toBeLessThan(1.3);
    });
  });
});
