import { describe, expect, it } from 'vitest';
import { edgeShare, ROW_BANDS, timeShifter } from '../../src/motion/rolling-shutter/row-motion.js';
import { rowChanges, type AngularVibration } from '../../src/stabilise/index.js';
import { expectWithin } from '../support/expect-within.js';

const RATE_HZ = 25;
const READOUT_S = 0.016;
const ROUNDING = { abs: 1e-14, why: 'double rounding' };

function path(n: number, angle: (timeS: number) => number): AngularVibration {
  const column = (factor: number) => Float64Array.from({ length: n }, (_, t) => factor * angle(t / RATE_HZ));
  return { pan: column(1), tilt: column(-2), roll: column(0.5) };
}

describe('the turn within a frame', () => {
  it('of a steady pan runs from minus to plus half of what the pan does during the readout', () => {
    const rateRadPerS = 0.3;
    const { knots, pan, tilt, roll } = rowChanges(
      path(20, (s) => rateRadPerS * s),
      RATE_HZ,
      READOUT_S,
      5,
    );
    expect(knots).toBe(5);
    for (let t = 0; t < 20; t++) {
      [-0.5, -0.25, 0, 0.25, 0.5].forEach((share, k) => {
        const change = rateRadPerS * share * READOUT_S;
        expectWithin(pan[5 * t + k], change, ROUNDING);
        expectWithin(tilt[5 * t + k], -2 * change, ROUNDING);
        expectWithin(roll[5 * t + k], 0.5 * change, ROUNDING);
      });
    }
  });

  it('is what a vibration does between the frames, and nothing at the middle row', () => {
    const angle = (s: number) => 0.002 * Math.sin(2 * Math.PI * 8 * s + 0.3);
    const { knots, pan } = rowChanges(path(300, angle), RATE_HZ, READOUT_S);
    expect(knots).toBe(9);
    for (let t = 80; t < 220; t += 3) {
      for (let k = 0; k < 9; k++) {
        const tauS = READOUT_S * (k / 8 - 0.5);
        expectWithin(pan[9 * t + k], angle(t / RATE_HZ + tauS) - angle(t / RATE_HZ), {
          abs: 0.01 * 0.002,
          why: 'odd continuation at the ends',
        });
      }
      expect(Math.abs(pan[9 * t + 4])).toBe(0);
    }
  });

  it('takes the same row as its reference, and the same direction of readout, as the split of the motion', () => {
    const series = path(200, (s) => 0.001 * Math.sin(2 * Math.PI * 5 * s));
    const { pan } = rowChanges(series, RATE_HZ, READOUT_S, ROW_BANDS + 1);
    const shift = timeShifter(series.pan);
    for (let k = 0; k <= ROW_BANDS; k++) {
      const change = shift(edgeShare(k) * READOUT_S * RATE_HZ);
      for (let t = 0; t < 200; t++) {
        // The two rooms fade out near half of the frame rate, each in its own way; 5 Hz is far below.
        expectWithin(pan[(ROW_BANDS + 1) * t + k], change[t], { abs: 1e-6, why: '1e-3 of the vibration' });
      }
    }
  });

  it('is nothing for a sensor that reads all rows at once, and defined for the shortest clips', () => {
    expect(rowChanges(path(10, Math.sin), RATE_HZ, 0).pan.every((v) => v === 0)).toBe(true);
    expect(rowChanges(path(0, Math.sin), RATE_HZ, READOUT_S).pan.length).toBe(0);
    expect(rowChanges(path(1, Math.cos), RATE_HZ, READOUT_S).pan).toEqual(new Float64Array(9));
  });

  it('refuses fewer than two rows and a readout that is no time', () => {
    for (const knots of [1, 2.5, NaN])
      expect(() => rowChanges(path(3, Math.sin), RATE_HZ, READOUT_S, knots)).toThrow(/knots/);
    for (const readoutS of [-0.01, NaN, Infinity])
      expect(() => rowChanges(path(3, Math.sin), RATE_HZ, readoutS)).toThrow(/readoutS/);
  });

  it('leaves the path as it was', () => {
    const given = path(30, Math.sin);
    rowChanges(given, RATE_HZ, READOUT_S);
    expect(given).toEqual(path(30, Math.sin));
  });
});
