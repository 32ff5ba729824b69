import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { recommendSmoothing, type CurvePoint } from '../../src/stabilise/index.js';
import { zoomWithReserve } from '../../src/stabilise/what-if/recommend.js';
import { expectWithin } from '../support/expect-within.js';
import { evenly } from '../support/evenly.js';

const point = (smoothingS: number, cropPercent: number, residualPx: number | null): CurvePoint => ({
  smoothingS,
  zoom: 1 / (1 - cropPercent / 100),
  cropPercent,
  residualPx,
});
/** More smoothing costs more and leaves less. */
const usual = [point(0.5, 1, 2), point(1, 2, 1), point(1.25, 2.5, 0.8), point(2, 4, 0.7)];

describe('the recommended smoothing', () => {
  it('is the one wanted when its crop is accepted', () => {
    expect(recommendSmoothing(usual, 1.25, 3, 0.001)).toMatchObject({ smoothingS: 1.25, code: 'asWanted' });
  });

  it('is never stronger than the one wanted, which would take out the move', () => {
    expect(recommendSmoothing(usual, 1, 10, 0)).toMatchObject({ smoothingS: 1, code: 'asWanted' });
  });

  it('is the one that leaves least of those accepted when the one wanted costs too much', () => {
    expect(recommendSmoothing(usual, 2, 3, 0.001)).toMatchObject({ smoothingS: 1.25, code: 'weakerFits' });
    const odd = [point(0.5, 1, 0.5), point(1, 2, 1), point(2, 4, 0.7)];
    expect(recommendSmoothing(odd, 2, 3, 0)).toMatchObject({ smoothingS: 0.5, code: 'weakerFits' });
  });

  it('counts the reserve as crop', () => {
    expect(recommendSmoothing(usual, 1.25, 2.55, 0.001).smoothingS).toBe(1);
    expect(recommendSmoothing(usual, 1.25, 2.65, 0.001).smoothingS).toBe(1.25);
  });

  it('saves crop where a weaker one leaves the same within 3 %', () => {
    const flat = [point(0.5, 1, 0.9), point(1, 2, 0.82), point(1.25, 2.5, 0.8)];
    expect(recommendSmoothing(flat, 1.25, 3, 0)).toMatchObject({ smoothingS: 1, code: 'weakerIsAsGood' });
    const clear = [point(1, 2, 0.83), point(1.25, 2.5, 0.8)];
    expect(recommendSmoothing(clear, 1.25, 3, 0).smoothingS).toBe(1.25);
  });

  it('is the one wanted when nothing is accepted: following more of the shake would not help', () => {
    expect(recommendSmoothing(usual, 1.25, 0.5, 0)).toMatchObject({ smoothingS: 1.25, code: 'nothingFits' });
    const even = [point(0.5, 1, 1), point(1, 1, 1)];
    expect(recommendSmoothing(even, 1, 0.5, 0).smoothingS).toBe(1);
  });

  it('is the strongest accepted where the residue is not known', () => {
    const unknown = usual.map((each) => ({ ...each, residualPx: null }));
    expect(recommendSmoothing(unknown, 2, 3, 0)).toMatchObject({ smoothingS: 1.25, code: 'weakerFits' });
  });

  it('does not depend on the order of the curve, and keeps within the accepted crop whenever it says so', () => {
    const anyPoint = fc.tuple(fc.constantFrom(0.25, 0.5, 1, 1.25, 2, 3), evenly(0, 10), evenly(0.1, 3));
    const curves = fc.uniqueArray(anyPoint, { minLength: 1, maxLength: 6, selector: ([s]) => s });
    fc.assert(
      fc.property(curves, (entries) => {
        const curve = entries.map(([s, crop, left]) => point(s, crop, left));
        const choice = recommendSmoothing(curve, 1.25, 3, 0.002);
        expect(recommendSmoothing([...curve].reverse(), 1.25, 3, 0.002)).toEqual(choice);
        if (choice.code !== 'nothingFits') expect(100 * (1 - 1 / choice.zoom)).toBeLessThanOrEqual(3);
        expect(choice.why).not.toBe('');
      }),
      { seed: 206 },
    );
  });

  it('refuses an empty curve', () => {
    expect(() => recommendSmoothing([], 1.25, 3, 0)).toThrow(RangeError);
  });
});

describe('a zoom with reserve', () => {
  it('leaves the reserve unused at the width, and stays a number when there is none to leave', () => {
    expectWithin(1 / zoomWithReserve(1.25, 0.001), 0.799, { rel: 1e-12, why: 'double rounding' });
    expectWithin(zoomWithReserve(20, 0.1), 20, { rel: 1e-12, why: 'the limit of every zoom' });
  });
});
