/** What is said of uploads and of work that goes on: speed, time left, sizes. */
import { describe, expect, test } from 'vitest';
import { rateWords, sizeWords } from '../../../src/web/page/start/clip-figures.js';
import { marked, paceOf, type SentMark } from '../../../src/web/page/start/upload-speed.js';
import { spokenTime, steadyLeft } from '../../../src/web/page/queue/time-left.js';
import { workTexts } from '../../../src/texts/index.js';

const steady = (bytesPerS: number, seconds: number): readonly SentMark[] =>
  Array.from({ length: 2 * seconds + 1 }, (_, i) => ({ atS: i / 2, bytes: (i / 2) * bytesPerS })).reduce<
    readonly SentMark[]
  >(marked, []);

describe('the pace of an upload', () => {
  test('is bytes a second over the last seconds, and what is left by it', () => {
    expect(paceOf(steady(1000, 20), 50_000)).toEqual({ bytesPerS: 1000, leftS: 30 });
  });

  test('is not told from one moment, and no time left from a halt', () => {
    expect(paceOf([], 100)).toEqual({ bytesPerS: null, leftS: null });
    expect(paceOf([{ atS: 3, bytes: 10 }], 100)).toEqual({ bytesPerS: null, leftS: null });
    const halt = [
      { atS: 0, bytes: 10 },
      { atS: 4, bytes: 10 },
    ];
    expect(paceOf(halt, 100)).toEqual({ bytesPerS: 0, leftS: null });
  });

  test('forgets how fast it once was', () => {
    const fast = steady(1000, 4);
    const slow = Array.from({ length: 40 }, (_, i) => ({ atS: 4.5 + i / 2, bytes: 4000 + 50 * (i + 1) }));
    expect(paceOf(slow.reduce<readonly SentMark[]>(marked, fast), 100_000).bytesPerS).toBeCloseTo(100, 6);
  });

  test('keeps few marks however long it takes', () => {
    // Two a second over a window of 8 s.
    expect(steady(1000, 600).length).toBeLessThanOrEqual(18);
  });
});

describe('time left', () => {
  test('is rounded up to its step', () => {
    expect(steadyLeft(null, 22)).toBe(25);
    expect(steadyLeft(null, 61)).toBe(70);
    expect(steadyLeft(null, 1000)).toBe(1020);
    expect(steadyLeft(null, 0)).toBe(0);
  });

  test('stays while estimates dance within a step, and counts down all the same', () => {
    expect([22, 26, 21.5, 24].reduce((shown, left) => steadyLeft(shown, left), 25)).toBe(25);
    expect(steadyLeft(25, 19.9)).toBe(20);
    expect(steadyLeft(5, 0)).toBe(0);
  });

  test('is told in minutes and seconds under ten minutes, in hours and minutes above an hour', () => {
    expect(workTexts.left(spokenTime(130))).toBe('about 2 min 10 s left');
    expect(workTexts.left(spokenTime(120))).toBe('about 2 min left');
    expect(workTexts.left(spokenTime(1020))).toBe('about 17 min left');
    expect(workTexts.left(spokenTime(4500))).toBe('about 1 h 15 min left');
    expect(workTexts.left(spokenTime(5))).toBe('a few seconds left');
  });
});

describe('sizes and rates', () => {
  test('have three figures and the unit that fits', () => {
    expect(sizeWords(0)).toBe('0 B');
    expect(sizeWords(999)).toBe('999 B');
    expect(sizeWords(999_600)).toBe('1.00 MB');
    expect(sizeWords(1_240_000_000)).toBe('1.24 GB');
    expect(sizeWords(52_345_678)).toBe('52.3 MB');
    expect(sizeWords(345_678_901)).toBe('346 MB');
  });

  test('come from the exact fraction', () => {
    expect(rateWords('24000/1001')).toBe('23.976');
    expect(rateWords('25')).toBe('25');
    expect(rateWords('60000/1001')).toBe('59.94');
  });
});
