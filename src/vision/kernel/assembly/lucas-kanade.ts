/**
 * Pyramidal Lucas-Kanade on 8-bit levels (Bouguet 2000), with the fixed-point steps of the image engine: weights of 14
 * bits, levels of 5 more bits than the picture, Scharr derivatives rounded to whole numbers.
 *
 * A level in memory is a record of four words: address of the first pixel, bytes from row to row, width, height.
 */
import { total } from './lanes';

const LEVEL_BYTES: i32 = 16;
const WEIGHT_BITS: i32 = 14;
/** Bits that grey levels keep behind the point. */
const GREY_BITS: i32 = 5;
/** Turns products of the fixed-point window into the unit of the thresholds. */
const UNIT: f32 = 1.0 / <f32>(1 << 20);
/** Rows whose products, at their largest, still fit into 31 bits: 32 * 2 * 8160 * 4080. */
const SAFE_ROWS: i32 = 32;
/** Bytes of eight pixels of a window: levels, slopes along x, slopes along y. */
const BLOCK_BYTES: i32 = 48;
/** Smallest determinant that is inverted: FLT_EPSILON. */
const LEAST_DETERMINANT: f32 = 1.1920929e-7;
/** A step that undoes the one before to this many pixels ends the iteration half way between. */
const SWING_PX: f64 = 0.01;

/** Weights of the four pixels about a place, as pairs for the dot products: upper pair, lower pair. */
let upper: v128 = i32x4.splat(0);
let lower: v128 = i32x4.splat(0);
/** Products of the window: with itself, and with the difference to the other picture. */
let xx: f32 = 0;
let xy: f32 = 0;
let yy: f32 = 0;
let bx: f32 = 0;
let by: f32 = 0;

/**
 * Follows points from one pyramid into another.
 * @param from records of the levels of the picture that holds the points, finest first
 * @param points x, y as floats, pixels of the finest level
 * @param next where to start; where the points were found
 * @param found one byte for each point: 1 when it was found
 * @param window side, odd
 * @param epsilonSquared a step whose square is at most this ends a level
 * @param scratch room for the slopes and the window: see layout.ts
 */
export function followPoints(
  from: usize,
  into: usize,
  topLevel: i32,
  points: usize,
  next: usize,
  found: usize,
  count: i32,
  window: i32,
  iterations: i32,
  epsilonSquared: f64,
  leastEigenvalue: f32,
  scratch: usize,
): void {
  for (let i = 0; i < count; i++) {
    const at = i * 8;
    const scale: f32 = 1.0 / <f32>(1 << topLevel);
    store<f32>(next + at, load<f32>(next + at) * scale);
    store<f32>(next + at, load<f32>(next + at, 4) * scale, 4);
    store<u8>(found + i, 1);
    for (let level = topLevel; level >= 0; level--) {
      if (level < topLevel) {
        store<f32>(next + at, load<f32>(next + at) * 2);
        store<f32>(next + at, load<f32>(next + at, 4) * 2, 4);
      }
      const down: f32 = 1.0 / <f32>(1 << level);
      const sure = followOne(
        from + level * LEVEL_BYTES,
        into + level * LEVEL_BYTES,
        load<f32>(points + at) * down,
        load<f32>(points + at, 4) * down,
        next + at,
        window,
        iterations,
        epsilonSquared,
        leastEigenvalue,
        scratch,
      );
      if (level == 0 && !sure) store<u8>(found + i, 0);
    }
  }
}

function isNear(x: i32, y: i32, window: i32, width: i32, height: i32): bool {
  return x >= -window && x < width && y >= -window && y < height;
}

