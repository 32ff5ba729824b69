import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import { rotationFromAngles } from '../../src/optics/index.js';
import { residualOf } from '../../src/stabilise/residual.js';
import { smoothingOf, vibrationAt } from '../../src/stabilise/vibration-at.js';
import type { Motion } from '../../src/motion/index.js';
import { expectWithin } from '../support/expect-within.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { ROOM_DEPTH, madeMotion, unitShake, type MadeMotion } from './support/made-motion.js';

const camera = plainCamera(960, 540, 933);
const shutter = { exposureS: 0.02, readoutS: null };
const SPLIT = { rel: 0.02, why: 'the 0.8 Hz split takes a per cent of the slowest sine' };

function residual(
  made: MadeMotion,
  times: { exposureS: number; readoutS: number | null } = shutter,
  pxScale = 1,
) {
  const motion = madeMotion(made);
  return residualOf(motion, vibrationAt(motion, smoothingOf(motion)), camera, pxScale, times);
}

describe('what is left of a translation', () => {
  it('is focal length times inverse depth times the move, near and far', () => {
    const left = residual({ path: { lateral: (s) => 1e-3 * unitShake(1)(s) } });
    expect(left.status).toBe('value');
    expectWithin(left.rmsPx ?? NaN, 933 * 1e-3 * Math.hypot(1 / 3, 0.12), SPLIT, 'rmsPx');
    expectWithin(left.parallaxPx ?? NaN, 933 * 1e-3 * 0.12, SPLIT, 'parallaxPx');
    expect(left.p95Px ?? NaN).toBeGreaterThan(1.5 * (left.rmsPx ?? NaN));
    expect(left.p95Px ?? NaN).toBeLessThan(2.5 * (left.rmsPx ?? NaN));
  });

  it('agrees with points of a scene that are projected, corrected and compared one by one', () => {
    const random = seededRandom(3);
    const rho = Array.from(
      { length: 400 },
      (_, i) => ROOM_DEPTH.meanInverse + 0.12 * Math.sqrt(12) * ((i + 0.5) / 400 - 0.5),
    );
    const made = madeMotion({
      path: {
        pan: (s) => 5e-4 * unitShake(4)(s),
        lateral: (s) => 4e-4 * unitShake(1)(s),
        vertical: (s) => 8e-4 * unitShake(2)(s),
        axial: (s) => 2e-3 * unitShake(3)(s),
      },
    });
    let sum = 0;
    let count = 0;
    for (let t = made.trimFrames; t < made.timeS.length - made.trimFrames; t++) {
      const { pan, lateral, vertical, axial } = made.vibration;
      const shaken = rotationFromAngles(pan[t], 0, 0);
      const back = rotationFromAngles(-pan[t], 0, 0);
      for (const inverseDepth of rho) {
        const ray = [((random() - 0.5) * 960) / 933, ((random() - 0.5) * 540) / 933, 1];
        const moved = [
          ray[0] - inverseDepth * lateral[t],
          ray[1] + inverseDepth * vertical[t],
          1 - inverseDepth * axial[t],
        ];
        const seen = turn(back, turn(shaken, moved));
        sum += (933 * (seen[0] / seen[2] - ray[0])) ** 2 + (933 * (seen[1] / seen[2] - ray[1])) ** 2;
        count++;
      }
    }
    const foretold = residualOf(made, vibrationAt(made, smoothingOf(made)), camera, 1, shutter).rmsPx ?? NaN;
    expectWithin(foretold, Math.sqrt(sum / count), { rel: 0.01, why: '90 000 points, rays drawn at random' });
  });

  it('does not count noise as shake', () => {
    const gaussian = gaussianRandom(seededRandom(11));
    const shake = unitShake(1);
    const noisy = residual({
      path: { lateral: (s) => 3e-4 * shake(s) + 3e-4 * gaussian() },
      noiseSd: { lateral: 3e-4 },
      durationS: 40,
    });
    const clean = residual({ path: { lateral: (s) => 3e-4 * shake(s) }, durationS: 40 });
    expectWithin(noisy.rmsPx ?? NaN, clean.rmsPx ?? NaN, { rel: 0.12, why: 'sampling of 1000 noisy frames' });
  });

  it('is an upper bound when every axis lies below the noise', () => {
    const below = { lateral: 'below', vertical: 'below', axial: 'below' } as const;
    const left = residual({ status: below, noiseSd: { lateral: 1e-4, vertical: 1e-4 } });
    expect(left.status).toBe('atMost');
    expect(left.p95Px).toBeNull();
    // Bound of the made record: twice the floor on both axes; the band keeps 0.936 of white noise.
    const bound = 2 * 1e-4 * Math.sqrt(0.936) * Math.SQRT2;
    expectWithin(left.rmsPx ?? NaN, 933 * Math.hypot(1 / 3, 0.12) * bound, { rel: 1e-9, why: 'closed form' });
  });

  it.each([
    ['the clip has no parallax', { depth: null }],
    ['one axis cannot be told', { status: { lateral: 'notObservable' } as const }],
  ])('is unknown, not zero, when %s', (_, made: MadeMotion) => {
    const left = residual(made);
    expect(left).toMatchObject({ status: 'notObservable', rmsPx: null, p95Px: null, parallaxPx: null });
    expect(left.blurPx).toBe(0);
  });

  it('grows with the zoom that enlarges it', () => {
    const made = { path: { vertical: (s: number) => 1e-3 * unitShake(2)(s) } };
    expectWithin(residual(made, shutter, 2.5).rmsPx ?? NaN, 2.5 * (residual(made).rmsPx ?? NaN), {
      rel: 1e-12,
      why: 'rounding',
    });
  });
});

