/** What is left by translation, foretold and seen: points of known depth, projected exactly, corrected, compared one by one. */
import { describe, expect, it } from 'vitest';
import {
  fourthDifferenceSmooth,
  gaussianRandom,
  mean,
  seededRandom,
  standardDeviation,
} from '../../src/numerics/index.js';
import { rotationFromAngles, type Camera } from '../../src/optics/index.js';
import type { Axis, SixAxes } from '../../src/run/index.js';
import { correctionHomographies, residualOf } from '../../src/stabilise/index.js';
import type { AngularVibration } from '../../src/stabilise/types.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { expectWithin } from '../support/expect-within.js';
import { madeMotion, unitShake } from './support/made-motion.js';
import { residualInput } from './support/residual-case.js';

const POINTS = 150;
const THREE_PERCENT = {
  rel: 0.03,
  why: 'wanted; of first order the motion field is good to rho d, up to a per cent here, 150 points to another',
};

interface Scene {
  readonly camera: Camera;
  /** 1/m, one per point. */
  readonly rho: readonly number[];
}

/** Inverse depths spread evenly from far to near, in no order. */
function depths(farM: number, nearM: number): number[] {
  return Array.from({ length: POINTS }, (_, i) => 1 / farM + (1 / nearM - 1 / farM) * ((i + 0.5) / POINTS));
}

/** Where every point of a scene is seen after the correction, px from the middle; high-passed, RMS over points and frames. */
function seenRms({ camera, rho }: Scene, path: SixAxes, taken: AngularVibration, trim: number): number {
  const warps = correctionHomographies(taken, camera);
  const n = path.pan.length;
  let sum = 0;
  for (const [i, inverseDepth] of rho.entries()) {
    // Evenly over picture and depths: additive recurrence on the plastic number (Roberts 2018), against i for the depths.
    const ray = [
      ((((i + 1) * 0.7548776662) % 1) - 0.5) * (camera.widthPx / camera.focalPx),
      ((((i + 1) * 0.5698402909) % 1) - 0.5) * (camera.heightPx / camera.focalPx),
      1,
    ];
    const x = new Float64Array(n);
    const y = new Float64Array(n);
    for (let t = 0; t < n; t++) {
      const fromCamera = [
        ray[0] / inverseDepth - path.lateral[t],
        ray[1] / inverseDepth + path.vertical[t],
        1 / inverseDepth - path.axial[t],
      ];
      const at = times(rotationFromAngles(path.pan[t], path.tilt[t], path.roll[t]), fromCamera);
      const px = [
        camera.centreXPx + (camera.focalPx * at[0]) / at[2],
        camera.centreYPx + (camera.focalPx * at[1]) / at[2],
        1,
      ];
      const corrected = times(warps.subarray(9 * t, 9 * t + 9), px);
      x[t] = corrected[0] / corrected[2];
      y[t] = corrected[1] / corrected[2];
    }
    for (const column of [x, y]) {
      const slow = fourthDifferenceSmooth(column, 25, 0.8);
      for (let t = trim; t < n - trim; t++) sum += (column[t] - slow[t]) ** 2;
    }
  }
  return Math.sqrt(sum / (rho.length * (n - 2 * trim)));
}

function times(r: Float64Array, p: readonly number[]): number[] {
  return [0, 3, 6].map((row) => r[row] * p[0] + r[row + 1] * p[1] + r[row + 2] * p[2]);
}

type Shake = Partial<Record<Axis, (s: number) => number>>;

const NORMAL = { camera: plainCamera(960, 540, 933), rho: depths(12, 2) };
const LONG = { camera: plainCamera(960, 540, 3000), rho: depths(12, 2) };
const NEAR = { camera: plainCamera(960, 540, 933), rho: depths(3, 0.6) };
const WIDE = { camera: plainCamera(960, 540, 480), rho: depths(8, 1) };
const PORTRAIT = { camera: plainCamera(540, 960, 933), rho: depths(8, 1.5) };

const sideways: Shake = { lateral: (s) => 2e-3 * unitShake(1)(s) };
const upDown: Shake = { vertical: (s) => 2e-3 * unitShake(2)(s) };
const alongLens: Shake = { axial: (s) => 6e-3 * unitShake(3)(s) };
const everything: Shake = {
  lateral: (s) => 1e-3 * unitShake(1)(s),
  vertical: (s) => 2e-3 * unitShake(2)(s),
  axial: (s) => 4e-3 * unitShake(3)(s),
  pan: (s) => 1e-3 * unitShake(4)(s),
  tilt: (s) => 2e-3 * unitShake(5)(s),
  roll: (s) => 1e-3 * unitShake(6)(s),
};

