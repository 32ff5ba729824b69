/**
 * Cuts a template out of a picture and finds it again in a later one: place, affine deformation, gain and offset (inverse
 * compositional alignment: Baker and Matthews, IJCV 56, 2004), sampled by cubic convolution (Keys, IEEE Trans. ASSP 29, 1981,
 * a = -1/2). The same steps as affine-template.ts and template-match.ts, in single precision but for the eight unknowns.
 *
 * A template in memory: the inverse normal matrix (when it is cut, the upper triangle of the matrix itself), mean and contrast
 * as doubles, then three blocks of rows of floats, each row a whole number of vectors: grey less its mean, weighted slopes.
 * Behind the end of a row its last column is taken again, with no weight.
 */
import { total } from './lanes';

const UNKNOWNS: i32 = 8;
/** Offsets in the record of a template, bytes. */
const MEAN_AT: i32 = 512;
const CONTRAST_AT: i32 = 520;
const ROWS_AT: i32 = 528;
/** Offsets in the record of a place, bytes: the place and its deformation, then the answer. */
const XX: i32 = 16;
const XY: i32 = 24;
const YX: i32 = 32;
const YY: i32 = 40;
const RESIDUAL_AT: i32 = 48;
const STEP_AT: i32 = 56;
const GRADIENT_AT: i32 = 120;

/** Pairs of the eight unknowns, and where their sums lie in the memory that cutting works with: vectors of 16 bytes. */
const PAIRS: i32 = 36;

/** Weighted square of the samples less the template. */
let squares: f64 = 0;

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

/** Levels at four places, from the 4 x 4 pixels about each; places count from the pixel behind the corner. */
function sampled(corner: usize, stride: i32, x: v128, y: v128): v128 {
  const floorX = f32x4.floor(x);
  const floorY = f32x4.floor(y);
  const f = f32x4.sub(x, floorX);
  const g = f32x4.sub(y, floorY);
  const bytes = i32x4.add(i32x4.shl(wholeOf(floorX), 2), i32x4.mul(wholeOf(floorY), i32x4.splat(stride)));
  const f0 = before(f);
  const f1 = under(f);
  const f2 = over(f);
  const f3 = behind(f);
  const g0 = before(g);
  const g1 = under(g);
  const g2 = over(g);
  const g3 = behind(g);
  const at = corner + i32x4.extract_lane(bytes, 0);
  if (
    i32x4.all_true(i32x4.eq(bytes, i32x4.add(i32x4.splat(i32x4.extract_lane(bytes, 0)), i32x4(0, 4, 8, 12))))
  ) {
    // Neighbours in one row, as nearly always: each vector holds one column of the 4 x 4 pixels of all four places.
    const second = at + stride;
    const third = second + stride;
    return f32x4.add(
      f32x4.add(f32x4.mul(g0, along(at, f0, f1, f2, f3)), f32x4.mul(g1, along(second, f0, f1, f2, f3))),
      f32x4.add(
        f32x4.mul(g2, along(third, f0, f1, f2, f3)),
        f32x4.mul(g3, along(third + stride, f0, f1, f2, f3)),
      ),
    );
  }
  const a = across(at, stride, first(g0), first(g1), first(g2), first(g3));
  const b = across(
    corner + i32x4.extract_lane(bytes, 1),
    stride,
    second(g0),
    second(g1),
    second(g2),
    second(g3),
  );
  const c = across(corner + i32x4.extract_lane(bytes, 2), stride, third(g0), third(g1), third(g2), third(g3));
  const d = across(
    corner + i32x4.extract_lane(bytes, 3),
    stride,
    fourth(g0),
    fourth(g1),
    fourth(g2),
    fourth(g3),
  );
  // The four columns of each place become four vectors of one column of all places.
  const abLow = v128.shuffle<i32>(a, b, 0, 4, 1, 5);
  const abHigh = v128.shuffle<i32>(a, b, 2, 6, 3, 7);
  const cdLow = v128.shuffle<i32>(c, d, 0, 4, 1, 5);
  const cdHigh = v128.shuffle<i32>(c, d, 2, 6, 3, 7);
  const t0 = v128.shuffle<i64>(abLow, cdLow, 0, 2);
  const t1 = v128.shuffle<i64>(abLow, cdLow, 1, 3);
  const t2 = v128.shuffle<i64>(abHigh, cdHigh, 0, 2);
  const t3 = v128.shuffle<i64>(abHigh, cdHigh, 1, 3);
  return f32x4.add(
    f32x4.add(f32x4.mul(f0, t0), f32x4.mul(f1, t1)),
    f32x4.add(f32x4.mul(f2, t2), f32x4.mul(f3, t3)),
  );
}

/** Whole numbers, given as floats of up to 2^22, as integers: behind so large a number there is no fraction, and its bits count. */
function wholeOf(floor: v128): v128 {
  return i32x4.sub(f32x4.add(floor, f32x4.splat(12582912)), i32x4.splat(0x4b400000));
}

/** Four neighbouring places of one row, each from four pixels. */
function along(at: usize, f0: v128, f1: v128, f2: v128, f3: v128): v128 {
  return f32x4.add(
    f32x4.add(f32x4.mul(f0, v128.load(at)), f32x4.mul(f1, v128.load(at, 4))),
    f32x4.add(f32x4.mul(f2, v128.load(at, 8)), f32x4.mul(f3, v128.load(at, 12))),
  );
}

/** Four pixels of four rows, the rows weighed and added. */
function across(at: usize, stride: i32, w0: v128, w1: v128, w2: v128, w3: v128): v128 {
  const second = at + stride;
  const third = second + stride;
  return f32x4.add(
    f32x4.add(f32x4.mul(w0, v128.load(at)), f32x4.mul(w1, v128.load(second))),
    f32x4.add(f32x4.mul(w2, v128.load(third)), f32x4.mul(w3, v128.load(third + stride))),
  );
}

function first(lanes: v128): v128 {
  return v128.shuffle<i32>(lanes, lanes, 0, 0, 0, 0);
}

function second(lanes: v128): v128 {
  return v128.shuffle<i32>(lanes, lanes, 1, 1, 1, 1);
}

function third(lanes: v128): v128 {
  return v128.shuffle<i32>(lanes, lanes, 2, 2, 2, 2);
}

function fourth(lanes: v128): v128 {
  return v128.shuffle<i32>(lanes, lanes, 3, 3, 3, 3);
}

/** Weights of cubic convolution, a fraction f behind a pixel: of the pixel before it, its own, of the next, of the one after. */
function before(f: v128): v128 {
  const half = f32x4.splat(0.5);
  const inner = f32x4.sub(f32x4.mul(f, f32x4.sub(f32x4.splat(1), f32x4.mul(half, f))), half);
  return f32x4.mul(f, inner);
}

function under(f: v128): v128 {
  const inner = f32x4.sub(f32x4.mul(f32x4.splat(1.5), f), f32x4.splat(2.5));
  return f32x4.add(f32x4.splat(1), f32x4.mul(f32x4.mul(f, f), inner));
}

function over(f: v128): v128 {
  const inner = f32x4.sub(f32x4.splat(2), f32x4.mul(f32x4.splat(1.5), f));
  return f32x4.mul(f, f32x4.add(f32x4.splat(0.5), f32x4.mul(f, inner)));
}

function behind(f: v128): v128 {
  const half = f32x4.splat(0.5);
  return f32x4.mul(f32x4.mul(f, f), f32x4.sub(f32x4.mul(half, f), half));
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
