/** Scales of the running trace. */
import { expect, test } from 'vitest';
import { linePath, roundRange, roundTicks, scaleTo } from '../../../src/web/page/queue/trace-scale.js';

test('a range holds 0 and all values and ends on round steps', () => {
  expect(roundRange([0, 0.7, -0.12], 0.2)).toEqual([-0.5, 1]);
  expect(roundRange([3.1, 4.2], 0.2)).toEqual([0, 6]);
});

test('a range does not shrink onto noise', () => {
  expect(roundRange([0.001, -0.001], 0.2)).toEqual([-0.1, 0.1]);
  expect(roundRange([], 0.2)).toEqual([-0.1, 0.1]);
});

test('a range stays as it is while values grow within it', () => {
  expect(roundRange([0, 0.41], 0.2)).toEqual(roundRange([0, 0.59], 0.2));
});

test('ticks are round, within the range, and 0 is one of them', () => {
  expect(roundTicks([-0.5, 1], 3)).toEqual([-0.5, 0, 0.5, 1]);
  expect(roundTicks([0, 12], 6)).toEqual([0, 2, 4, 6, 8, 10, 12]);
});

test('a path runs through the samples that are drawn', () => {
  const x = scaleTo([0, 10], [0, 100]);
  const y = scaleTo([-1, 1], [50, 0]);
  expect(linePath([0, 5, 10], [0, 1, -1], [0, 1, 2], x, y)).toBe('M0.0 25.0L50.0 0.0L100.0 50.0');
  expect(linePath([], [], [], x, y)).toBe('');
});
