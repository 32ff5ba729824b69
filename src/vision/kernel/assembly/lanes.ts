/** What is done with the lanes of a vector. */

/** Sum of the four floats. */
export function total(sum: v128): f32 {
  return (
    f32x4.extract_lane(sum, 0) +
    f32x4.extract_lane(sum, 1) +
    (f32x4.extract_lane(sum, 2) + f32x4.extract_lane(sum, 3))
  );
}