describe('what is left of a sensor read row by row', () => {
  const FREQ_HZ = 5;
  const amplitude = 2e-3;
  const pan = { path: { pan: (s: number) => amplitude * Math.sin(2 * Math.PI * FREQ_HZ * s) } };

  it('is the change of the angle between mid-frame and each row', () => {
    const readoutS = 0.02;
    let sum = 0;
    const rows = 1000;
    for (let i = 0; i < rows; i++) {
      const s = readoutS * ((i + 0.5) / rows - 0.5);
      sum += (2 * amplitude * Math.sin(Math.PI * FREQ_HZ * s)) ** 2 / 2;
    }
    const left = residual(pan, { exposureS: 0.02, readoutS });
    expectWithin(left.readoutPx ?? NaN, 933 * Math.sqrt(sum / rows), {
      rel: 0.02,
      why: 'eight bands of rows',
    });
    expectWithin(left.rmsPx ?? NaN, left.readoutPx ?? NaN, {
      rel: 1e-12,
      why: 'no translation in this clip',
    });
  });

  it('is nothing when all rows are read at once, and unknown when nobody said', () => {
    expect(residual(pan, { exposureS: 0.02, readoutS: 0 }).readoutPx).toBe(0);
    expect(residual(pan).readoutPx).toBeNull();
  });
});

describe('the pulse of motion blur', () => {
  const FREQ_HZ = 4;
  const shake = (s: number): number => 1e-3 * Math.sin(2 * Math.PI * FREQ_HZ * s + 0.2);

  it('swings from nothing to the longest smear of a sine', () => {
    const left = residual({ path: { tilt: shake }, durationS: 20 });
    const longest = 2 * 1e-3 * Math.sin(Math.PI * FREQ_HZ * 0.02) * 933;
    expectWithin(left.blurPx ?? NaN, longest, { rel: 0.05, why: 'frames seldom fall on the very extremes' });
  });

  it('does not come from a steady pan, whose blur never changes', () => {
    expect(residual({ path: { pan: (s) => 0.05 * s } }).blurPx ?? NaN).toBeLessThan(1e-6);
  });

  it('is nothing at the shortest shutter, and the longer the larger', () => {
    const at = (exposureS: number) =>
      residual({ path: { tilt: shake } }, { exposureS, readoutS: null }).blurPx ?? NaN;
    expect(at(0)).toBe(0);
    expect(at(0.02)).toBeGreaterThan(1.8 * at(0.01));
  });

  it('is not made of tracking noise', () => {
    const gaussian = gaussianRandom(seededRandom(2));
    const left = residual({
      path: { pan: () => 1e-5 * gaussian() },
      noiseSd: { pan: 1.2e-5 },
      durationS: 20,
    });
    // What is left is the part of the noise that counts as intended move.
    expect(left.blurPx).toBeLessThan(1e-3);
  });
});

function turn(r: Float64Array, p: readonly number[]): number[] {
  return [0, 3, 6].map((row) => r[row] * p[0] + r[row + 1] * p[1] + r[row + 2] * p[2]);
}

describe('the vibration of another smoothing', () => {
  it('is the motion itself at its own cut-off', () => {
    const motion: Motion = madeMotion({ path: { pan: unitShake(1) } });
    const band = vibrationAt(motion, 1.25);
    expect(band.series).toBe(motion.vibration);
    expect(band.rms.pan).toBe(motion.axes.pan.rms);
  });

  it('is smaller when the intended move is allowed to be quicker', () => {
    const motion = madeMotion({ path: { pan: (s) => Math.sin(2 * Math.PI * 1.5 * s) } });
    expect(vibrationAt(motion, 0.4).rms.pan).toBeLessThan(0.05);
    expect(vibrationAt(motion, 2).rms.pan).toBeGreaterThan(0.65);
  });
});
