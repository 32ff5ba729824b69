/**
 * Gaussian blur in single precision, rows first, in the order of sums of the image engine, so that both round alike.
 * Rows are made independently of each other: threads share a picture by strips.
 */
import { mirrored, padRow, storeBytes } from './mirror';

/** Slack behind a row of floats, which is written eight at a time, and mirrored pixels on both sides of it. */
const SLACK: i32 = 16;

/** Bytes of one row of floats in the scratch memory. */
function rowBytes(width: i32, radius: i32): i32 {
  return ((width + 2 * radius + SLACK + 3) & ~3) * 4;
}

/**
 * Blurs rows from..to-1 of a picture of 8-bit levels, mirrored at its border.
 * @param source first pixel, rows without gaps
 * @param target first pixel of the rounded picture; its rows are mirrored by `pad` to both sides
 * @param levels first level of the unrounded picture, rows without gaps
 * @param weights 2 radius + 1 floats
 * @param scratch room for 2 radius + 2 rows of floats
 */
export function blurRows(
  source: usize,
  width: i32,
  height: i32,
  target: usize,
  stride: i32,
  pad: i32,
  levels: usize,
  weights: usize,
  radius: i32,
  from: i32,
  to: i32,
  scratch: usize,
): void {
  const side = 2 * radius + 1;
  const bytes = rowBytes(width, radius);
  const ring = scratch + bytes;
  let next = max(0, from - radius);
  for (let y = from; y < to; y++) {
    for (const last = min(height - 1, y + radius); next <= last; next++) {
      spreadRow(source + next * width, width, radius, scratch);
      const made = ring + (next % side) * bytes;
      if (radius == 3) alongRow7(scratch, made, width, weights);
      else alongRow(scratch, made, width, weights, side);
    }
    const out = target + y * stride;
    const smooth = levels + y * width * 4;
    if (radius == 3) acrossRows7(ring, bytes, y, width, height, weights, out, smooth);
    else acrossRows(ring, bytes, y, width, height, weights, radius, out, smooth);
    padRow(out, width, pad);
  }
}

/** A row as floats, mirrored by the radius to both sides. */
function spreadRow(source: usize, width: i32, radius: i32, out: usize): void {
  const first = out + radius * 4;
  let x = 0;
  for (; x + 8 <= width; x += 8) {
    const grey = v128.load8x8_u(source + x);
    v128.store(first + x * 4, f32x4.convert_i32x4_u(i32x4.extend_low_i16x8_u(grey)));
    v128.store(first + x * 4, f32x4.convert_i32x4_u(i32x4.extend_high_i16x8_u(grey)), 16);
  }
  for (; x < width; x++) store<f32>(first + x * 4, <f32>load<u8>(source + x));
  for (let k = 1; k <= radius; k++) {
    store<f32>(first - k * 4, load<f32>(first + mirrored(-k, width) * 4));
    store<f32>(first + (width - 1 + k) * 4, load<f32>(first + mirrored(width - 1 + k, width) * 4));
  }
}

function alongRow(from: usize, out: usize, width: i32, weights: usize, side: i32): void {
  for (let x = 0; x < width; x += 4) {
    const at = from + x * 4;
    let sum = f32x4.mul(v128.load32_splat(weights), v128.load(at));
    for (let k = 1; k < side; k++)
      sum = f32x4.add(sum, f32x4.mul(v128.load32_splat(weights + k * 4), v128.load(at + k * 4)));
    v128.store(out + x * 4, sum);
  }
}

/** The same for the seven weights of a deviation of about one pixel. */
function alongRow7(from: usize, out: usize, width: i32, weights: usize): void {
  const w0 = v128.load32_splat(weights, 0);
  const w1 = v128.load32_splat(weights, 4);
  const w2 = v128.load32_splat(weights, 8);
  const w3 = v128.load32_splat(weights, 12);
  for (let x = 0; x < width; x += 4) {
    const at = from + x * 4;
    let sum = f32x4.mul(w0, v128.load(at, 0));
    sum = f32x4.add(sum, f32x4.mul(w1, v128.load(at, 4)));
    sum = f32x4.add(sum, f32x4.mul(w2, v128.load(at, 8)));
    sum = f32x4.add(sum, f32x4.mul(w3, v128.load(at, 12)));
    sum = f32x4.add(sum, f32x4.mul(w2, v128.load(at, 16)));
    sum = f32x4.add(sum, f32x4.mul(w1, v128.load(at, 20)));
    sum = f32x4.add(sum, f32x4.mul(w0, v128.load(at, 24)));
    v128.store(out + x * 4, sum);
  }
}

