/**
 * Cropping, distortion and stability as Liu, Yuan, Tan & Sun 2013 define them (ACM Transactions on Graphics 32(4)); the
 * definitions are from memory, the values below follow from them by hand.
 */
import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import { croppingRatio, distortionValue, stabilityScore, steadinessOf } from '../../src/stabilise/index.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { madeMotion, unitShake } from '../stabilise/support/made-motion.js';
import { expectWithin } from '../support/expect-within.js';

const ROUNDING = { abs: 1e-12, why: 'double rounding' };
const scaled = (x: number, y: number) => [x, 0, 5, 0, y, -3, 0, 0, 1];

describe('cropping ratio', () => {
  // Source: definition, mean over the frames of one over the scale.
  it('is 0.8 of the side and 0.64 of the area after a zoom of 1.25', () => {
    const { croppingLinear, croppingArea } = croppingRatio(Float64Array.from(scaled(1.25, 1.25)));
    expectWithin(croppingLinear, 0.8, ROUNDING);
    expectWithin(croppingArea, 0.64, ROUNDING);
  });

  it('is the mean over the frames, whatever the scale of a homography', () => {
    const twice = scaled(1.25, 1.25).map((v) => 2 * v);
    expectWithin(croppingRatio(Float64Array.from([...scaled(1, 1), ...twice])).croppingLinear, 0.9, ROUNDING);
  });
});

describe('distortion value', () => {
  // Source: definition, ratio of the eigenvalues of the affine part, least over the frames.
  it('is the ratio of unequal scales, in the frame where they differ most', () => {
    expectWithin(distortionValue(Float64Array.from(scaled(1.2, 0.9))), 0.75, ROUNDING);
    const frames = Float64Array.from([...scaled(1, 1), ...scaled(0.8, 1), ...scaled(1, 0.95)]);
    expectWithin(distortionValue(frames), 0.8, ROUNDING);
  });

  it('is 1 for a turn in the picture plane, and the eigenvalue ratio of a skew', () => {
    const [c, s] = [Math.cos(0.1), Math.sin(0.1)];
    expectWithin(distortionValue(Float64Array.of(c, -s, 0, s, c, 0, 0, 0, 1)), 1, ROUNDING);
    // Symmetric, eigenvalues 1.1 and 0.9.
    expectWithin(distortionValue(Float64Array.of(1, 0.1, 0, 0.1, 1, 0, 0, 0, 1)), 0.9 / 1.1, ROUNDING);
  });
});

describe('stability score', () => {
  const n = 240;
  const sine = (bin: number) =>
    Float64Array.from({ length: n }, (_, t) => 7 + 2 * Math.sin((2 * Math.PI * bin * t) / n + 0.3));

  // Source: definition, share of the energy in the 2nd to 6th lowest frequencies; the 1st is the mean and never counts.
  it('is 1 for one sine among them and 0 for one above', () => {
    expectWithin(stabilityScore([sine(3)]), 1, ROUNDING);
    expectWithin(stabilityScore([sine(1)]), 1, ROUNDING);
    expectWithin(stabilityScore([sine(5)]), 1, ROUNDING);
    expectWithin(stabilityScore([sine(6)]), 0, ROUNDING);
    expectWithin(stabilityScore([sine(3), sine(20)]), 0.5, ROUNDING);
  });

  it('is their share of the bins for a white path', () => {
    const gaussian = gaussianRandom(seededRandom(3));
    let sum = 0;
    for (let run = 0; run < 40; run++) sum += stabilityScore([Float64Array.from({ length: n }, gaussian)]);
    expectWithin(sum / 40, 5 / (n / 2), {
      rel: 0.25,
      why: '40 paths, 5 bins of 2 degrees of freedom each: 3 sigma of 7 %',
    });
  });

  it('is 1 for a path that stands still', () => {
    expect(stabilityScore([new Float64Array(50).fill(0.3)])).toBe(1);
  });
});

describe('figures of a clip', () => {
  const camera = plainCamera(960, 540, 933);
  const motion = madeMotion({
    path: {
      pan: (s) => 0.02 * Math.sin((2 * Math.PI * s) / 5) + 4e-3 * unitShake(1)(s),
      tilt: (s) => 4e-3 * unitShake(2)(s),
      roll: (s) => 4e-3 * Math.sin((2 * Math.PI * s) / 5) + 2e-3 * unitShake(3)(s),
    },
    depth: null,
  });

  it('are more stable after the vibration is taken out, at the crop of the zoom', () => {
    const { before, after } = steadinessOf({
      motion,
      correctionsVibration: motion.vibration,
      zoom: 1.25,
      camera,
    });
    expect(before).toMatchObject({ croppingLinear: 1, croppingArea: 1, distortion: 1 });
    expect(before.stability).toBeLessThan(0.85);
    expect(after.stability).toBeGreaterThan(0.98);
    expectWithin(after.croppingLinear, 0.8, {
      rel: 1e-4,
      why: 'small turns hardly scale the middle of the picture',
    });
    expect(after.distortion).toBeGreaterThan(0.99);
    expect(after.distortion).toBeLessThanOrEqual(1);
  });

  it('do not get better where the shake is translation', () => {
    const shaken = madeMotion({ path: { lateral: (s) => 2e-3 * unitShake(1)(s) } });
    const { before, after } = steadinessOf({
      motion: shaken,
      correctionsVibration: shaken.vibration,
      zoom: 1,
      camera,
    });
    expect(after.stability).toBe(before.stability);
    expect(before.stability).toBeLessThan(0.1);
  });
});
