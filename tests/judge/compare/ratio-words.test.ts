import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rangeWords, ratioFigure, spanWords } from '../../../src/judge/compare/ratio-words.js';

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
      fc.property(fc.double({ min: 0.01, max: 9, noNaN: true }), (ratio) => {
        fc.pre(Math.abs(ratio - 1) > 1e-4);
        expect(Math.sign(Number(ratioFigure(ratio)) - 1)).toBe(Math.sign(ratio - 1));
      }),
    );
  });

  it('say how much smoother or rougher one may be', () => {
    expect(spanWords([0.629, 1.0117])).toBe('37 % smoother to 1 % rougher');
    expect(spanWords([0.9, 2.4])).toBe('10 % smoother to 140 % rougher');
    expect(spanWords([0.9, 1.002])).toBe('10 % smoother to < 1 % rougher');
  });
});