/** One row of the result out of the rows of the ring; pairs above and below are added before they are weighed. */
function acrossRows(
  ring: usize,
  bytes: i32,
  y: i32,
  width: i32,
  height: i32,
  weights: usize,
  radius: i32,
  out: usize,
  smooth: usize,
): void {
  const side = 2 * radius + 1;
  const middle = ring + (y % side) * bytes;
  const centre = weights + radius * 4;
  for (let x = 0; x < width; x += 8) {
    const at = x * 4;
    const w = v128.load32_splat(centre);
    let low = f32x4.mul(w, v128.load(middle + at));
    let high = f32x4.mul(w, v128.load(middle + at, 16));
    for (let k = 1; k <= radius; k++) {
      const above = ring + (mirrored(y - k, height) % side) * bytes + at;
      const below = ring + (mirrored(y + k, height) % side) * bytes + at;
      const wk = v128.load32_splat(centre + k * 4);
      low = f32x4.add(low, f32x4.mul(wk, f32x4.add(v128.load(below), v128.load(above))));
      high = f32x4.add(high, f32x4.mul(wk, f32x4.add(v128.load(below, 16), v128.load(above, 16))));
    }
    storeEight(out + x, smooth + at, low, high, width - x);
  }
}

/** The same for the seven weights of a deviation of about one pixel: where the rows lie is found once for a row. */
function acrossRows7(
  ring: usize,
  bytes: i32,
  y: i32,
  width: i32,
  height: i32,
  weights: usize,
  out: usize,
  smooth: usize,
): void {
  const middle = ring + (y % 7) * bytes;
  const above1 = ring + (mirrored(y - 1, height) % 7) * bytes;
  const above2 = ring + (mirrored(y - 2, height) % 7) * bytes;
  const above3 = ring + (mirrored(y - 3, height) % 7) * bytes;
  const below1 = ring + (mirrored(y + 1, height) % 7) * bytes;
  const below2 = ring + (mirrored(y + 2, height) % 7) * bytes;
  const below3 = ring + (mirrored(y + 3, height) % 7) * bytes;
  const w0 = v128.load32_splat(weights, 12);
  const w1 = v128.load32_splat(weights, 16);
  const w2 = v128.load32_splat(weights, 20);
  const w3 = v128.load32_splat(weights, 24);
  for (let x = 0; x < width; x += 8) {
    const at = x * 4;
    let low = f32x4.mul(w0, v128.load(middle + at));
    low = f32x4.add(low, f32x4.mul(w1, f32x4.add(v128.load(below1 + at), v128.load(above1 + at))));
    low = f32x4.add(low, f32x4.mul(w2, f32x4.add(v128.load(below2 + at), v128.load(above2 + at))));
    low = f32x4.add(low, f32x4.mul(w3, f32x4.add(v128.load(below3 + at), v128.load(above3 + at))));
    let high = f32x4.mul(w0, v128.load(middle + at, 16));
    high = f32x4.add(high, f32x4.mul(w1, f32x4.add(v128.load(below1 + at, 16), v128.load(above1 + at, 16))));
    high = f32x4.add(high, f32x4.mul(w2, f32x4.add(v128.load(below2 + at, 16), v128.load(above2 + at, 16))));
    high = f32x4.add(high, f32x4.mul(w3, f32x4.add(v128.load(below3 + at, 16), v128.load(above3 + at, 16))));
    storeEight(out + x, smooth + at, low, high, width - x);
  }
}

/** Stores the first `count` of eight levels, all eight when there are more: rounded to bytes, and as they are. */
function storeEight(out: usize, smooth: usize, low: v128, high: v128, count: i32): void {
  const words = i16x8.narrow_i32x4_s(
    i32x4.trunc_sat_f32x4_s(f32x4.nearest(low)),
    i32x4.trunc_sat_f32x4_s(f32x4.nearest(high)),
  );
  storeBytes(out, i8x16.narrow_i16x8_u(words, words), count);
  if (count >= 8) {
    v128.store(smooth, low);
    v128.store(smooth, high, 16);
  } else storePart(smooth, low, high, count);
}

/** The first `count` (below 8) of eight floats. */
function storePart(out: usize, low: v128, high: v128, count: i32): void {
  let rest = low;
  if (count >= 4) {
    v128.store(out, low);
    out += 16;
    count -= 4;
    rest = high;
  }
  if (count > 0) store<f32>(out, f32x4.extract_lane(rest, 0));
  if (count > 1) store<f32>(out, f32x4.extract_lane(rest, 1), 4);
  if (count > 2) store<f32>(out, f32x4.extract_lane(rest, 2), 8);
}