/** One level of one point; false when the window lies outside, holds no texture or leaves the picture. */
function followOne(
  from: usize,
  into: usize,
  pointX: f32,
  pointY: f32,
  next: usize,
  window: i32,
  iterations: i32,
  epsilonSquared: f64,
  leastEigenvalue: f32,
  scratch: usize,
): bool {
  const half: f32 = <f32>(window - 1) * 0.5;
  const px = pointX - half;
  const py = pointY - half;
  const ix = <i32>Mathf.floor(px);
  const iy = <i32>Mathf.floor(py);
  if (!isNear(ix, iy, window, load<i32>(from, 8), load<i32>(from, 12))) return false;
  setWeights(px - <f32>ix, py - <f32>iy);
  const slopeRow = ((window + 8) & ~7) * 2 + 16;
  const blocks = scratch + 2 * (window + 1) * slopeRow;
  slopes(from, ix, iy, window, scratch, slopeRow);
  cutWindow(from, ix, iy, window, scratch, slopeRow, blocks);
  const determinant = xx * yy - xy * xy;
  const spread = (xx - yy) * (xx - yy) + <f32>4 * xy * xy;
  const doubled = 2 * window * window;
  const eigenvalue = (yy + xx - Mathf.sqrt(spread)) / <f32>doubled;
  if (eigenvalue < leastEigenvalue || determinant < LEAST_DETERMINANT) return false;
  const inverse: f32 = 1.0 / determinant;

  const picture = <usize>load<u32>(into);
  const stride = load<i32>(into, 4);
  const width = load<i32>(into, 8);
  const height = load<i32>(into, 12);
  let x = load<f32>(next) - half;
  let y = load<f32>(next, 4) - half;
  let beforeX: f32 = 0;
  let beforeY: f32 = 0;
  let inside = true;
  for (let j = 0; j < iterations; j++) {
    const jx = <i32>Mathf.floor(x);
    const jy = <i32>Mathf.floor(y);
    if (!isNear(jx, jy, window, width, height)) {
      inside = false;
      break;
    }
    setWeights(x - <f32>jx, y - <f32>jy);
    compare(picture + jy * stride + jx, stride, window, blocks);
    const dx = (xy * by - yy * bx) * inverse;
    const dy = (xy * bx - xx * by) * inverse;
    x += dx;
    y += dy;
    let foundX = x + half;
    let foundY = y + half;
    const isStill = <f64>dx * <f64>dx + <f64>dy * <f64>dy <= epsilonSquared;
    const swings =
      !isStill && j > 0 && <f64>abs(dx + beforeX) < SWING_PX && <f64>abs(dy + beforeY) < SWING_PX;
    if (swings) {
      foundX -= dx * 0.5;
      foundY -= dy * 0.5;
    }
    store<f32>(next, foundX);
    store<f32>(next, foundY, 4);
    if (isStill || swings) break;
    beforeX = dx;
    beforeY = dy;
  }
  const endX = <i32>Mathf.floor(load<f32>(next) - half);
  const endY = <i32>Mathf.floor(load<f32>(next, 4) - half);
  return inside && isNear(endX, endY, window, width, height);
}

function setWeights(a: f32, b: f32): void {
  const one: f32 = <f32>(1 << WEIGHT_BITS);
  const w00 = <i32>nearest((<f32>1 - a) * (<f32>1 - b) * one);
  const w01 = <i32>nearest(a * (<f32>1 - b) * one);
  const w10 = <i32>nearest((<f32>1 - a) * b * one);
  const w11 = (1 << WEIGHT_BITS) - w00 - w01 - w10;
  upper = i32x4.splat((w00 & 0xffff) | (w01 << 16));
  lower = i32x4.splat((w10 & 0xffff) | (w11 << 16));
}

