/**
 * Finds a template again in a later picture: place, affine deformation, gain and offset (inverse compositional alignment: Baker and
 * Matthews, IJCV 56, 2004). The same steps as template-match.ts, in single precision but for the eight unknowns.
 */
import { sampled } from './cubic-samples';
import { total } from './lanes';
import { CONTRAST_AT, MEAN_AT, ROWS_AT, UNKNOWNS } from './template-record';

/** Offsets in the record of a place, bytes: the place and its deformation, then the answer. */
const XX: i32 = 16;
const XY: i32 = 24;
const YX: i32 = 32;
const YY: i32 = 40;
const RESIDUAL_AT: i32 = 48;
const STEP_AT: i32 = 56;
const GRADIENT_AT: i32 = 120;

/** Weighted square of the samples less the template. */
let squares: f64 = 0;

/**
 * Moves a place to where the template lies in a picture.
 * @param levels first level of the picture, floats, rows without gaps
 * @param place record of six doubles: x, y, xx, xy, yx, yy; answers the weighted RMS of the rest behind them, grey levels
 * @param weights half rows rowStep as they were when the template was cut
 * @returns iterations taken, negative when the template was not found
 */
export function matchTemplate(
  levels: usize,
  width: i32,
  height: i32,
  template: usize,
  weights: usize,
  half: i32,
  rows: i32,
  rowStep: f64,
  place: usize,
  iterations: i32,
  stepPx: f64,
  aheadPx: f64,
  leastGain: f64,
): i32 {
  const step = place + STEP_AT;
  const gradient = place + GRADIENT_AT;
  let taken = 0;
  let before: f64 = 0;
  while (taken < iterations) {
    if (!isInside(place, width, height, half)) return -1 - taken;
    project(levels, width, template, weights, half, rows, rowStep, place);
    taken += 1;
    let explained: f64 = 0;
    for (let r = 0; r < UNKNOWNS; r++) {
      let sum: f64 = 0;
      const row = template + r * UNKNOWNS * 8;
      for (let c = 0; c < UNKNOWNS; c++) sum += load<f64>(row + c * 8) * load<f64>(gradient + c * 8);
      store<f64>(step + r * 8, sum);
      explained += sum * load<f64>(gradient + r * 8);
    }
    store<f64>(place, Math.sqrt(max<f64>(0, squares - explained)), RESIDUAL_AT);
    const gain = 1 + load<f64>(step, 48) / load<f64>(template, CONTRAST_AT);
    if (!(gain > leastGain) || !compose(place, step, gain, half)) return -1 - taken;
    const size = max(Math.abs(load<f64>(step)), Math.abs(load<f64>(step, 8))) / gain;
    if (size < stepPx || size * size < aheadPx * before) break;
    before = size;
  }
  return taken;
}

/** True when every sample of the window, with the pixels that its interpolation needs, lies in the picture. */
function isInside(place: usize, width: i32, height: i32, half: i32): bool {
  const reachX = <f64>half * (Math.abs(load<f64>(place, XX)) + Math.abs(load<f64>(place, XY)));
  const reachY = <f64>half * (Math.abs(load<f64>(place, YX)) + Math.abs(load<f64>(place, YY)));
  const x = load<f64>(place);
  const y = load<f64>(place, 8);
  return (
    x - reachX >= 1 && y - reachY >= 1 && x + reachX < <f64>(width - 2) && y + reachY < <f64>(height - 2)
  );
}

