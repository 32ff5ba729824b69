import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DEFAULT_DELIVERY, assumedDelivery, resolveDelivery, shakeGuidance } from '../../src/judge/index.js';
import { figure, figureBeside } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';

describe('a delivery', () => {
  it('is 1920 x 1080 with 5 % crop when nothing is named, and lists all three limits as assumed', () => {
    expect(resolveDelivery()).toEqual(DEFAULT_DELIVERY);
    expect(assumedDelivery({})).toHaveLength(3);
  });

  it('keeps what was given and lists nothing as assumed then', () => {
    const given = { widthPx: 3840, heightPx: 1600, maxCropPercent: 0, maxResidualPx: 2 };
    expect(resolveDelivery(given)).toEqual(given);
    expect(assumedDelivery(given)).toEqual([]);
  });

  it('completes one side to 16:9', () => {
    expect(resolveDelivery({ widthPx: 3840 }).heightPx).toBe(2160);
    expect(resolveDelivery({ heightPx: 720 }).widthPx).toBe(1280);
  });

  it('scales the residual limit with the delivery', () => {
    const hd = shakeGuidance(1920, 1080);
    const uhd = shakeGuidance(3840, 2160);
    expectWithin(uhd.limitRmsPx, 2 * hd.limitRmsPx, { rel: 0.03, why: 'both are rounded to two digits' });
    // Between "not visible" and "visible but usable", as peaks of a sine.
    expect(hd.limitRmsPx * Math.SQRT2).toBeGreaterThan(hd.notVisiblePeakPx);
    expect(hd.limitRmsPx * Math.SQRT2).toBeLessThan(hd.usablePeakPx);
    // 0.3 px is 20 arcsec where a pixel is 61.6 arcsec (1080 lines at 3.1 picture heights); 0.24 % of 1920 is 4.6 px.
    expectWithin(hd.notVisiblePeakPx * 61.6, 20, { abs: 2, why: 'the row says about 20 arcsec' });
    expectWithin(hd.usablePeakPx, 4.6, { abs: 0.05, why: 'the row is printed to a tenth' });
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

  it('never rounds a value across or onto its limit', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 500 }),
        fc.double({ min: -1, max: 1, noNaN: true }),
        (tenths, off) => {
          const limit = tenths / 10;
          const value = limit + off * 1e-3;
          return Math.sign(Number(figureBeside(value, limit)) - limit) === Math.sign(value - limit);
        },
      ),
      { seed: 2, numRuns: 500 },
    );
  });
});