/** Scharr derivatives of the (window + 1)^2 pixels that the window is interpolated from; 0 outside the picture. */
function slopes(from: usize, left: i32, top: i32, window: i32, out: usize, rowBytes: i32): void {
  const stride = load<i32>(from, 4);
  const width = load<i32>(from, 8);
  const height = load<i32>(from, 12);
  const first = <usize>load<u32>(from) + top * stride + left;
  const outY = out + (window + 1) * rowBytes;
  const three = i16x8.splat(3);
  const ten = i16x8.splat(10);
  for (let r = 0; r <= window; r++) {
    for (let c = 0; c <= window; c += 8) {
      const m = first + r * stride + c;
      const a = m - stride;
      const b = m + stride;
      const aL = v128.load8x8_u(a - 1);
      const aR = v128.load8x8_u(a + 1);
      const bL = v128.load8x8_u(b - 1);
      const bR = v128.load8x8_u(b + 1);
      const acrossX = i16x8.sub(i16x8.add(aR, bR), i16x8.add(aL, bL));
      const acrossY = i16x8.sub(i16x8.add(bL, bR), i16x8.add(aL, aR));
      const middleX = i16x8.sub(v128.load8x8_u(m + 1), v128.load8x8_u(m - 1));
      const middleY = i16x8.sub(v128.load8x8_u(b), v128.load8x8_u(a));
      const at = r * rowBytes + c * 2;
      v128.store(out + at, i16x8.add(i16x8.mul(acrossX, three), i16x8.mul(middleX, ten)));
      v128.store(outY + at, i16x8.add(i16x8.mul(acrossY, three), i16x8.mul(middleY, ten)));
    }
  }
  if (left >= 0 && top >= 0 && left + window < width && top + window < height) return;
  for (let r = 0; r <= window; r++) {
    const isRowOut = top + r < 0 || top + r >= height;
    for (let c = 0; c <= window; c++) {
      if (!isRowOut && left + c >= 0 && left + c < width) continue;
      const at = r * rowBytes + c * 2;
      store<i16>(out + at, 0);
      store<i16>(outY + at, 0);
    }
  }
}

function pairsLow(a: v128, b: v128): v128 {
  return v128.shuffle<i16>(a, b, 0, 8, 1, 9, 2, 10, 3, 11);
}

function pairsHigh(a: v128, b: v128): v128 {
  return v128.shuffle<i16>(a, b, 4, 12, 5, 13, 6, 14, 7, 15);
}

/** Four interpolated values from pairs of neighbours in two rows, less `bits` binary digits, rounded. */
function blended(above: v128, below: v128, up: v128, low: v128, round: v128, bits: i32): v128 {
  const sum = i32x4.add(i32x4.dot_i16x8_s(above, up), i32x4.dot_i16x8_s(below, low));
  return i32x4.shr_s(i32x4.add(sum, round), bits);
}

/** Lanes of the last eight columns that belong to the window. */
function lanesOf(count: i32): v128 {
  return i16x8.lt_s(i16x8(0, 1, 2, 3, 4, 5, 6, 7), i16x8.splat(<i16>count));
}

/** Interpolates levels and slopes of the window into `out` and sums the products of the slopes. */
function cutWindow(
  from: usize,
  left: i32,
  top: i32,
  window: i32,
  slope: usize,
  rowBytes: i32,
  out: usize,
): void {
  const stride = load<i32>(from, 4);
  const first = <usize>load<u32>(from) + top * stride + left;
  const slopeY = slope + (window + 1) * rowBytes;
  const up = upper;
  const low = lower;
  const greyBits = WEIGHT_BITS - GREY_BITS;
  const greyRound = i32x4.splat(1 << (greyBits - 1));
  const slopeRound = i32x4.splat(1 << (WEIGHT_BITS - 1));
  let sumXx = f32x4.splat(0);
  let sumXy = f32x4.splat(0);
  let sumYy = f32x4.splat(0);
  for (let c = 0; c < window; c += 8) {
    const lanes = lanesOf(window - c);
    for (let r = 0; r < window;) {
      const end = min(window, r + SAFE_ROWS);
      let partXx = i32x4.splat(0);
      let partXy = i32x4.splat(0);
      let partYy = i32x4.splat(0);
      for (; r < end; r++) {
        const g = first + r * stride + c;
        const g0 = v128.load8x8_u(g);
        const g1 = v128.load8x8_u(g + 1);
        const g2 = v128.load8x8_u(g + stride);
        const g3 = v128.load8x8_u(g + stride + 1);
        const grey = i16x8.narrow_i32x4_s(
          blended(pairsLow(g0, g1), pairsLow(g2, g3), up, low, greyRound, greyBits),
          blended(pairsHigh(g0, g1), pairsHigh(g2, g3), up, low, greyRound, greyBits),
        );
        const at = r * rowBytes + c * 2;
        const x = v128.and(lanes, slopeAt(slope + at, rowBytes, up, low, slopeRound));
        const y = v128.and(lanes, slopeAt(slopeY + at, rowBytes, up, low, slopeRound));
        v128.store(out, grey);
        v128.store(out, x, 16);
        v128.store(out, y, 32);
        out += BLOCK_BYTES;
        partXx = i32x4.add(partXx, i32x4.dot_i16x8_s(x, x));
        partXy = i32x4.add(partXy, i32x4.dot_i16x8_s(x, y));
        partYy = i32x4.add(partYy, i32x4.dot_i16x8_s(y, y));
      }
      sumXx = f32x4.add(sumXx, f32x4.convert_i32x4_s(partXx));
      sumXy = f32x4.add(sumXy, f32x4.convert_i32x4_s(partXy));
      sumYy = f32x4.add(sumYy, f32x4.convert_i32x4_s(partYy));
    }
  }
  xx = total(sumXx) * UNIT;
  xy = total(sumXy) * UNIT;
  yy = total(sumYy) * UNIT;
}

