/**
 * The Cramer-Rao bound of a simulated pass: the smallest RMS error that any unbiased measurement of the vibration can
 * have on its honest tracks, all poses and all points unknown, white noise; rad and m, in the order and band of the
 * measured series.
 *
 * Everything is computed from the true poses and points by derivatives of its own, so that it shares no code with what
 * it judges. With A the information matrix of all poses after the points are eliminated (Schur complement) and G the
 * high-pass that cuts off the ends, the bound of an axis is the root of the mean diagonal of G A^-1 G^T.
 */
import { fourthDifferenceSmooth } from '../../src/numerics/index.js';
import type { Axis } from '../../src/run/index.js';
import type { SimulatedPass } from '../motion/support/simulated-tracks.js';

/** The band and the noise that the bound is for. */
export interface BoundOptions {
  /** Noise per axis, px. */
  readonly noisePx: number;
  /** Share of the observations that are gross errors and tell nothing, 0..1. */
  readonly grossShare: number;
  readonly rateHz: number;
  readonly cutoffHz: number;
  readonly trimFrames: number;
}

/** Which of a frame's six numbers (turn, then displacement, camera axes x, y, z) each axis is. */
const PLACE: Readonly<Record<Axis, number>> = { pan: 1, tilt: 0, roll: 2, lateral: 3, vertical: 4, axial: 5 };

/** Information on the seven freedoms that no picture fixes, in units of the mean information: large leaves them out. */
const GAUGE_INFORMATION = 1e3;

/** The bound on every axis, rad or m RMS. */
export function cramerRaoBound(pass: SimulatedPass, options: BoundOptions): Record<Axis, number> {
  const frames = pass.table.frameCount;
  const size = 6 * frames;
  const matrix = poseInformation(pass, options);

  // Unit diagonal on average per kind of unknown, then the gauge directions pinned.
  const scale = new Float64Array(size);
  for (let k = 0; k < 6; k++) {
    let sum = 0;
    for (let t = 0; t < frames; t++) sum += matrix[(6 * t + k) * (size + 1)];
    for (let t = 0; t < frames; t++) scale[6 * t + k] = 1 / Math.sqrt(sum / frames);
  }
  const gauge = gaugeDirections(pass, scale);
  for (let r = 0; r < size; r++) {
    for (let c = 0; c <= r; c++) {
      const pinned = gauge.reduce((sum, n) => sum + n[r] * n[c], 0);
      matrix[r * size + c] = matrix[r * size + c] * scale[r] * scale[c] + GAUGE_INFORMATION * pinned;
    }
  }
  factorise(matrix, size);

  const passed = highPassRows(frames, options);
  const bound = (place: number): number => {
    let sum = 0;
    for (const row of passed) {
      // |L^-1 D g|^2 is the variance of the high-passed sample.
      const z = new Float64Array(size);
      for (let t = 0; t < frames; t++) z[6 * t + place] = row[t] * scale[6 * t + place];
      solveLower(matrix, size, z);
      sum += z.reduce((total, v) => total + v * v, 0);
    }
    return Math.sqrt(sum / passed.length);
  };
  return Object.fromEntries(Object.entries(PLACE).map(([axis, place]) => [axis, bound(place)])) as Record<
    Axis,
    number
  >;
}

/** Information on all poses with the points eliminated, lower half, row-major 6T x 6T. */
function poseInformation(pass: SimulatedPass, { noisePx, grossShare }: BoundOptions): Float64Array {
  const { table, camera, rotations, centres, pointsM, onSubject } = pass;
  const size = 6 * table.frameCount;
  const matrix = new Float64Array(size * size);
  const perSigma2 = (1 - grossShare) * (camera.focalPx / noisePx) ** 2;
  for (let i = 0; i < table.trackCount; i++) {
    if (onSubject[i]) continue;
    const seen = table.obsFrame.subarray(table.trackStart[i], table.trackStart[i + 1]);
    const blocks: { t: number; frame: number[][]; point: number[][] }[] = [];
    const v = [
      [0, 0, 0],
      [0, 0, 0],
      [0, 0, 0],
    ];
    for (const t of seen) {
      const r = rotations.subarray(9 * t, 9 * t + 9);
      const d = [0, 1, 2].map((j) => pointsM[3 * i + j] - centres[3 * t + j]);
      const [x, y, z] = [0, 3, 6].map((k) => r[k] * d[0] + r[k + 1] * d[1] + r[k + 2] * d[2]);
      // Rows of the projection's derivative by the point in camera axes.
      const rows = [
        [1 / z, 0, -x / (z * z)],
        [0, 1 / z, -y / (z * z)],
      ];
      const frame = rows.map((g) => [
        // A turn w moves the point by w x Y, a displacement of the camera by its negative.
        g[2] * y - g[1] * z,
        g[0] * z - g[2] * x,
        g[1] * x - g[0] * y,
        -g[0],
        -g[1],
        -g[2],
      ]);
      const point = rows.map((g) => [0, 1, 2].map((j) => g[0] * r[j] + g[1] * r[3 + j] + g[2] * r[6 + j]));
      blocks.push({ t, frame, point });
      for (let a = 0; a < 3; a++)
        for (let b = 0; b < 3; b++) v[a][b] += point[0][a] * point[0][b] + point[1][a] * point[1][b];
    }
    const inverse = invertWithRidge(v);
    const coupling = blocks.map(({ frame, point }) =>
      [0, 1, 2, 3, 4, 5].map((k) =>
        [0, 1, 2].map((j) => frame[0][k] * point[0][j] + frame[1][k] * point[1][j]),
      ),
    );
    const taken = coupling.map((e) =>
      e.map((row) =>
        [0, 1, 2].map((j) => row[0] * inverse[0][j] + row[1] * inverse[1][j] + row[2] * inverse[2][j]),
      ),
    );
    blocks.forEach(({ t, frame }, p) => {
      for (let q = 0; q <= p; q++) {
        const s = blocks[q].t;
        for (let k = 0; k < 6; k++) {
          for (let l = 0; l < 6; l++) {
            const e = coupling[q][l];
            let value = -(taken[p][k][0] * e[0] + taken[p][k][1] * e[1] + taken[p][k][2] * e[2]);
            if (p === q) value += frame[0][k] * frame[0][l] + frame[1][k] * frame[1][l];
            matrix[(6 * t + k) * size + 6 * s + l] += perSigma2 * value;
          }
        }
      }
    });
  }
  return matrix;
}

