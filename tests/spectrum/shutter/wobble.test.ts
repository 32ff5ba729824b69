/** The bend of one frame against rows that are moved one by one. */
import { describe, expect, it } from 'vitest';
import { AXES, type Axis } from '../../../src/run/index.js';
import { wobblePx } from '../../../src/spectrum/shutter/wobble.js';
import { expectWithin } from '../../support/expect-within.js';

const PICTURE = { focalPx: 1600, widthPx: 960, readoutS: 0.018 };
const ROWS = 541;

/** Where a shake of one axis moves a point of the picture, px, for an angle in radians or a shift over distance. */
function moved(axis: Axis, amount: number, xPx: number, yPx: number): readonly [number, number] {
  const { focalPx } = PICTURE;
  switch (axis) {
    case 'pan':
    case 'lateral':
      return [-focalPx * amount, 0];
    case 'tilt':
    case 'vertical':
      return [0, focalPx * amount];
    case 'roll':
      return [yPx * amount, -xPx * amount];
    case 'axial':
      return [xPx * amount, yPx * amount];
  }
}

/** Largest difference of two rows along an upright line at the edge, in the direction that counts, over all phases. */
function bendByRows(axis: Axis, amplitude: number, trueHz: number): number {
  const upright = axis === 'tilt' || axis === 'vertical' || axis === 'roll' ? 1 : 0;
  let worst = 0;
  for (let p = 0; p < 180; p++) {
    let least = Infinity;
    let most = -Infinity;
    for (let row = 0; row < ROWS; row += 4) {
      const timeS = (row / (ROWS - 1)) * PICTURE.readoutS;
      const amount = amplitude * Math.sin(2 * Math.PI * trueHz * timeS + (2 * Math.PI * p) / 180);
      const shift = moved(axis, amount, PICTURE.widthPx / 2, row - (ROWS - 1) / 2)[upright];
      least = Math.min(least, shift);
      most = Math.max(most, shift);
    }
    worst = Math.max(worst, most - least);
  }
  return worst;
}

describe('the bend of one frame', () => {
  it.each(AXES)('is that of rows moved one by one, for %s', (axis) => {
    // Slow shake, shake beyond half the frame rate, and more than half a cycle within the readout.
    for (const trueHz of [3, 8, 20, 27, 60]) {
      expectWithin(wobblePx(axis, 0.002, trueHz, PICTURE), bendByRows(axis, 0.002, trueHz), {
        rel: 1e-3,
        why: 'phases 2 degrees apart',
      });
    }
  });

  it('grows with the focal length for turns and shifts of the lens, with the width for roll', () => {
    const longer = { ...PICTURE, focalPx: 2 * PICTURE.focalPx };
    expectWithin(wobblePx('pan', 0.001, 8, longer) / wobblePx('pan', 0.001, 8, PICTURE), 2, { rel: 1e-12 });
    expect(wobblePx('roll', 0.001, 8, longer)).toBe(wobblePx('roll', 0.001, 8, PICTURE));
  });

  it('is none for a sensor that is read at once', () => {
    for (const axis of AXES) expect(wobblePx(axis, 0.01, 30, { ...PICTURE, readoutS: 0 })).toBe(0);
  });
});
