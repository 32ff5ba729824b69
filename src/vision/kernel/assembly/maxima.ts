/** Local maxima of a map of floats. */

/**
 * Places in the map, off its border, that exceed a floor and each of their eight neighbours; of equal neighbours the first one in
 * reading order counts.
 * @param map width x height floats, rows without gaps
 * @param out room for the places, 4 bytes each: at most one of each two by two
 * @returns how many there are
 */
export function localMaxima(map: usize, width: i32, height: i32, floor: f32, out: usize): i32 {
  const least = f32x4.splat(floor);
  const stride = width * 4;
  let count = 0;
  for (let row = 1; row < height - 1; row++) {
    for (let x = 1; x < width - 1; x += 4) {
      const place = row * width + x;
      const at = map + place * 4;
      const above = at - stride;
      const below = at + stride;
      const v = v128.load(at);
      const late = v128.and(
        v128.and(f32x4.ge(v, v128.load(at, 4)), f32x4.ge(v, v128.load(below - 4))),
        v128.and(f32x4.ge(v, v128.load(below)), f32x4.ge(v, v128.load(below, 4))),
      );
      const early = v128.and(
        v128.and(f32x4.gt(v, v128.load(at - 4)), f32x4.gt(v, v128.load(above - 4))),
        v128.and(f32x4.gt(v, v128.load(above)), f32x4.gt(v, v128.load(above, 4))),
      );
      let lanes = i32x4.bitmask(v128.and(f32x4.gt(v, least), v128.and(late, early)));
      const rest = width - 1 - x;
      if (rest < 4) lanes &= (1 << rest) - 1;
      for (; lanes != 0; lanes &= lanes - 1) {
        store<i32>(out + count * 4, place + ctz(lanes));
        count++;
      }
    }
  }
  return count;
}
