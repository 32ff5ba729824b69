/** Smaller eigenvalue of the gradient matrix over square blocks, in whole numbers up to the last step. */
import { mirrored } from './mirror';

/**
 * The map over an area, row by row.
 * @param picture first pixel, with a mirrored border of at least block / 2 + 10 pixels
 * @param out columns x rows floats
 * @param scratch room for 3 (block + 1) rows of columns + block + 16 words of 4 bytes
 */
export function cornerStrength(
  picture: usize,
  stride: i32,
  width: i32,
  height: i32,
  left: i32,
  top: i32,
  columns: i32,
  rows: i32,
  block: i32,
  out: usize,
  scratch: usize,
): void {
  const before = block / 2;
  const span = columns + block - 1;
  const line = (span + 15) & ~7;
  const part = line * 4;
  const bytes = 3 * part;
  const sums = scratch + block * bytes;
  memory.fill(scratch, 0, (block + 1) * bytes);
  // The 3 x 3 Sobel has a gain of 8; the engine divides it by 4 times the block times 255.
  const scale = <f32>(1.0 / (4.0 * <f64>block * 255.0));
  const unit = f32x4.splat(scale * scale);
  const half = f32x4.splat(0.5);
  for (let r = 0; r < rows + block - 1; r++) {
    const ring = scratch + (r % block) * bytes;
    // The sums forget the row that leaves the block before its place is taken.
    for (let i = 0; i < bytes; i += 16)
      v128.store(sums + i, i32x4.sub(v128.load(sums + i), v128.load(ring + i)));
    const y = mirrored(top - before + r, height);
    products(picture + y * stride + left - before, stride, span, ring, part);
    mirrorColumns(ring, part, left - before, span, width);
    for (let i = 0; i < bytes; i += 16)
      v128.store(sums + i, i32x4.add(v128.load(sums + i), v128.load(ring + i)));
    const row = r - block + 1;
    if (row < 0) continue;
    for (let x = 0; x < columns; x += 4) {
      let xx = i32x4.splat(0);
      let xy = i32x4.splat(0);
      let yy = i32x4.splat(0);
      for (let k = 0; k < block; k++) {
        const at = sums + (x + k) * 4;
        xx = i32x4.add(xx, v128.load(at));
        xy = i32x4.add(xy, v128.load(at + part));
        yy = i32x4.add(yy, v128.load(at + 2 * part));
      }
      const a = f32x4.mul(half, f32x4.mul(unit, f32x4.convert_i32x4_s(xx)));
      const b = f32x4.mul(unit, f32x4.convert_i32x4_s(xy));
      const c = f32x4.mul(half, f32x4.mul(unit, f32x4.convert_i32x4_s(yy)));
      const d = f32x4.sub(a, c);
      const root = f32x4.sqrt(f32x4.add(f32x4.mul(d, d), f32x4.mul(b, b)));
      const value = f32x4.sub(f32x4.add(a, c), root);
      const to = out + (row * columns + x) * 4;
      if (x + 4 <= columns) v128.store(to, value);
      else {
        store<f32>(to, f32x4.extract_lane(value, 0));
        if (x + 1 < columns) store<f32>(to, f32x4.extract_lane(value, 1), 4);
        if (x + 2 < columns) store<f32>(to, f32x4.extract_lane(value, 2), 8);
      }
    }
  }
}

/** Products of the Sobel gradients of one row: xx, xy and yy. */
function products(row: usize, stride: i32, span: i32, out: usize, part: i32): void {
  for (let x = 0; x < span; x += 8) {
    const m = row + x;
    const a = m - stride;
    const b = m + stride;
    const aL = v128.load8x8_u(a - 1);
    const aR = v128.load8x8_u(a + 1);
    const bL = v128.load8x8_u(b - 1);
    const bR = v128.load8x8_u(b + 1);
    const sides = i16x8.shl(i16x8.sub(v128.load8x8_u(m + 1), v128.load8x8_u(m - 1)), 1);
    const dx = i16x8.add(i16x8.sub(i16x8.add(aR, bR), i16x8.add(aL, bL)), sides);
    const middle = i16x8.shl(i16x8.sub(v128.load8x8_u(b), v128.load8x8_u(a)), 1);
    const dy = i16x8.add(i16x8.sub(i16x8.add(bL, bR), i16x8.add(aL, aR)), middle);
    const to = out + x * 4;
    v128.store(to, i32x4.extmul_low_i16x8_s(dx, dx));
    v128.store(to, i32x4.extmul_high_i16x8_s(dx, dx), 16);
    v128.store(to + part, i32x4.extmul_low_i16x8_s(dx, dy));
    v128.store(to + part, i32x4.extmul_high_i16x8_s(dx, dy), 16);
    v128.store(to + 2 * part, i32x4.extmul_low_i16x8_s(dy, dy));
    v128.store(to + 2 * part, i32x4.extmul_high_i16x8_s(dy, dy), 16);
  }
}

/** Columns outside the picture take the products of those in the mirror. */
function mirrorColumns(row: usize, part: i32, left: i32, span: i32, width: i32): void {
  if (left >= 0 && left + span <= width) return;
  for (let i = 0; i < span; i++) {
    const x = left + i;
    if (x >= 0 && x < width) continue;
    const from = row + (mirrored(x, width) - left) * 4;
    const to = row + i * 4;
    for (let p = 0; p < 3; p++) store<i32>(to + p * part, load<i32>(from + p * part));
  }
}
