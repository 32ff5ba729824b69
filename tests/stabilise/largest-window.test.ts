import { describe, expect, it } from 'vitest';
import type { Borders } from '../../src/stabilise/crop/border-envelope.js';
import { largestWindow } from '../../src/stabilise/crop/largest-window.js';
import { expectWithin } from '../support/expect-within.js';

const TOLERANCE = 0.01;
const FOUND = { abs: TOLERANCE, why: 'tolerance of the search' };

/** Borders from corner lists, a quarter of the corners on each side. */
function borders(...outlines: (readonly (readonly [number, number])[])[]): Borders {
  const corners = outlines.flat();
  return {
    count: outlines.length,
    points: outlines.length > 0 ? outlines[0].length : 4,
    x: Float64Array.from(corners, ([x]) => x),
    y: Float64Array.from(corners, ([, y]) => y),
  };
}

const box = (left: number, top: number, right: number, bottom: number) =>
  [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ] as const;

describe('the largest window inside many borders', () => {
  it('fills what boxes have in common', () => {
    const window = largestWindow(borders(box(-100, -50, 60, 90), box(-40, -80, 120, 70)), 1000, TOLERANCE);
    expectWithin(window.halfWidth, 50, FOUND);
    expectWithin(window.x, 10, FOUND);
    expectWithin(window.y, 0, { abs: 10 + TOLERANCE, why: 'free between -0 and 20' });
    expectWithin(window.y, 0, FOUND, 'nearest to the origin');
  });

  it('meets the sides of a diamond with its corners', () => {
    // |x - 5| + |y| = 100 holds a square of half width 50 around (5, 0).
    const diamond = [
      [-95, 0],
      [5, -100],
      [105, 0],
      [5, 100],
    ] as const;
    const window = largestWindow(borders(diamond), 1000, TOLERANCE);
    expectWithin(window.halfWidth, 50, FOUND);
    expectWithin(window.x, 5, FOUND);
    expectWithin(window.y, 0, FOUND);
  });

  it('finds the larger half of an hourglass although it starts in the neck', () => {
    // Sides run from 100 off the axis at both ends to 20 at the neck, 10 above the origin. In the lower half a square with
    // its top at t has 20 + 80 (t + 10) / 110 beside its corners and ends at t + 2 a = 100.
    const hourglass = [
      [-100, -100],
      [0, -100],
      [100, -100],
      [20, -10],
      [100, 100],
      [0, 100],
      [-100, 100],
      [-20, -10],
    ] as const;
    const window = largestWindow(borders(hourglass), 1000, TOLERANCE);
    const halfWidth = 100 / (1 + 160 / 110);
    expectWithin(window.halfWidth, halfWidth, FOUND);
    expectWithin(window.x, 0, FOUND);
    expectWithin(window.y, 100 - halfWidth, { abs: 2 * TOLERANCE, why: 'tolerance of the search' });
  });

  it('is no larger than asked for, and stays on the origin where that is as good', () => {
    expect(largestWindow(borders(box(-100, -50, 60, 90)), 30, TOLERANCE)).toEqual({
      x: 0,
      y: 0,
      halfWidth: 30,
    });
    expect(largestWindow(borders(), 30, TOLERANCE)).toEqual({ x: 0, y: 0, halfWidth: 30 });
  });

  it('is nothing where the borders have nothing in common', () => {
    const apart = borders(box(-100, -50, -10, 50), box(10, -50, 100, 50));
    expect(largestWindow(apart, 1000, TOLERANCE)).toEqual({ x: 0, y: 0, halfWidth: 0 });
  });
});
