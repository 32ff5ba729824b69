/** Borders mirrored about the edge pixel, which is not repeated. */

/** Index inside 0..count-1 that stands for `i`, however far outside it lies. */
export function mirrored(i: i32, count: i32): i32 {
  if (count == 1) return 0;
  while (i < 0 || i >= count) i = i < 0 ? -i : 2 * (count - 1) - i;
  return i;
}

/** Mirrors the `pad` pixels to the left and right of a row; `row` is the address of its first pixel. */
export function padRow(row: usize, width: i32, pad: i32): void {
  const end = row + width - 1;
  if (pad < width) {
    for (let k = 1; k <= pad; k++) {
      store<u8>(row - k, load<u8>(row + k));
      store<u8>(end + k, load<u8>(end - k));
    }
    return;
  }
  for (let k = 1; k <= pad; k++) {
    store<u8>(row - k, load<u8>(row + mirrored(-k, width)));
    store<u8>(end + k, load<u8>(row + mirrored(width - 1 + k, width)));
  }
}

/** Copies those of the rows from..to-1 that are seen in the mirror above or below the picture. */
export function padRows(
  first: usize,
  stride: i32,
  width: i32,
  height: i32,
  pad: i32,
  from: i32,
  to: i32,
): void {
  const bytes = width + 2 * pad;
  for (let k = 1; k <= pad; k++) {
    const top = mirrored(-k, height);
    if (top >= from && top < to) memory.copy(first - k * stride - pad, first + top * stride - pad, bytes);
    const y = height - 1 + k;
    const bottom = mirrored(y, height);
    if (bottom >= from && bottom < to)
      memory.copy(first + y * stride - pad, first + bottom * stride - pad, bytes);
  }
}

/**
 * Stores the first `count` of eight bytes, all eight when there are more. A byte is never written with anything but its
 * last value: another thread may be making the same row and reading it already.
 */
export function storeBytes(to: usize, bytes: v128, count: i32): void {
  if (count >= 8) {
    v128.store64_lane(to, bytes, 0);
    return;
  }
  let rest = i64x2.extract_lane(bytes, 0);
  for (let i = 0; i < count; i++) {
    store<u8>(to + i, <u8>rest);
    rest >>= 8;
  }
}
