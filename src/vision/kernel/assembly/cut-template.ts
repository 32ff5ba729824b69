/** Cuts a template out of a picture: the same steps as affine-template.ts, in single precision. */
import { sampled } from './cubic-samples';
import { total } from './lanes';
import { CONTRAST_AT, MEAN_AT, ROWS_AT, UNKNOWNS } from './template-record';

/** Pairs of the eight unknowns, and where their sums lie in the memory that cutting works with: vectors of 16 bytes. */
const PAIRS: i32 = 36;

/**
 * Cuts an upright template about a place that lies far enough inside of the picture.
 * @param levels first level of the picture, floats, rows without gaps
 * @param weights of the samples, in rows like those of the template, nothing behind the end of a row
 * @param half columns on each side of the middle one
 * @param rows of the window, `rowStep` pixels apart
 * @param floor added to the contrast where it divides
 * @param work room for 44 vectors
 */
export function cutTemplate(
  levels: usize,
  width: i32,
  x: f64,
  y: f64,
  template: usize,
  weights: usize,
  half: i32,
  rows: i32,
  rowStep: f64,
  floor: f64,
  work: usize,
): void {
  const side = 2 * half + 1;
  const rowBytes = ((side + 3) & ~3) * 4;
  const bytes = rows * rowBytes;
  const grey = template + ROWS_AT;
  sampleUpright(levels, width, x, y, grey, half, rows, rowStep);

  let sum = f32x4.splat(0);
  for (let i = 0; i < bytes; i += 16)
    sum = f32x4.add(sum, f32x4.mul(v128.load(weights + i), v128.load(grey + i)));
  const mean = total(sum);
  let variance = f32x4.splat(0);
  for (let i = 0; i < bytes; i += 16) {
    const level = f32x4.sub(v128.load(grey + i), f32x4.splat(mean));
    v128.store(grey + i, level);
    variance = f32x4.add(variance, f32x4.mul(v128.load(weights + i), f32x4.mul(level, level)));
  }
  const contrast = Math.sqrt(<f64>total(variance)) + floor;
  store<f64>(template, <f64>mean, MEAN_AT);
  store<f64>(template, contrast, CONTRAST_AT);
  sumPairs(grey, bytes, weights, half, rows, rowStep, <f32>contrast, work);
  let pair = work;
  for (let r = 0; r < UNKNOWNS; r++)
    for (let c = r; c < UNKNOWNS; c++, pair += 16)
      store<f64>(template + (r * UNKNOWNS + c) * 8, <f64>total(v128.load(pair)));

  for (let i = 0; i < bytes; i += 16) {
    const weight = v128.load(weights + i);
    const slopeX = grey + bytes + i;
    const slopeY = slopeX + bytes;
    v128.store(slopeX, f32x4.mul(weight, v128.load(slopeX)));
    v128.store(slopeY, f32x4.mul(weight, v128.load(slopeY)));
  }
}

/** Samples an upright window: levels, and slopes over one pixel of the interpolated picture. */
function sampleUpright(
  levels: usize,
  width: i32,
  x: f64,
  y: f64,
  grey: usize,
  half: i32,
  rows: i32,
  rowStep: f64,
): void {
  const side = 2 * half + 1;
  const bytes = rows * ((side + 3) & ~3) * 4;
  const stride = width * 4;
  const last = f32x4.splat(<f32>(side - 1));
  const halfPx = f32x4.splat(0.5);
  const rowX = x - <f64>half;
  const left = <i32>rowX;
  const restX = f32x4.splat(<f32>(rowX - <f64>left));
  let at = grey;
  for (let row = 0; row < rows; row++) {
    const rowY = y + (<f64>row - 0.5 * <f64>(rows - 1)) * rowStep;
    const top = <i32>rowY;
    const placeY = f32x4.splat(<f32>(rowY - <f64>top));
    const corner = levels + ((top - 1) * width + left - 1) * 4;
    for (let c = 0; c < side; c += 4, at += 16) {
      const column = f32x4.pmin(last, f32x4.add(f32x4.splat(<f32>c), f32x4(0, 1, 2, 3)));
      const placeX = f32x4.add(restX, column);
      v128.store(at, sampled(corner, stride, placeX, placeY));
      const behind = sampled(corner, stride, f32x4.add(placeX, halfPx), placeY);
      const before = sampled(corner, stride, f32x4.sub(placeX, halfPx), placeY);
      v128.store(at + bytes, f32x4.sub(behind, before));
      const below = sampled(corner, stride, placeX, f32x4.add(placeY, halfPx));
      const above = sampled(corner, stride, placeX, f32x4.sub(placeY, halfPx));
      v128.store(at + 2 * bytes, f32x4.sub(below, above));
    }
  }
}

/** Sums the weighted products of the eight columns of a match, each pair in four lanes. */
function sumPairs(
  grey: usize,
  bytes: i32,
  weights: usize,
  half: i32,
  rows: i32,
  rowStep: f64,
  contrast: f32,
  work: usize,
): void {
  const columns = work + PAIRS * 16;
  const unit: f32 = 1 / <f32>half;
  memory.fill(work, 0, PAIRS * 16);
  v128.store(columns + 7 * 16, f32x4.splat(1));
  const rowBytes = bytes / rows;
  for (let row = 0, i = 0; row < rows; row++) {
    const v = f32x4.splat(<f32>((<f64>row - 0.5 * <f64>(rows - 1)) * rowStep) * unit);
    for (let c = 0; c < rowBytes; c += 16, i += 16) {
      const u = f32x4.mul(
        f32x4.splat(unit),
        f32x4.add(f32x4.splat(<f32>((c >> 2) - half)), f32x4(0, 1, 2, 3)),
      );
      const slopeX = v128.load(grey + bytes + i);
      const slopeY = v128.load(grey + 2 * bytes + i);
      v128.store(columns, slopeX);
      v128.store(columns + 16, slopeY);
      v128.store(columns + 2 * 16, f32x4.mul(slopeX, u));
      v128.store(columns + 3 * 16, f32x4.mul(slopeX, v));
      v128.store(columns + 4 * 16, f32x4.mul(slopeY, u));
      v128.store(columns + 5 * 16, f32x4.mul(slopeY, v));
      v128.store(columns + 6 * 16, f32x4.div(v128.load(grey + i), f32x4.splat(contrast)));
      const weight = v128.load(weights + i);
      let pair = work;
      for (let r = 0; r < UNKNOWNS; r++) {
        const weighted = f32x4.mul(weight, v128.load(columns + r * 16));
        for (let k = r; k < UNKNOWNS; k++, pair += 16)
          v128.store(pair, f32x4.add(v128.load(pair), f32x4.mul(weighted, v128.load(columns + k * 16))));
      }
    }
  }
}
