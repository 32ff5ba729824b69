/**
 * How much of the picture's vibration energy one warp per frame can remove: energy of the image motion by pan, tilt
 * and roll against that by translation, each freed of noise; 0..1.
 *
 * Image motion is averaged over a 5 x 3 grid of the frame. For the angles its mean square is w^T M w with M the grid
 * mean of J^T J; for translation the same with inverse depth q, whose mean square is mean^2 + sd^2 of the scene.
 */
import { AXIS_SIGN, AXIS_SOURCE } from './axis-noise.js';
import { meanSquareSd } from './estimate.js';
import { frameJacobian } from './projection.js';
import { normalisePoints, type Camera } from '../optics/index.js';
import { AXES, type SixAxes } from '../run/index.js';

/** A share and its 95 % interval; null where nothing can be said. */
export interface AngularShare {
  readonly value: number | null;
  readonly ci95: readonly [number, number] | null;
}

const COLUMNS = 5;
const ROWS = 3;

/** Energy of the image motion, normalised units squared: freed of noise, and its standard deviation. */
interface ImageEnergy {
  readonly value: number;
  readonly sd: number;
}

/**
 * The share of a clip whose translation is observable. The interval is a delta method on the two energies, which
 * are taken as independent; it holds the noise of this clip, not how another pass would differ.
 *
 * @param vibration ends cut off, length n
 * @param noise covariances of the axes after the high-pass, 6x6 in the order of AXES: plain is taken off, wide widens
 */
export function angularShare(
  vibration: SixAxes,
  noise: { readonly plain: Float64Array; readonly wide: Float64Array },
  camera: Camera,
  meanSquareInverseDepth: number,
  independent: number,
): AngularShare {
  const metric = imageMetric(camera, meanSquareInverseDepth);
  const angular = energy(vibration, noise, metric, 0, independent);
  const translational = energy(vibration, noise, metric, 3, independent);
  const a = Math.max(0, angular.value);
  const b = Math.max(0, translational.value);
  const total = a + b;
  if (!(total > 2 * Math.hypot(angular.sd, translational.sd))) return { value: null, ci95: null };
  const value = a / total;
  const sd = Math.hypot(b * angular.sd, a * translational.sd) / (total * total);
  return { value, ci95: [Math.max(0, value - 1.96 * sd), Math.min(1, value + 1.96 * sd)] };
}

/**
 * The share of a clip that a rotation explains: what rotation leaves over is at most the residual itself.
 *
 * @param residualVariance robust variance per image axis of what rotation leaves over, normalised
 */
export function angularShareOfRotation(
  vibration: SixAxes,
  noise: { readonly plain: Float64Array; readonly wide: Float64Array },
  camera: Camera,
  residualVariance: number,
  independent: number,
): AngularShare {
  const { value, sd } = energy(vibration, noise, imageMetric(camera, 0), 0, independent);
  if (!(value > 2 * sd)) return { value: null, ci95: null };
  return { value: 1, ci95: [value / (value + 2 * residualVariance), 1] };
}

/** Mean square image motion per unit of each pair of axes (order of AXES); rotation and translation kept apart. */
function imageMetric(camera: Camera, meanSquareInverseDepth: number): Float64Array {
  const metric = new Float64Array(36);
  const rowX = new Float64Array(6);
  const rowY = new Float64Array(6);
  for (let i = 0; i < COLUMNS; i++) {
    for (let j = 0; j < ROWS; j++) {
      const xPx = ((i + 0.5) / COLUMNS) * camera.widthPx - 0.5;
      const yPx = ((j + 0.5) / ROWS) * camera.heightPx - 0.5;
      const ideal = normalisePoints(camera, [xPx], [yPx]);
      frameJacobian(ideal.x[0], ideal.y[0], 1, rowX, rowY);
      for (let r = 0; r < 6; r++) {
        for (let c = 0; c < 6; c++) {
          if (r < 3 !== c < 3) continue;
          const product =
            rowX[AXIS_SOURCE[r]] * rowX[AXIS_SOURCE[c]] + rowY[AXIS_SOURCE[r]] * rowY[AXIS_SOURCE[c]];
          const depths = r < 3 ? 1 : meanSquareInverseDepth;
          metric[6 * r + c] += (AXIS_SIGN[r] * AXIS_SIGN[c] * depths * product) / (COLUMNS * ROWS);
        }
      }
    }
  }
  return metric;
}

/** v^T M v averaged over time for the three axes from `first` on, less what noise adds. */
function energy(
  vibration: SixAxes,
  noise: { readonly plain: Float64Array; readonly wide: Float64Array },
  metric: Float64Array,
  first: 0 | 3,
  independent: number,
): ImageEnergy {
  const columns = AXES.slice(first, first + 3).map((axis) => vibration[axis]);
  const n = columns[0].length;
  let measured = 0;
  let plain = 0;
  let wide = 0;
  for (let r = 0; r < 3; r++) {
    for (let c = 0; c < 3; c++) {
      const m = metric[6 * (first + r) + first + c];
      let product = 0;
      for (let t = 0; t < n; t++) product += columns[r][t] * columns[c][t];
      measured += (m * product) / Math.max(n, 1);
      plain += m * noise.plain[6 * (first + r) + first + c];
      wide += m * noise.wide[6 * (first + r) + first + c];
    }
  }
  const value = measured - plain;
  return {
    value,
    sd: meanSquareSd(Math.sqrt(Math.max(0, wide)), Math.sqrt(Math.max(0, value)), independent),
  };
}