/** Turning, moving and scaling the whole world, as unit vectors over all poses in scaled unknowns. */
function gaugeDirections({ rotations, centres }: SimulatedPass, scale: Float64Array): Float64Array[] {
  const frames = scale.length / 6;
  const unit = [0, 1, 2].map((j) => [0, 1, 2].map((k) => (j === k ? 1 : 0)));
  const along = (wOf: (c: number[]) => [number[], number[]]): Float64Array => {
    const direction = new Float64Array(scale.length);
    for (let t = 0; t < frames; t++) {
      const [turn, move] = wOf([0, 1, 2].map((j) => centres[3 * t + j]));
      [turn, move].forEach((vector, part) => {
        for (let k = 0; k < 3; k++) {
          const seen = [0, 1, 2].reduce((sum, j) => sum + rotations[9 * t + 3 * k + j] * vector[j], 0);
          direction[6 * t + 3 * part + k] = seen / scale[6 * t + 3 * part + k];
        }
      });
    }
    return direction;
  };
  const cross = (a: number[], b: number[]): number[] => [
    a[1] * b[2] - a[2] * b[1],
    a[2] * b[0] - a[0] * b[2],
    a[0] * b[1] - a[1] * b[0],
  ];
  const all = [
    ...unit.map((e) => along((c) => [e.map((v) => -v), cross(e, c)])),
    ...unit.map((e) => along(() => [[0, 0, 0], e])),
    along((c) => [[0, 0, 0], c]),
  ];
  const directions: Float64Array[] = [];
  for (const vector of all) {
    for (const n of directions) {
      const common = vector.reduce((sum, v, k) => sum + v * n[k], 0);
      vector.forEach((v, k) => (vector[k] = v - common * n[k]));
    }
    const length = Math.sqrt(vector.reduce((sum, v) => sum + v * v, 0));
    directions.push(vector.map((v) => v / length));
  }
  return directions;
}

/** The high-pass as a matrix, without the rows of both ends. */
function highPassRows(frames: number, { rateHz, cutoffHz, trimFrames }: BoundOptions): Float64Array[] {
  const columns = Array.from({ length: frames }, (_, t) => {
    const impulse = new Float64Array(frames);
    impulse[t] = 1;
    const smooth = fourthDifferenceSmooth(impulse, rateHz, cutoffHz);
    return impulse.map((v, k) => v - smooth[k]);
  });
  return Array.from({ length: frames - 2 * trimFrames }, (_, k) =>
    Float64Array.from(columns, (column) => column[trimFrames + k]),
  );
}

/** Inverse of a symmetric 3x3 with a ridge far below any information: a track seen without a base has no depth. */
function invertWithRidge(v: readonly (readonly number[])[]): number[][] {
  const ridge = 1e-9 * (v[0][0] + v[1][1] + v[2][2]);
  const a = v.map((row, r) => row.map((value, c) => value + (r === c ? ridge : 0)));
  const minor = (r: number, c: number): number => {
    const [r1, r2] = [0, 1, 2].filter((k) => k !== r);
    const [c1, c2] = [0, 1, 2].filter((k) => k !== c);
    return ((r + c) % 2 === 0 ? 1 : -1) * (a[r1][c1] * a[r2][c2] - a[r1][c2] * a[r2][c1]);
  };
  const determinant = a[0][0] * minor(0, 0) + a[0][1] * minor(0, 1) + a[0][2] * minor(0, 2);
  return [0, 1, 2].map((r) => [0, 1, 2].map((c) => minor(c, r) / determinant));
}

/** Cholesky factor in place, lower half. */
function factorise(matrix: Float64Array, size: number): void {
  for (let r = 0; r < size; r++) {
    for (let c = 0; c <= r; c++) {
      let sum = matrix[r * size + c];
      for (let k = 0; k < c; k++) sum -= matrix[r * size + k] * matrix[c * size + k];
      if (r !== c) matrix[r * size + c] = sum / matrix[c * size + c];
      else if (sum > 0) matrix[r * size + r] = Math.sqrt(sum);
      else throw new Error('information matrix is not positive definite');
    }
  }
}

/** Solves L z = z in place. */
function solveLower(lower: Float64Array, size: number, z: Float64Array): void {
  for (let r = 0; r < size; r++) {
    let sum = z[r];
    for (let k = 0; k < r; k++) sum -= lower[r * size + k] * z[k];
    z[r] = sum / lower[r * size + r];
  }
}
