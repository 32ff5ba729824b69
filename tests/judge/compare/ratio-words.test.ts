import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  leaningOf,
  rangeWords,
  ratioFigure,
  smootherWords,
  spanWords,
} from '../../../src/judge/compare/ratio-words.js';
import { evenly } from '../../support/evenly.js';

describe('ratios in words', () => {
  it('have two decimals', () => {
    expect(ratioFigure(0.7978)).toBe('0.80');
    expect(rangeWords([0.6641, 0.9583])).toBe('0.66 to 0.96');
    expect(ratioFigure(12.34)).toBe('12.3');
  });

  it('never round across one', () => {
    expect(ratioFigure(0.9972)).toBe('0.997');
    expect(ratioFigure(1.0004)).toBe('1.0004');
    fc.assert(
      fc.property(evenly(0.01, 9), (ratio) => {
        fc.pre(Math.abs(ratio - 1) > 1e-4);
        expect(Math.sign(Number(ratioFigure(ratio)) - 1)).toBe(Math.sign(ratio - 1));
      }),
      { seed: 227 },
    );
  });

  it('say how much smoother or rougher one may be', () => {
    expect(spanWords([0.629, 1.0117])).toBe('37 % smoother to 1 % rougher');
    expect(spanWords([0.9, 2.4])).toBe('10 % smoother to 140 % rougher');
    expect(spanWords([0.9, 1.002])).toBe('10 % smoother to < 1 % rougher');
    expect(smootherWords([0.23, 0.72])).toBe('28 to 77 % smoother');
    expect(smootherWords([0.6, 0.996])).toBe('< 1 to 40 % smoother');
  });

  it('lean from 80 in 100 on, and never reach a chance that they do not have', () => {
    expect([leaningOf(null), leaningOf(0.5), leaningOf(0.79), leaningOf(0.21)]).toEqual([
      null,
      null,
      null,
      null,
    ]);
    expect([leaningOf(0.8), leaningOf(0.2)]).toEqual([
      { to: 'a', inHundred: 80 },
      { to: 'b', inHundred: 80 },
    ]);
    expect(leaningOf(0.9749)).toEqual({ to: 'a', inHundred: 97 });
    expect(leaningOf(0.9999)).toEqual({ to: 'a', inHundred: 99 });
  });
});
