import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { largestCentredHalfWidth } from '../../src/stabilise/index.js';
import { expectWithin } from '../support/expect-within.js';
import { evenly } from '../support/evenly.js';

const ROUNDING = { rel: 1e-12, why: 'double rounding' };
const square = { x: [-2, 2, 2, -2], y: [-2, -2, 2, 2] };

/** Plain reading of the definition: try points along the outline of the rectangle. */
function fits(x: readonly number[], y: readonly number[], halfWidth: number, shape: number): boolean {
  const steps = 400;
  for (let i = 0; i < steps; i++) {
    const s = -1 + (2 * i) / steps;
    const outline = [
      [s, -1],
      [s, 1],
      [-1, s],
      [1, s],
    ];
    for (const [u, v] of outline) if (!contains(x, y, u * halfWidth, v * halfWidth * shape)) return false;
  }
  return true;
}

function contains(x: readonly number[], y: readonly number[], px: number, py: number): boolean {
  let inside = false;
  for (let i = 0, j = x.length - 1; i < x.length; j = i++) {
    if (y[i] > py !== y[j] > py && px < ((x[j] - x[i]) * (py - y[i])) / (y[j] - y[i]) + x[i])
      inside = !inside;
  }
  return inside;
}

describe('the largest centred rectangle inside a polygon', () => {
  it('fills a square with its own shape and stops at the nearer side otherwise', () => {
    expect(largestCentredHalfWidth(square.x, square.y, 1)).toBe(2);
    expect(largestCentredHalfWidth(square.x, square.y, 0.5)).toBe(2);
    expect(largestCentredHalfWidth(square.x, square.y, 2)).toBe(1);
  });

  it('meets the side of a diamond with its corner', () => {
    // |x| + |y| = 1 with y = x / 2: x = 2/3.
    expectWithin(largestCentredHalfWidth([1, 0, -1, 0], [0, 1, 0, -1], 0.5), 2 / 3, ROUNDING);
  });

  it('is nothing when the centre lies outside', () => {
    const shifted = square.x.map((v) => v + 3);
    expect(largestCentredHalfWidth(shifted, square.y, 1)).toBe(0);
  });

  it('does not mind the sense in which the corners are listed', () => {
    const x = [1, 0.2, -1.3, -0.1];
    const y = [0.1, 1.2, -0.2, -0.9];
    expectWithin(
      largestCentredHalfWidth([...x].reverse(), [...y].reverse(), 0.7),
      largestCentredHalfWidth(x, y, 0.7),
      ROUNDING,
    );
  });

  it('fits, and a slightly larger one does not, for any star of points around the centre', () => {
    const radii = fc.array(evenly(0.5, 2), { minLength: 3, maxLength: 9 });
    fc.assert(
      fc.property(radii, evenly(0.3, 1.5), (radius, shape) => {
        const x = radius.map((r, i) => r * Math.cos((2 * Math.PI * (i + 0.3)) / radius.length));
        const y = radius.map((r, i) => r * Math.sin((2 * Math.PI * (i + 0.3)) / radius.length));
        const halfWidth = largestCentredHalfWidth(x, y, shape);
        expect(fits(x, y, halfWidth * (1 - 1e-9), shape)).toBe(true);
        // 400 points a side see an intrusion of any corner deeper than 1 % of the rectangle.
        expect(fits(x, y, halfWidth * 1.02, shape)).toBe(false);
      }),
      { seed: 207 },
    );
  });
});
