/** Pyramid of a picture: each level is the one below, weighed by (1 4 6 4 1)/16 both ways, at every other pixel. */
import { padRow, storeBytes } from './mirror';

/**
 * Makes rows from..to-1 of a level. The level below must be there from row 2 from - 2 to 2 to + 1 with its mirrored border.
 * @param below first pixel of the level below
 * @param out first pixel of the level, whose rows are mirrored by `pad` to both sides
 * @param scratch room for two bytes for each pixel of a row of the level below, and 64
 */
export function halveRows(
  below: usize,
  strideBelow: i32,
  out: usize,
  stride: i32,
  width: i32,
  pad: i32,
  from: i32,
  to: i32,
  scratch: usize,
): void {
  const needed = 2 * width + 3;
  for (let y = from; y < to; y++) {
    const r2 = below + 2 * y * strideBelow - 2;
    const r1 = r2 - strideBelow;
    const r0 = r1 - strideBelow;
    const r3 = r2 + strideBelow;
    const r4 = r3 + strideBelow;
    for (let x = 0; x < needed; x += 8) {
      const ends = i16x8.add(v128.load8x8_u(r0 + x), v128.load8x8_u(r4 + x));
      const sides = i16x8.add(v128.load8x8_u(r1 + x), v128.load8x8_u(r3 + x));
      v128.store(scratch + 2 * x, weighed(ends, sides, v128.load8x8_u(r2 + x)));
    }
    const row = out + y * stride;
    for (let x = 0; x < width; x += 8) {
      const at = scratch + 4 * x;
      const a = v128.load(at);
      const b = v128.load(at, 16);
      const c = v128.load(at, 4);
      const d = v128.load(at, 20);
      const e = v128.load(at, 8);
      const f = v128.load(at, 24);
      const ends = i16x8.add(evens(a, b), evens(e, f));
      const sides = i16x8.add(odds(a, b), odds(c, d));
      const sum = i16x8.add(weighed(ends, sides, evens(c, d)), i16x8.splat(128));
      const words = i16x8.shr_u(sum, 8);
      storeBytes(row + x, i8x16.narrow_i16x8_u(words, words), width - x);
    }
    padRow(row, width, pad);
  }
}

function weighed(ends: v128, sides: v128, middle: v128): v128 {
  // 6 m = 4 m + 2 m, so that 4 (sides + m) + 2 m + ends needs no product.
  return i16x8.add(i16x8.add(ends, i16x8.shl(i16x8.add(sides, middle), 2)), i16x8.shl(middle, 1));
}

function evens(a: v128, b: v128): v128 {
  return v128.shuffle<i16>(a, b, 0, 2, 4, 6, 8, 10, 12, 14);
}

function odds(a: v128, b: v128): v128 {
  return v128.shuffle<i16>(a, b, 1, 3, 5, 7, 9, 11, 13, 15);
}

/** Puts the levels of rows from..to-1 through a table of 256 bytes; rows are mirrored by `pad` to both sides. */
export function relightRows(
  source: usize,
  target: usize,
  stride: i32,
  width: i32,
  pad: i32,
  table: usize,
  from: i32,
  to: i32,
): void {
  for (let y = from; y < to; y++) {
    const at = y * stride;
    for (let x = 0; x < width; x++) store<u8>(target + at + x, load<u8>(table + load<u8>(source + at + x)));
    padRow(target + at, width, pad);
  }
}
