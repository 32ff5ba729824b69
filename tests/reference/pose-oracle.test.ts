/**
 * Turns from frame to frame against another estimator: solvePnP of OpenCV (4.12, iterative: Levenberg-Marquardt on the
 * reprojection error), which is given the true places of the points, while the split finds places and poses by itself.
 *
 * Source: OpenCV.js as published in the package @techstark/opencv-js; functions solvePnP and projectPoints.
 */
import { createRequire } from 'node:module';
import fs from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { splitMotion } from '../../src/motion/index.js';
import { invert6, rms } from '../../src/numerics/index.js';
import { multiply3, rotationFromVector, type Camera } from '../../src/optics/index.js';
import { rotationVector } from '../../src/motion/rotation-steps.js';
import { tracksOf, type PoseFixture, type PosePass } from '../support/pose-fixture.js';

interface Mat {
  readonly data64F: Float64Array;
  readonly cols: number;
  delete(): void;
}

interface PoseSolver {
  readonly CV_64F: number;
  readonly SOLVEPNP_ITERATIVE: number;
  readonly Mat: { new (): Mat };
  matFromArray(rows: number, cols: number, type: number, values: readonly number[]): Mat;
  solvePnP(
    points: Mat,
    pixels: Mat,
    cameraMatrix: Mat,
    distortion: Mat,
    turn: Mat,
    shift: Mat,
    useGuess: boolean,
    method: number,
  ): boolean;
  projectPoints(
    points: Mat,
    turn: Mat,
    shift: Mat,
    cameraMatrix: Mat,
    distortion: Mat,
    pixels: Mat,
    jacobian: Mat,
    aspectRatio: number,
  ): void;
}

/** Pose of one frame by solvePnP: rotation, and variances of the turn (camera axes x, y, z, rad^2). */
interface OraclePose {
  readonly rotation: Float64Array;
  readonly variance: readonly number[];
}

const fixture = JSON.parse(
  fs.readFileSync(path.join(import.meta.dirname, 'pose-tracks.json'), 'utf8'),
) as PoseFixture;

/** The module object is never awaited: its own `then` would not settle. It travels in a box. */
function startSolver(): Promise<{ readonly solver: PoseSolver }> {
  const require = createRequire(import.meta.url);
  const solver = require('@techstark/opencv-js') as PoseSolver & { onRuntimeInitialized?: () => void };
  return new Promise((resolve) => {
    if (typeof solver.Mat === 'function') resolve({ solver });
    else solver.onRuntimeInitialized = () => resolve({ solver });
  });
}

function solveFrame(cv: PoseSolver, pass: PosePass, camera: Camera, t: number): OraclePose {
  const places: number[] = [];
  const pixels: number[] = [];
  for (const { firstFrame, pointM, xPx, yPx } of pass.tracks) {
    const k = t - firstFrame;
    if (!pointM || k < 0 || k >= xPx.length) continue;
    places.push(...pointM);
    pixels.push(xPx[k], yPx[k]);
  }
  const count = pixels.length / 2;
  const mats: Mat[] = [];
  const column = (rows: number, cols: number, values: readonly number[]): Mat => {
    const mat = cv.matFromArray(rows, cols, cv.CV_64F, values);
    mats.push(mat);
    return mat;
  };
  const empty = (): Mat => {
    const mat = new cv.Mat();
    mats.push(mat);
    return mat;
  };
  try {
    const points = column(count, 3, places);
    const { focalPx, centreXPx, centreYPx } = camera;
    const matrix = column(3, 3, [focalPx, 0, centreXPx, 0, focalPx, centreYPx, 0, 0, 1]);
    const distortion = column(1, 4, [0, 0, 0, 0]);
    const turn = column(3, 1, [0, 0, 0]);
    const shift = column(3, 1, [0, 0, 0]);
    const found = cv.solvePnP(
      points,
      column(count, 2, pixels),
      matrix,
      distortion,
      turn,
      shift,
      false,
      cv.SOLVEPNP_ITERATIVE,
    );
    expect(found, `solvePnP at frame ${t}`).toBe(true);
    const projected = empty();
    const jacobian = empty();
    cv.projectPoints(points, turn, shift, matrix, distortion, projected, jacobian, 0);

    // Covariance of turn and shift: residual variance times (J^T J)^-1; the first six columns are theirs.
    const information = new Float64Array(36);
    let squares = 0;
    for (let row = 0; row < 2 * count; row++) {
      const at = row * jacobian.cols;
      squares += (pixels[row] - projected.data64F[row]) ** 2;
      for (let r = 0; r < 6; r++)
        for (let c = 0; c < 6; c++)
          information[6 * r + c] += jacobian.data64F[at + r] * jacobian.data64F[at + c];
    }
    const covariance = new Float64Array(36);
    expect(invert6(information, 0, covariance, 0)).toBe(true);
    const residual = squares / (2 * count - 6);
    const [x, y, z] = turn.data64F;
    return {
      rotation: rotationFromVector(x, y, z),
      // By the rotation vector rather than by a turn from there: the same to a twentieth for turns of a few degrees.
      variance: [0, 1, 2].map((k) => residual * covariance[7 * k]),
    };
  } finally {
    for (const mat of mats) mat.delete();
  }
}

describe('turns from frame to frame', () => {
  let cv: PoseSolver;
  beforeAll(async () => {
    cv = (await startSolver()).solver;
  });

  it.each(fixture.passes)('agree with solvePnP within the uncertainty of both: $name', (pass) => {
    const { table, camera } = tracksOf(fixture, pass);
    const motion = splitMotion(table, camera, { travelM: pass.travelM, interCoded: false });
    expect(motion.mode).toBe('full');
    const oracle = Array.from({ length: pass.frameCount }, (_, t) => solveFrame(cv, pass, camera, t));

    const oracleSteps = oracle.slice(1).map(({ rotation }, t) => {
      const before = oracle[t].rotation;
      const transposed = Float64Array.from(before, (_, k) => before[3 * (k % 3) + Math.floor(k / 3)]);
      const [wx, wy, wz] = rotationVector(multiply3(rotation, transposed));
      return { pan: -wy, tilt: -wx, roll: -wz };
    });
    for (const [axis, k] of [
      ['pan', 1],
      ['tilt', 0],
      ['roll', 2],
    ] as const) {
      const ours = motion.path[axis].subarray(1).map((v, t) => v - motion.path[axis][t]);
      const noise = ours.map((_, t) =>
        Math.hypot(
          motion.noiseSd[axis][t],
          motion.noiseSd[axis][t + 1],
          Math.sqrt(oracle[t].variance[k] + oracle[t + 1].variance[k]),
        ),
      );
      const apart = ours.map((v, t) => (v - oracleSteps[t][axis]) / noise[t]);
      // Both use the same noisy points, so what is left between them is smaller than two independent deviations: the
      // depths that the split had to find. Seen: 0.15 to 0.5, largest 0.9.
      expect(rms(apart), `${axis}: RMS of the difference in deviations`).toBeLessThan(0.7);
      expect(Math.max(...apart.map(Math.abs)), `${axis}: largest`).toBeLessThan(2);
      // The steps themselves are many deviations, so that agreement means something, sign and all.
      expect(rms(ours.map((v, t) => v / noise[t])), `${axis}: size of the steps`).toBeGreaterThan(10);
    }
  });
});
