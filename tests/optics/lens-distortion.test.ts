import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { distort, undistort, type ImagePoint } from '../../src/optics/index.js';
import { expectWithin } from '../support/expect-within.js';
import { evenly } from '../support/evenly.js';

const INVERSE = { abs: 1e-10, why: 'the inverse is solved to far below a millionth of a pixel' };
const coefficient = (most: number): fc.Arbitrary<number> => evenly(-most, most);
/** Lenses as calibrations give them: invertible within the frames tested. */
const lenses = fc.record({
  k1: coefficient(0.25),
  k2: coefficient(0.05),
  p1: coefficient(0.005),
  p2: coefficient(0.005),
  k3: coefficient(0.02),
});

describe('lens distortion', () => {
  it('is undone by its inverse, for any usual lens and any point of a 60 degree view', () => {
    fc.assert(
      fc.property(lenses, coefficient(0.55), coefficient(0.35), (lens, x, y) => {
        const seen = distort(lens, x, y);
        const back = undistort(lens, seen.x, seen.y);
        expect(back.converged).toBe(true);
        expectWithin(back.x, x, INVERSE, 'x');
        expectWithin(back.y, y, INVERSE, 'y');
      }),
      { seed: 202 },
    );
  });

  it('does nothing when every coefficient is zero', () => {
    const none = { k1: 0, k2: 0, p1: 0, p2: 0, k3: 0 };
    expect(distort(none, 0.3, -0.2)).toEqual({ x: 0.3, y: -0.2 });
    expect(undistort(none, 0.3, -0.2)).toEqual({ x: 0.3, y: -0.2, converged: true });
  });

  it('pulls points inwards for negative k1 (barrel) and outwards for positive k1 (pincushion)', () => {
    const radius = ({ x, y }: ImagePoint): number => Math.hypot(x, y);
    const lens = (k1: number) => ({ k1, k2: 0, p1: 0, p2: 0, k3: 0 });
    expect(radius(distort(lens(-0.1), 0.4, 0.3))).toBeLessThan(0.5);
    expect(radius(distort(lens(0.1), 0.4, 0.3))).toBeGreaterThan(0.5);
  });

  it('gives a finite point on the fold where no ideal point exists, and says so', () => {
    const barrel = { k1: -0.3, k2: 0, p1: 0, p2: 0, k3: 0 };
    // r (1 - 0.3 r^2) peaks at r = 1/sqrt(0.9) with 0.7027: nothing can appear further out.
    const beyond = undistort(barrel, 0.9, 0);
    expect(beyond.converged).toBe(false);
    expectWithin(beyond.x, 1 / Math.sqrt(0.9), { rel: 0.02, why: 'near the fold, closed form' });
    expect(beyond.y).toBe(0);
    const { x } = undistort(barrel, 0.7, 0);
    expectWithin(x * (1 - 0.3 * x * x), 0.7, INVERSE, 'just inside the fold');
  });
});