describe('translation left, against points that are projected and corrected', () => {
  it.each<[string, Scene, Shake]>([
    ['a sideways shake', NORMAL, sideways],
    ['a vertical shake', NORMAL, upDown],
    ['a shake along the lens', NORMAL, alongLens],
    ['all axes at once', NORMAL, everything],
    ['a sideways shake close to things', NEAR, sideways],
    ['a shake along the lens close to things', NEAR, alongLens],
    ['all axes at once on a wide lens', WIDE, everything],
    ['a shake along a wide lens', WIDE, alongLens],
    ['all axes at once in a tall picture', PORTRAIT, everything],
  ])('is foretold for %s', (_, scene, path) => {
    const motion = madeMotion({
      path,
      depth: { median: 3, meanInverse: mean(scene.rho), sdInverse: standardDeviation(scene.rho) },
    });
    const { camera } = scene;
    const delivery = { widthPx: camera.widthPx, heightPx: camera.heightPx, viewingDistanceHeights: 3.1 };
    const left = residualOf(residualInput(motion, { camera, delivery }));
    const seen = seenRms(scene, motion.path, motion.vibration, motion.trimFrames);
    expectWithin(left.causes.translation?.rmsPx ?? NaN, seen, THREE_PERCENT);
    expectWithin(left.total?.rmsPx ?? NaN, seen, THREE_PERCENT);
  });

  it('counts as parallax what a shift of the whole picture leaves', () => {
    const motion = madeMotion({
      path: sideways,
      depth: { median: 3, meanInverse: mean(LONG.rho), sdInverse: standardDeviation(LONG.rho) },
    });
    const left = residualOf(residualInput(motion, { camera: LONG.camera }));
    // On a long lens a small pan is a shift.
    const shift = { ...motion.vibration, pan: motion.vibration.lateral.map((v) => v * mean(LONG.rho)) };
    const seen = seenRms(LONG, motion.path, shift, motion.trimFrames);
    expectWithin(left.causes.parallax?.rmsPx ?? NaN, seen, THREE_PERCENT);
  });
});

describe('shake in the target path, against a picture that is projected and corrected', () => {
  const FAR = { camera: plainCamera(960, 540, 600), rho: Array.from({ length: 60 }, () => 1e-6) };
  const shaken = madeMotion({
    path: {
      pan: (s) => 1e-3 * unitShake(1)(s),
      tilt: (s) => 2e-3 * unitShake(2)(s),
      roll: (s) => 1e-3 * unitShake(3)(s),
    },
  });
  const follow = (cutoffHz: number, motion = shaken): AngularVibration => {
    const above = (axis: 'pan' | 'tilt' | 'roll') => {
      const target = fourthDifferenceSmooth(motion.path[axis], 25, cutoffHz);
      return motion.path[axis].map((v, t) => v - target[t]);
    };
    return { pan: above('pan'), tilt: above('tilt'), roll: above('roll') };
  };

  it.each([2.5, 4, 6])('is foretold for a path that follows the shake up to %d Hz', (cutoffHz) => {
    const taken = follow(cutoffHz);
    const left = residualOf(residualInput(shaken, { camera: FAR.camera, correctionsVibration: taken }));
    const seen = seenRms(FAR, shaken.path, taken, shaken.trimFrames);
    expect(seen).toBeGreaterThan(0.3);
    expectWithin(left.causes.path.rmsPx, seen, THREE_PERCENT);
    expectWithin(left.total?.rmsPx ?? NaN, seen, THREE_PERCENT);
  });

  it('is told apart from the noise of the angles', () => {
    const sd = 5e-4;
    const gaussian = gaussianRandom(seededRandom(21));
    const noisy = madeMotion({
      path: { pan: (s) => 1e-3 * unitShake(1)(s) + sd * gaussian() },
      noiseSd: { pan: sd },
      durationS: 40,
    });
    const clean = madeMotion({ path: { pan: (s) => 1e-3 * unitShake(1)(s) }, durationS: 40 });
    for (const cutoffHz of [0.8, 4]) {
      const taken = follow(cutoffHz, noisy);
      const left = residualOf(residualInput(noisy, { camera: FAR.camera, correctionsVibration: taken }));
      // The true camera, corrected by what was measured: everything that is wrong in the picture.
      const seen = seenRms(FAR, clean.path, taken, noisy.trimFrames);
      expectWithin(left.total?.rmsPx ?? NaN, seen, { rel: 0.06, why: 'sampling of 1000 noisy frames' });
      const cleanLeft = residualOf(
        residualInput(clean, { camera: FAR.camera, correctionsVibration: follow(cutoffHz, clean) }),
      );
      expectWithin(left.causes.path.rmsPx, cleanLeft.causes.path.rmsPx, {
        rel: 0.08,
        why: 'sampling of 1000 noisy frames',
      });
    }
  });
});