/** Samples the window, row by row and four columns at once, and sums its difference to the template. */
function project(
  levels: usize,
  width: i32,
  template: usize,
  weights: usize,
  half: i32,
  rows: i32,
  rowStep: f64,
  place: usize,
): void {
  const side = 2 * half + 1;
  const rowBytes = ((side + 3) & ~3) * 4;
  const bytes = rows * rowBytes;
  const xx = load<f64>(place, XX);
  const xy = load<f64>(place, XY);
  const yx = load<f64>(place, YX);
  const yy = load<f64>(place, YY);
  const stride = width * 4;
  const mean = f32x4.splat(<f32>load<f64>(template, MEAN_AT));
  const stepX = f32x4.splat(<f32>xx);
  const stepY = f32x4.splat(<f32>yx);
  const last = f32x4.splat(<f32>(side - 1));
  const middle = f32x4.splat(<f32>half);
  let at = template + ROWS_AT;
  let weightAt = weights;
  let x0: f64 = 0;
  let xu: f64 = 0;
  let xv: f64 = 0;
  let y0: f64 = 0;
  let yu: f64 = 0;
  let yv: f64 = 0;
  let level = f32x4.splat(0);
  let offset = f32x4.splat(0);
  let square = f32x4.splat(0);
  for (let row = 0; row < rows; row++) {
    const v = (<f64>row - 0.5 * <f64>(rows - 1)) * rowStep;
    // Whole pixels are taken off first, so that single precision is enough for what is left.
    const rowX = load<f64>(place) + xy * v - xx * <f64>half;
    const rowY = load<f64>(place, 8) + yy * v - yx * <f64>half;
    const left = <i32>rowX;
    const top = <i32>rowY;
    const restX = f32x4.splat(<f32>(rowX - <f64>left));
    const restY = f32x4.splat(<f32>(rowY - <f64>top));
    const corner = levels + ((top - 1) * width + left - 1) * 4;
    let rowSumX = f32x4.splat(0);
    let rowSumXu = f32x4.splat(0);
    let rowSumY = f32x4.splat(0);
    let rowSumYu = f32x4.splat(0);
    for (let c = 0; c < side; c += 4, at += 16, weightAt += 16) {
      const column = f32x4.pmin(last, f32x4.add(f32x4.splat(<f32>c), f32x4(0, 1, 2, 3)));
      const x = f32x4.add(restX, f32x4.mul(stepX, column));
      const y = f32x4.add(restY, f32x4.mul(stepY, column));
      const sample = sampled(corner, stride, x, y);
      const residual = f32x4.sub(f32x4.sub(sample, mean), v128.load(at));
      const weighted = f32x4.mul(v128.load(weightAt), residual);
      const wx = f32x4.mul(residual, v128.load(at + bytes));
      const wy = f32x4.mul(residual, v128.load(at + 2 * bytes));
      const u = f32x4.sub(column, middle);
      rowSumX = f32x4.add(rowSumX, wx);
      rowSumXu = f32x4.add(rowSumXu, f32x4.mul(wx, u));
      rowSumY = f32x4.add(rowSumY, wy);
      rowSumYu = f32x4.add(rowSumYu, f32x4.mul(wy, u));
      level = f32x4.add(level, f32x4.mul(weighted, v128.load(at)));
      offset = f32x4.add(offset, weighted);
      square = f32x4.add(square, f32x4.mul(weighted, residual));
    }
    const sumX = total(rowSumX);
    const sumY = total(rowSumY);
    x0 += sumX;
    y0 += sumY;
    xu += total(rowSumXu);
    yu += total(rowSumYu);
    xv += sumX * v;
    yv += sumY * v;
  }
  const gradient = place + GRADIENT_AT;
  const unit = 1 / <f64>half;
  store<f64>(gradient, x0);
  store<f64>(gradient, y0, 8);
  store<f64>(gradient, xu * unit, 16);
  store<f64>(gradient, xv * unit, 24);
  store<f64>(gradient, yu * unit, 32);
  store<f64>(gradient, yv * unit, 40);
  store<f64>(gradient, total(level) / load<f64>(template, CONTRAST_AT), 48);
  store<f64>(gradient, total(offset), 56);
  squares = total(square);
}

/** Place after the inverse of the step was applied before it; false when the step folds the window. */
function compose(place: usize, step: usize, gain: f64, half: i32): bool {
  const scale = 1 / (gain * <f64>half);
  const a = 1 + load<f64>(step, 16) * scale;
  const b = load<f64>(step, 24) * scale;
  const c = load<f64>(step, 32) * scale;
  const d = 1 + load<f64>(step, 40) * scale;
  const determinant = a * d - b * c;
  if (!(determinant > 0.1)) return false;
  const xx = load<f64>(place, XX);
  const xy = load<f64>(place, XY);
  const yx = load<f64>(place, YX);
  const yy = load<f64>(place, YY);
  const newXx = (xx * d - xy * c) / determinant;
  const newXy = (xy * a - xx * b) / determinant;
  const newYx = (yx * d - yy * c) / determinant;
  const newYy = (yy * a - yx * b) / determinant;
  const dx = load<f64>(step) / gain;
  const dy = load<f64>(step, 8) / gain;
  store<f64>(place, newXx, XX);
  store<f64>(place, newXy, XY);
  store<f64>(place, newYx, YX);
  store<f64>(place, newYy, YY);
  store<f64>(place, load<f64>(place) - (newXx * dx + newXy * dy));
  store<f64>(place, load<f64>(place, 8) - (newYx * dx + newYy * dy), 8);
  return true;
}
