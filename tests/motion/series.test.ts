import { describe, expect, it } from 'vitest';
import { poseSeries, vibrationOf } from '../../src/motion/index.js';
import { rotationVector } from '../../src/motion/rotation-steps.js';
import { rotationFromAngles, rotationFromVector } from '../../src/optics/index.js';
import { AXES, sixAxes, type Axis } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { simulatePass } from './support/simulated-tracks.js';

const ROUNDING = { abs: 1e-12, why: 'double rounding' };

/** Poses of a camera whose six numbers are given; axes are those of the first frame (small turns). */
function poses(frames: readonly Partial<Record<Axis, number>>[]) {
  const rotations = new Float64Array(9 * frames.length);
  const centres = new Float64Array(3 * frames.length);
  frames.forEach((f, t) => {
    rotations.set(rotationFromAngles(f.pan ?? 0, f.tilt ?? 0, f.roll ?? 0), 9 * t);
    centres.set([f.lateral ?? 0, -(f.vertical ?? 0), f.axial ?? 0], 3 * t);
  });
  return { rotations, centres };
}

describe('pose series', () => {
  it.each(AXES)('count %s with the sign of the operator and nothing else', (axis) => {
    const { rotations, centres } = poses([{}, { [axis]: 0.01 }, { [axis]: -0.02 }]);
    const series = poseSeries(rotations, centres);
    for (const other of AXES) {
      const expected = other === axis ? [0, 0.01, -0.02] : [0, 0, 0];
      expected.forEach((v, t) => expectWithin(series[other][t], v, ROUNDING, `${other} at ${t}`));
    }
  });

  it('agree with the rotation of optics: pan right turns the lens towards +x, tilt up towards -y', () => {
    // World direction of the lens is the third row of the rotation.
    const panned = rotationFromAngles(0.1, 0, 0);
    const tilted = rotationFromAngles(0, 0.1, 0);
    expect(panned[6]).toBeGreaterThan(0.09);
    expect(tilted[7]).toBeLessThan(-0.09);
  });

  it('do not depend on where the axes of the world lie', () => {
    const { rotations, centres } = simulatePass({ durationS: 1, move: 'arc' });
    const q = rotationFromVector(0.4, -1.1, 0.7);
    const turned = rotations.slice();
    const moved = centres.slice();
    for (let t = 0; 3 * t < centres.length; t++) {
      for (let r = 0; r < 3; r++) {
        for (let c = 0; c < 3; c++) {
          let sum = 0;
          for (let k = 0; k < 3; k++) sum += rotations[9 * t + 3 * r + k] * q[3 * c + k];
          turned[9 * t + 3 * r + c] = sum;
        }
        moved[3 * t + r] = 5 * (r + 1);
        for (let k = 0; k < 3; k++) moved[3 * t + r] += q[3 * r + k] * centres[3 * t + k];
      }
    }
    const before = poseSeries(rotations, centres);
    const after = poseSeries(turned, moved);
    for (const axis of AXES) {
      before[axis].forEach((v, t) => expectWithin(after[axis][t], v, { abs: 1e-11, why: 'rounding' }, axis));
    }
  });

  it('measure travel on a circle along the lens when the lens looks along it', () => {
    // A quarter circle of radius 2, camera looking along the path: axial = arc length, pan = 90 degrees.
    const n = 400;
    const rotations = new Float64Array(9 * n);
    const centres = new Float64Array(3 * n);
    for (let t = 0; t < n; t++) {
      const a = ((Math.PI / 2) * t) / (n - 1);
      rotations.set(rotationFromAngles(a, 0, 0), 9 * t);
      centres.set([2 * (1 - Math.cos(a)), 0, 2 * Math.sin(a)], 3 * t);
    }
    const { axial, lateral, pan } = poseSeries(rotations, centres);
    expectWithin(pan[n - 1], Math.PI / 2, { abs: 1e-9, why: 'double rounding over 400 steps' });
    expectWithin(axial[n - 1], Math.PI, { rel: 1e-5, why: 'chords of 400 steps' });
    expectWithin(lateral[n - 1], 0, {
      abs: 1e-9,
      why: 'chords lie along the lens half-way through the turn',
    });
  });

  it('refuse rotations and centres of different frame counts', () => {
    expect(() => poseSeries(new Float64Array(18), new Float64Array(3))).toThrow(RangeError);
  });
});

describe('rotation vectors', () => {
  it('undo the exponential', () => {
    for (const w of [
      [0, 0, 0],
      [1e-7, -2e-7, 3e-8],
      [0.3, -1.2, 0.8],
      [0, 3.1, 0],
    ] as const) {
      const back = rotationVector(rotationFromVector(w[0], w[1], w[2]));
      w.forEach((v, j) =>
        expectWithin(back[j], v, { abs: 1e-9, why: 'near pi the sine keeps fewer digits' }),
      );
    }
  });
});

describe('intended move and vibration', () => {
  const rateHz = 30;
  const n = 300;
  const wave = (freqHz: number): Float64Array =>
    Float64Array.from({ length: n }, (_, t) => Math.sin((2 * Math.PI * freqHz * t) / rateHz));

  it('add up to the path on every axis', () => {
    const path = sixAxes(() => wave(0.3).map((v, t) => v + 0.1 * wave(5)[t]));
    const { intended, vibration } = vibrationOf(path, rateHz, 0.8);
    path.roll.forEach((v, t) => expectWithin(intended.roll[t] + vibration.roll[t], v, ROUNDING));
  });

  it('keep a 5 Hz shake in the vibration and a slow move in the intended part', () => {
    const slow = vibrationOf(
      sixAxes(() => wave(0.2)),
      rateHz,
      0.8,
    ).vibration.pan;
    const fast = vibrationOf(
      sixAxes(() => wave(5)),
      rateHz,
      0.8,
    ).vibration.pan;
    const middle = (x: Float64Array): Float64Array => x.subarray(30, n - 30);
    const size = (x: Float64Array): number =>
      Math.sqrt(middle(x).reduce((s, v) => s + v * v, 0) / middle(x).length);
    // Gain (f / fc)^8 = 1.5e-5 at 0.2 Hz, plus what the ends let through.
    expect(size(slow)).toBeLessThan(1e-3);
    expectWithin(size(fast), Math.SQRT1_2, { rel: 0.005, why: 'half periods at the cut ends' });
  });
});