function slopeAt(at: usize, rowBytes: i32, up: v128, low: v128, round: v128): v128 {
  const s0 = v128.load(at);
  const s1 = v128.load(at, 2);
  const s2 = v128.load(at + rowBytes);
  const s3 = v128.load(at + rowBytes, 2);
  return i16x8.narrow_i32x4_s(
    blended(pairsLow(s0, s1), pairsLow(s2, s3), up, low, round, WEIGHT_BITS),
    blended(pairsHigh(s0, s1), pairsHigh(s2, s3), up, low, round, WEIGHT_BITS),
  );
}

/** Sums the products of the slopes with what the other picture is brighter at `first`. */
function compare(first: usize, stride: i32, window: i32, blocks: usize): void {
  const up = upper;
  const low = lower;
  const bits = WEIGHT_BITS - GREY_BITS;
  const round = i32x4.splat(1 << (bits - 1));
  let sumX = f32x4.splat(0);
  let sumY = f32x4.splat(0);
  for (let c = 0; c < window; c += 8) {
    let at = first + c;
    // The lower pairs of a row are the upper ones of the next.
    let g0 = v128.load8x8_u(at);
    let g1 = v128.load8x8_u(at + 1);
    let aboveLow = pairsLow(g0, g1);
    let aboveHigh = pairsHigh(g0, g1);
    for (let r = 0; r < window;) {
      const end = min(window, r + SAFE_ROWS);
      let partX = i32x4.splat(0);
      let partY = i32x4.splat(0);
      for (; r < end; r++) {
        at += stride;
        g0 = v128.load8x8_u(at);
        g1 = v128.load8x8_u(at + 1);
        const belowLow = pairsLow(g0, g1);
        const belowHigh = pairsHigh(g0, g1);
        const grey = i16x8.narrow_i32x4_s(
          blended(aboveLow, belowLow, up, low, round, bits),
          blended(aboveHigh, belowHigh, up, low, round, bits),
        );
        const brighter = i16x8.sub(grey, v128.load(blocks));
        partX = i32x4.add(partX, i32x4.dot_i16x8_s(brighter, v128.load(blocks, 16)));
        partY = i32x4.add(partY, i32x4.dot_i16x8_s(brighter, v128.load(blocks, 32)));
        blocks += BLOCK_BYTES;
        aboveLow = belowLow;
        aboveHigh = belowHigh;
      }
      sumX = f32x4.add(sumX, f32x4.convert_i32x4_s(partX));
      sumY = f32x4.add(sumY, f32x4.convert_i32x4_s(partY));
    }
  }
  bx = total(sumX) * UNIT;
  by = total(sumY) * UNIT;
}
