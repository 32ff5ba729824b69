import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_DELIVERY, assumedDelivery, resolveDelivery, shakeGuidance } from '../../src/judge/index.js';
import { boundNear, figure, figureBeside, figureNear, percentNear } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { evenly } from '../support/evenly.js';

describe('a delivery', () => {
  it('is 1920 x 1080 with 5 % crop and 0.83 px seen from 3.1 H when nothing is named, all of it listed as assumed', () => {
    expect(resolveDelivery()).toEqual(DEFAULT_DELIVERY);
    expect(DEFAULT_DELIVERY).toEqual({
      name: null,
      widthPx: 1920,
      heightPx: 1080,
      maxCropPercent: 5,
      maxResidualPx: 0.83,
      viewingDistanceHeights: 3.1,
    });
    expect(assumedDelivery({}).map(({ name }) => name)).toEqual([
      'delivery size',
      'most crop',
      'viewing distance',
      'most residual shake',
    ]);
  });

  it('keeps what was given and lists nothing as assumed then', () => {
    const given = {
      widthPx: 3840,
      heightPx: 1600,
      maxCropPercent: 0,
      maxResidualPx: 2,
      viewingDistanceHeights: 2,
    };
    expect(resolveDelivery(given)).toEqual({ name: null, ...given });
    expect(assumedDelivery(given)).toEqual([]);
  });

  it('says that an assumed distance decides only where the shake left follows from it', () => {
    const matters = (maxResidualPx?: number) =>
      assumedDelivery({ maxResidualPx }).find(({ name }) => name === 'viewing distance')?.matters;
    expect(matters()).toContain('twice as large');
    expect(matters(1)).toContain('do not depend on it');
  });

  it('completes one side to 16:9', () => {
    expect(resolveDelivery({ widthPx: 3840 }).heightPx).toBe(2160);
    expect(resolveDelivery({ heightPx: 720 }).widthPx).toBe(1280);
  });

  const guidance = (widthPx: number, heightPx: number, heights: number) =>
    shakeGuidance({ widthPx, heightPx, viewingDistanceHeights: heights });

  it('lies between "not visible" and "visible but usable", as peaks of a sine', () => {
    const hd = guidance(1920, 1080, 3.1);
    expect(hd.limitRmsPx).toBe(0.83);
    expect(hd.limitRmsPx * Math.SQRT2).toBeGreaterThan(hd.notVisiblePeakPx);
    expect(hd.limitRmsPx * Math.SQRT2).toBeLessThan(hd.usablePeakPx);
    // 0.3 px is 20 arcsec where a pixel is 61.6 arcsec (1080 lines at 3.1 picture heights); 0.24 % of 1920 is 4.6 px.
    expectWithin(hd.notVisiblePeakPx * 61.6, 20, { abs: 2, why: 'the row says about 20 arcsec' });
    expectWithin(hd.usablePeakPx, 4.6, { abs: 0.05, why: 'the row is printed to a tenth' });
  });

  it('grows in step with the viewing distance, and with the lines seen from as many heights', () => {
    const hd = guidance(1920, 1080, 3.1);
    for (const far of [guidance(1920, 1080, 6.2), guidance(3840, 2160, 3.1)]) {
      expectWithin(far.notVisiblePeakPx, 2 * hd.notVisiblePeakPx, { rel: 1e-12, why: 'twice 0.3 px' });
      expectWithin(far.usablePeakPx, 2 * hd.usablePeakPx, { rel: 1e-12, why: 'twice 4.608 px' });
      expectWithin(far.limitRmsPx, 2 * hd.limitRmsPx, { rel: 0.03, why: 'both are rounded to two digits' });
    }
  });

  it('is the same angle at the eye for every picture and every seat', () => {
    // Closed form: an angle a is a / atan(1 / (lines heights)) px; 1080 lines at 3.1 H show 1.0268 minutes of arc a pixel.
    const notVisibleArcMin = 0.3 * 1.026806054;
    fc.assert(
      fc.property(
        fc.integer({ min: 160, max: 8192 }),
        fc.integer({ min: 160, max: 8192 }),
        evenly(0.5, 20),
        (widthPx, heightPx, heights) => {
          const lines = Math.max(heightPx, (widthPx * 9) / 16);
          const arcMinPerPx = (Math.atan(1 / (lines * heights)) * 60 * 180) / Math.PI;
          const seen = guidance(widthPx, heightPx, heights).notVisiblePeakPx * arcMinPerPx;
          // The tangent of an angle of 1 / (90 heights x 0.5) strays from it by a six-thousandth.
          return Math.abs(seen / notVisibleArcMin - 1) < 2e-4;
        },
      ),
      { seed: 5, numRuns: 300 },
    );
  });

  it('takes the seat of each size from the Recommendations, so that the limit stays about one angle', () => {
    for (const [widthPx, heightPx] of [
      [1280, 720],
      [1920, 1080],
      [3840, 2160],
      [7680, 4320],
    ]) {
      const delivery = resolveDelivery({ widthPx, heightPx });
      expectWithin(delivery.maxResidualPx, 0.83, {
        rel: 0.06,
        why: 'a pixel is 1 to 1.06 minutes of arc there',
      });
    }
  });
});

describe('figures in sentences', () => {
  it.each([
    [0, '0'],
    [0.04237, '0.042'],
    [3.14159, '3.1'],
    [31.4159, '31.4'],
    [314.159, '314'],
    [-0.5, '-0.5'],
  ])('prints %d as %s', (value, text) => {
    expect(figure(value)).toBe(text);
  });

  it('prints what is foretold, where a search left it at a limit, as the limit', () => {
    expect(figureNear(0.829999999988257, 0.83)).toBe('0.83');
    expect(percentNear(10 + 1e-9, 10)).toBe('10');
    expect(boundNear(0.830000000003, 0.83)).toBe('0.83');
    expect(figureNear(0.8299, 0.83)).toBe('0.8299');
    expect(percentNear(0.004, 5)).toBe('< 0.01');
  });

  it('never rounds a value across or onto its limit', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 500 }), evenly(-1, 1), (tenths, off) => {
        const limit = tenths / 10;
        const value = limit + off * 1e-3;
        return Math.sign(Number(figureBeside(value, limit)) - limit) === Math.sign(value - limit);
      }),
      { seed: 2, numRuns: 500 },
    );
  });
});
