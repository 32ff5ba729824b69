import { describe, expect, it } from 'vitest';
import { evenTime } from '../../src/motion/even-time.js';
import {
  gapWarnings,
  scaleWarning,
  speedWarning,
  weakStretchWarnings,
} from '../../src/motion/split-warnings.js';
import { AXES } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';

const stamps = Float64Array.from({ length: 240 }, (_, k) => k / 30);
const time = evenTime(stamps);

describe('warnings of a split', () => {
  it('point to the two seconds in which an axis is far more uncertain than in the rest', () => {
    const even = AXES.map(() => new Float64Array(240).fill(1));
    expect(weakStretchWarnings(even, time)).toEqual([]);
    const weak = even.map((column) => column.slice());
    weak[3].fill(5, 120, 180);
    const [warning] = weakStretchWarnings(weak, time);
    expect(warning.code).toBe('motion-weak-stretch');
    expect(warning.text).toMatch(/lateral/);
    expect(warning.text).not.toMatch(/pan|axial/);
    expectWithin(warning.atS ?? NaN, 4, { abs: 1e-9, why: 'frame 120' });
  });

  it('name the first frame without a pose and a long gap', () => {
    expect(gapWarnings([], stamps, time)).toEqual([]);
    const holes = evenTime(stamps.filter((_, k) => k < 90 || k > 100));
    const codes = gapWarnings([90, 91], stamps, holes).map(({ code, atS }) => [code, atS]);
    expect(codes).toEqual([
      ['motion-lost-frames', stamps[90]],
      ['motion-gap', null],
    ]);
  });

  it('doubt a travel that puts the scene next to the lens or beyond the horizon', () => {
    const depth = (median: number) => ({ median, meanInverse: 1 / median, sdInverse: 0.1 });
    expect(scaleWarning(depth(4), true)).toEqual([]);
    expect(scaleWarning(depth(0.05), true)).toHaveLength(1);
    expect(scaleWarning(depth(2000), true)).toHaveLength(1);
    expect(scaleWarning(depth(1), false)).toEqual([]);
  });

  it('tell a travel and a speed that cannot both be right', () => {
    expect(speedWarning(1.05, 0.2)).toEqual([]);
    expect(speedWarning(null, 0.2)).toEqual([]);
    expect(speedWarning(3.3, 0.2)[0].text).toContain(
      'would have rolled at 0.66 m/s, but 0.20 m/s were given',
    );
  });
});
