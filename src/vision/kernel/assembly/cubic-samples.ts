/** Levels between the pixels by cubic convolution (Keys, IEEE Trans. ASSP 29, 1981, a = -1/2), four places at once. */

/** Levels at four places, from the 4 x 4 pixels about each; places count from the pixel behind the corner. */
export function sampled(corner: usize, stride: i32, x: v128, y: v128): v128 {
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
