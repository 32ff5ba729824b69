import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { holm } from '../../../src/judge/compare/holm.js';
import { expectWithin } from '../../support/expect-within.js';
import { evenly } from '../../support/evenly.js';

describe('correction for a family of questions', () => {
  it('multiplies by what is left of the family, smallest first', () => {
    const corrected = holm([0.001, 0.012, 0.02, 0.04, 0.3]);
    [0.005, 0.048, 0.06, 0.08, 0.3].forEach((p, i) =>
      expectWithin(corrected[i] ?? NaN, p, { abs: 1e-12, why: 'rounding of products' }),
    );
  });

  it('gives answers in the order of the questions, and leaves out those that could not be asked', () => {
    expect(holm([0.3, null, 0.01])).toEqual([0.3, null, 0.02]);
    expect(holm([])).toEqual([]);
  });

  it('never makes a p smaller, nor larger than one, and keeps their order', () => {
    fc.assert(
      fc.property(fc.array(evenly(0, 1), { maxLength: 20 }), (p) => {
        const corrected = holm(p) as number[];
        for (let i = 0; i < p.length; i++) {
          expect(corrected[i]).toBeGreaterThanOrEqual(p[i]);
          expect(corrected[i]).toBeLessThanOrEqual(1);
          for (let j = 0; j < p.length; j++)
            if (p[i] < p[j]) expect(corrected[i]).toBeLessThanOrEqual(corrected[j]);
        }
      }),
      { seed: 226 },
    );
  });
});
