/**
 * Inner loops of drawing, in AssemblyScript: two pixels, or two places in a pixel, at a time. What they do is told in plain-rows.ts,
 * shading.ts, texture-sampling.ts, row-span.ts and edge-pixels.ts, which give the same pictures to the last bit: every sum and
 * product below stands in their order.
 *
 * Arguments and globals of type usize are addresses in bytes.
 */

/** The logarithm of the plain loops: the two must not differ in a bit. A call of it costs more than what else is done for a level. */
declare function log2(x: f64): f64;

const PLANE_BYTES: usize = 72;
const NUMBER_BYTES: usize = 32;
const LOOK_BYTES: usize = 12;
const NO_SURFACE: i32 = 0xffff;
const NEAREST_M: f64 = 0.12;
const FURTHEST_M: f64 = 1e4;
const STRETCH_PX: i32 = 16;
const LEVEL_BIAS: f64 = 0.6;
const BLEND_FROM: f64 = 0.3;
const BLEND_WIDTH: f64 = 0.4;
const PERIODS: f64 = 1048576;
const PLACES: i32 = 16;
const REACH: f64 = 0.5;
/** Columns that share a list of the surfaces that may lie in them. */
const BLOCK_PX: i32 = 16;

let width: i32 = 0;
let straight: bool = true;
let pixel: f64 = 1;
let focalPx: f64 = 1;
let centreXPx: f64 = 0;
let planes: usize = 0;
let numbers: usize = 0;
let looks: usize = 0;
let rayX: usize = 0;
let rayY: usize = 0;
let active: usize = 0;
let cutouts: usize = 0;
let luma: usize = 0;
let shown: usize = 0;

let nearest: usize = 0;
let edge: usize = 0;
let over: usize = 0;
let opacity: usize = 0;
let stretchU: usize = 0;
let stretchV: usize = 0;
let stretchDepth: usize = 0;
let texelU: usize = 0;
let texelV: usize = 0;
let listed: usize = 0;
let spanFrom: usize = 0;
let spanTo: usize = 0;
let block: usize = 0;
let blockFrom: usize = 0;
let blockTo: usize = 0;
let near: usize = 0;
let filling: usize = 0;
let places: usize = 0;
let sumX: usize = 0;
let sumY: usize = 0;
let middleU: usize = 0;
let middleV: usize = 0;
let middleW: usize = 0;
let largestW: usize = 0;
let placeX: usize = 0;
let placeY: usize = 0;
let bestW: usize = 0;
let bestAt: usize = 0;
let placeColumn: usize = 0;

/** Results of functions that have more than one. */
let low: f64 = 0;
let high: f64 = 0;
let first: i32 = 0;
let last: i32 = 0;
let sizeU: f64 = 1;
let sizeV: f64 = 1;

/** Bytes that stay where they are, at a multiple of 16; memory grows as it must. */
export function allocate(bytes: i32): usize {
  return heap.alloc(<usize>bytes);
}

function numbersOf(count: i32): usize {
  return heap.alloc((<usize>count + 2) << 3);
}

function countsOf(count: i32): usize {
  return heap.alloc((<usize>count + 2) << 2);
}

/**
 * Says where the numbers of a scene and the rows of its pictures lie; called once, before the first row.
 *
 * @param plane of each surface nine f64; see projected-surfaces.ts
 * @param number of each surface four f64: texels along, texels down, first along, first down
 * @param look of each surface three addresses: texture, light, opacity (0 for solid ones)
 * @param x,y rays of a row, width f64 and room for two more
 * @param actives,cutoutList surfaces of a row, u16
 * @param lumaRow,shownRow f32 with room for two more, u16: where a row is painted
 */
export function setUp(
  count: i32,
  columns: i32,
  isStraight: bool,
  pixelSize: f64,
  focal: f64,
  centreX: f64,
  plane: usize,
  number: usize,
  look: usize,
  x: usize,
  y: usize,
  actives: usize,
  cutoutList: usize,
  lumaRow: usize,
  shownRow: usize,
): void {
  width = columns;
  straight = isStraight;
  pixel = pixelSize;
  focalPx = focal;
  centreXPx = centreX;
  planes = plane;
  numbers = number;
  looks = look;
  rayX = x;
  rayY = y;
  active = actives;
  cutouts = cutoutList;
  luma = lumaRow;
  shown = shownRow;
  nearest = numbersOf(columns);
  edge = heap.alloc(<usize>columns + 16);
  over = countsOf(columns);
  opacity = countsOf(columns);
  stretchU = numbersOf(STRETCH_PX);
  stretchV = numbersOf(STRETCH_PX);
  stretchDepth = numbersOf(STRETCH_PX);
  texelU = numbersOf(STRETCH_PX);
  texelV = numbersOf(STRETCH_PX);
  listed = countsOf(count);
  spanFrom = numbersOf(count);
  spanTo = numbersOf(count);
  block = countsOf(count);
  blockFrom = numbersOf(count);
  blockTo = numbersOf(count);
  near = countsOf(count);
  filling = countsOf(count);
  places = countsOf(count);
  sumX = numbersOf(count);
  sumY = numbersOf(count);
  middleU = numbersOf(count);
  middleV = numbersOf(count);
  middleW = numbersOf(count);
  largestW = numbersOf(count);
  placeX = numbersOf(PLACES);
  placeY = numbersOf(PLACES);
  bestW = numbersOf(PLACES);
  bestAt = numbersOf(PLACES);
  placeColumn = numbersOf(PLACES);
  for (let s = 0; s < PLACES; s++) {
    const reversed = ((s & 1) << 3) | ((s & 2) << 1) | ((s & 4) >> 1) | ((s & 8) >> 3);
    put(placeColumn, s, <f64>reversed);
  }
}

function get(list: usize, index: i32): f64 {
  return load<f64>(list + ((<usize>index) << 3));
}

function put(list: usize, index: i32, value: f64): void {
  store<f64>(list + ((<usize>index) << 3), value);
}

function count4(list: usize, index: i32): i32 {
  return load<i32>(list + ((<usize>index) << 2));
}

function putCount(list: usize, index: i32, value: i32): void {
  store<i32>(list + ((<usize>index) << 2), value);
}

function id(list: usize, index: i32): i32 {
  return <i32>load<u16>(list + ((<usize>index) << 1));
}

function planeOf(i: i32): usize {
  return planes + <usize>i * PLANE_BYTES;
}

// Row spans.

/** Condition a x + b y + c >= 0 for some y in [from, to]. */
function halfPlane(a: f64, b: f64, c: f64, from: f64, to: f64): void {
  const rest = c + b * (b >= 0 ? to : from);
  if (a > 0) {
    const least = -rest / a;
    if (least > low) low = least;
  } else if (a < 0) {
    const most = rest / -a;
    if (most < high) high = most;
  } else if (rest < 0) {
    high = -Infinity;
  }
}

/** Sets low and high to the span of a rectangle in rows from..to. */
function narrowSpan(plane: usize, from: f64, to: f64): void {
  low = -Infinity;
  high = Infinity;
  const ux = get(plane, 0);
  const uy = get(plane, 1);
  const uc = get(plane, 2);
  const vx = get(plane, 3);
  const vy = get(plane, 4);
  const vc = get(plane, 5);
  const wx = get(plane, 6);
  const wy = get(plane, 7);
  const wc = get(plane, 8);
  halfPlane(ux, uy, uc, from, to);
  halfPlane(wx - ux, wy - uy, wc - uc, from, to);
  halfPlane(vx, vy, vc, from, to);
  halfPlane(wx - vx, wy - vy, wc - vc, from, to);
  halfPlane(wx, wy, wc - 1 / FURTHEST_M, from, to);
  halfPlane(-wx, -wy, 1 / NEAREST_M - wc, from, to);
}

/** Sets first and last to the columns whose centres lie in the span; for a bent row, those that might. */
function columnRange(plane: usize, rowLow: f64, rowHigh: f64): bool {
  narrowSpan(plane, rowLow, rowHigh);
  if (low > high) return false;
  if (straight) {
    const from = max<f64>(0, ceil(low * focalPx + centreXPx));
    const to = min<f64>(<f64>(width - 1), floor(high * focalPx + centreXPx));
    if (!(from <= to)) return false;
    first = <i32>from;
    last = <i32>to;
    return true;
  }
  let a = 0;
  while (a < width && get(rayX, a) < low) a++;
  let b = width - 1;
  while (b >= 0 && get(rayX, b) > high) b--;
  first = a;
  last = b;
  return a <= b;
}

/** True where the ray of column x meets the rectangle. */
function hits(plane: usize, x: i32): bool {
  const rx = get(rayX, x);
  const ry = get(rayY, x);
  const w = get(plane, 6) * rx + get(plane, 7) * ry + get(plane, 8);
  const u = get(plane, 0) * rx + get(plane, 1) * ry + get(plane, 2);
  const v = get(plane, 3) * rx + get(plane, 4) * ry + get(plane, 5);
  return u >= 0 && v >= 0 && u <= w && v <= w;
}

// Which surface each pixel shows.

/** Writes the surface in front at each column of a row to `ids` (u16). */
export function decideRow(ids: usize, activeCount: i32, rowLow: f64, rowHigh: f64): void {
  memory.fill(nearest, 0, (<usize>width) << 3);
  memory.fill(ids, 0xff, (<usize>width) << 1);
  for (let k = 0; k < activeCount; k++) {
    const i = id(active, k);
    const plane = planeOf(i);
    if (!columnRange(plane, rowLow, rowHigh)) continue;
    const from = first;
    const to = last;
    const wx = get(plane, 6);
    const wy = get(plane, 7);
    const wc = get(plane, 8);
    let x = from;
    if (straight) {
      const allX = f64x2.splat(wx);
      const allY = f64x2.splat(wy);
      const allC = f64x2.splat(wc);
      for (; x < to; x += 2) {
        const byte = (<usize>x) << 3;
        const w = f64x2.add(
          f64x2.add(f64x2.mul(allX, v128.load(rayX + byte)), f64x2.mul(allY, v128.load(rayY + byte))),
          allC,
        );
        const before = v128.load(nearest + byte);
        const isNearer = f64x2.gt(w, before);
        const bits = i64x2.bitmask(isNearer);
        if (bits === 0) continue;
        v128.store(nearest + byte, v128.bitselect(w, before, isNearer));
        if (bits & 1) store<u16>(ids + ((<usize>x) << 1), <u16>i);
        if (bits & 2) store<u16>(ids + ((<usize>x) << 1), <u16>i, 2);
      }
    }
    for (; x <= to; x++) {
      const w = wx * get(rayX, x) + wy * get(rayY, x) + wc;
      if (w > get(nearest, x) && (straight || hits(plane, x))) {
        put(nearest, x, w);
        store<u16>(ids + ((<usize>x) << 1), <u16>i);
      }
    }
  }
}

/** Marks the pixels of a row that show another surface than one of their four neighbours; true when there are any. */
function markEdges(ids: usize, above: usize, below: usize): bool {
  let any = 0;
  let before = id(ids, 0);
  let here = before;
  for (let x = 0; x < width; x++) {
    const next = x < width - 1 ? id(ids, x + 1) : here;
    const other = (before ^ here) | (next ^ here) | (id(above, x) ^ here) | (id(below, x) ^ here);
    store<u8>(edge + <usize>x, <u8>(other !== 0));
    any |= other;
    before = here;
    here = next;
  }
  return any !== 0;
}

// Textures: width and height as powers of two, levels along and down, whether all pairs of levels are kept, nothing, then the address of
// each pair of levels, all i32. Each row of texels ends with its first once more, so that neighbours are read together.

/** Adds `weight` times level (lu, lv) at the n texels of the stretch to out[0 ..], f32. */
function addLevel(texture: usize, lu: i32, lv: i32, weight: f64, n: i32, out: usize): void {
  const texels = <usize>count4(texture + 24, lu * count4(texture, 3) + lv);
  const columns = 1 << (count4(texture, 0) - lu);
  const stride = i32x4.splat(columns + 1);
  const maskU = i32x4.splat(columns - 1);
  const maskV = i32x4.splat((1 << (count4(texture, 1) - lv)) - 1);
  const one = i32x4.splat(1);
  const scaleU = 1.0 / <f64>(1 << lu);
  const scaleV = 1.0 / <f64>(1 << lv);
  const allScaleU = f64x2.splat(scaleU);
  const allScaleV = f64x2.splat(scaleV);
  const firstU = f64x2.splat(PERIODS * scaleU - 0.5);
  const firstV = f64x2.splat(PERIODS * scaleV - 0.5);
  const allWeight = f64x2.splat(weight);
  for (let k = 0; k < n; k += 2) {
    const byte = (<usize>k) << 3;
    const fu = f64x2.add(f64x2.mul(v128.load(texelU + byte), allScaleU), firstU);
    const fv = f64x2.add(f64x2.mul(v128.load(texelV + byte), allScaleV), firstV);
    const wholeU = i32x4.trunc_sat_f64x2_s_zero(fu);
    const wholeV = i32x4.trunc_sat_f64x2_s_zero(fv);
    const du = f64x2.sub(fu, f64x2.convert_low_i32x4_s(wholeU));
    const dv = f64x2.sub(fv, f64x2.convert_low_i32x4_s(wholeV));
    const u0 = v128.and(wholeU, maskU);
    const row0 = i32x4.mul(v128.and(wholeV, maskV), stride);
    const row1 = i32x4.mul(v128.and(i32x4.add(wholeV, one), maskV), stride);
    const place0 = i32x4.shl(i32x4.add(row0, u0), 2);
    const place1 = i32x4.shl(i32x4.add(row1, u0), 2);
    const ab = neighbours(texels, place0);
    const cd = neighbours(texels, place1);
    const a = f64x2.promote_low_f32x4(v128.shuffle<f32>(ab, ab, 0, 2, 0, 2));
    const b = f64x2.promote_low_f32x4(v128.shuffle<f32>(ab, ab, 1, 3, 1, 3));
    const c = f64x2.promote_low_f32x4(v128.shuffle<f32>(cd, cd, 0, 2, 0, 2));
    const d = f64x2.promote_low_f32x4(v128.shuffle<f32>(cd, cd, 1, 3, 1, 3));
    const upper = f64x2.add(a, f64x2.mul(du, f64x2.sub(b, a)));
    const lower = f64x2.add(c, f64x2.mul(du, f64x2.sub(d, c)));
    const value = f64x2.add(upper, f64x2.mul(dv, f64x2.sub(lower, upper)));
    const target = out + ((<usize>k) << 2);
    const sum = f32x4.demote_f64x2_zero(
      f64x2.add(f64x2.promote_low_f32x4(v128.load64_zero(target)), f64x2.mul(allWeight, value)),
    );
    if (k + 1 < n) v128.store64_lane(target, sum, 0);
    else v128.store32_lane(target, sum, 0);
  }
}

/** Two texels beside each other at each of two places. */
function neighbours(texels: usize, place: v128): v128 {
  const one = v128.load64_zero(texels + <usize>i32x4.extract_lane(place, 0));
  return v128.load64_lane(texels + <usize>i32x4.extract_lane(place, 1), one, 1);
}

/** `sum` and `weight` times level (lu, lv) at one texel. */
function addOne(texture: usize, lu: i32, lv: i32, weight: f64, u: f64, v: f64, sum: f32): f32 {
  const texels = <usize>count4(texture + 24, lu * count4(texture, 3) + lv);
  const columns = 1 << (count4(texture, 0) - lu);
  const maskV = (1 << (count4(texture, 1) - lv)) - 1;
  const scaleU = 1.0 / <f64>(1 << lu);
  const scaleV = 1.0 / <f64>(1 << lv);
  const fu = u * scaleU + (PERIODS * scaleU - 0.5);
  const fv = v * scaleV + (PERIODS * scaleV - 0.5);
  const wholeU = <i32>fu;
  const wholeV = <i32>fv;
  const du = fu - <f64>wholeU;
  const dv = fv - <f64>wholeV;
  const u0 = wholeU & (columns - 1);
  const place0 = texels + ((<usize>((wholeV & maskV) * (columns + 1) + u0)) << 2);
  const place1 = texels + ((<usize>(((wholeV + 1) & maskV) * (columns + 1) + u0)) << 2);
  const a = <f64>load<f32>(place0);
  const b = <f64>load<f32>(place0, 4);
  const c = <f64>load<f32>(place1);
  const d = <f64>load<f32>(place1, 4);
  const upper = a + du * (b - a);
  return <f32>(<f64>sum + weight * (upper + dv * (c + du * (d - c) - upper)));
}

function blendShare(fraction: f64): f64 {
  const share = (fraction - BLEND_FROM) / BLEND_WIDTH;
  return share <= 0 ? 0 : share >= 1 ? 1 : share;
}

/** What the quick logarithm below may be off by, and more. */
const UNSURE: f64 = 0.001;

/** The binary logarithm within 0.0003: enough to tell most pixels, which need one level only, from those that need the exact one. */
function roughLog2(x: f64): f64 {
  const bits = reinterpret<i64>(x);
  const t = 2 * reinterpret<f64>((bits & 0xfffffffffffff) | 0x3ff0000000000000) - 3;
  const part = 0.584954 + t * (0.480584 + t * (-0.07998 + t * (0.019241 + t * -0.004947)));
  return <f64>(((<i32>(bits >> 52)) & 0x7ff) - 1023) + part;
}

/** The level that `chooseLevel` found, and the share of the next one. */
let level: i32 = 0;
let nextShare: f64 = 0;

/** Finds the levels of a pixel of a size. */
function chooseLevel(size: f64, highest: i32): void {
  const rough = roughLog2(size) + LEVEL_BIAS;
  if (rough < -UNSURE) {
    level = 0;
    nextShare = 0;
    return;
  }
  const whole = floor(rough);
  const fraction = rough - whole;
  if (fraction > UNSURE && fraction < 1 - UNSURE) {
    if (fraction < BLEND_FROM - UNSURE || fraction > BLEND_FROM + BLEND_WIDTH + UNSURE) {
      const isBeyond = <i32>whole > highest;
      level = isBeyond ? highest : <i32>whole;
      nextShare = isBeyond || fraction > 0.5 ? 1 : 0;
      return;
    }
  }
  let exact = log2(size) + LEVEL_BIAS;
  exact = exact > 0 ? exact : 0;
  level = <i32>min<f64>(floor(exact), <f64>highest);
  nextShare = blendShare(exact - <f64>level);
}

/** The levels of a pixel of the size that `measure` found, and the shares of the second ones. */
let levelU0: i32 = 0;
let levelU1: i32 = 0;
let levelV0: i32 = 0;
let levelV1: i32 = 0;
let shareU: f64 = 0;
let shareV: f64 = 0;

/** True when the texture keeps all pairs of levels; else one size, the larger one, goes for both directions. */
function chooseLevels(texture: usize): bool {
  const highestU = count4(texture, 2) - 1;
  const highestV = count4(texture, 3) - 1;
  const isGrazing = count4(texture, 4) !== 0;
  const larger = max<f64>(sizeU, sizeV);
  chooseLevel(isGrazing ? sizeU : larger, highestU);
  levelU0 = level;
  levelU1 = min<i32>(level + 1, highestU);
  shareU = nextShare;
  if (isGrazing || highestU !== highestV) chooseLevel(isGrazing ? sizeV : larger, highestV);
  levelV0 = level;
  levelV1 = min<i32>(level + 1, highestV);
  shareV = nextShare;
  return isGrazing;
}

/** Adds the texture at the n texels of the stretch to out[0 ..]. */
function addTexture(texture: usize, n: i32, out: usize): void {
  if (!chooseLevels(texture)) {
    if (shareU < 1) addLevel(texture, levelU0, levelV0, 1 - shareU, n, out);
    if (shareU > 0) addLevel(texture, levelU1, levelV1, shareU, n, out);
    return;
  }
  const w00 = (1 - shareU) * (1 - shareV);
  const w10 = shareU * (1 - shareV);
  const w01 = (1 - shareU) * shareV;
  const w11 = shareU * shareV;
  if (w00 > 0) addLevel(texture, levelU0, levelV0, w00, n, out);
  if (w10 > 0) addLevel(texture, levelU1, levelV0, w10, n, out);
  if (w01 > 0) addLevel(texture, levelU0, levelV1, w01, n, out);
  if (w11 > 0) addLevel(texture, levelU1, levelV1, w11, n, out);
}

/** The texture at one texel. */
function textureAt(texture: usize, u: f64, v: f64): f32 {
  let sum: f32 = 0;
  if (!chooseLevels(texture)) {
    if (shareU < 1) sum = addOne(texture, levelU0, levelV0, 1 - shareU, u, v, sum);
    if (shareU > 0) sum = addOne(texture, levelU1, levelV1, shareU, u, v, sum);
    return sum;
  }
  const w00 = (1 - shareU) * (1 - shareV);
  const w10 = shareU * (1 - shareV);
  const w01 = (1 - shareU) * shareV;
  const w11 = shareU * shareV;
  if (w00 > 0) sum = addOne(texture, levelU0, levelV0, w00, u, v, sum);
  if (w10 > 0) sum = addOne(texture, levelU1, levelV0, w10, u, v, sum);
  if (w01 > 0) sum = addOne(texture, levelU0, levelV1, w01, u, v, sum);
  if (w11 > 0) sum = addOne(texture, levelU1, levelV1, w11, u, v, sum);
  return sum;
}

/** Light of a map (columns and rows as i32, then its values as f32) at (u, v). */
function lightAt(light: usize, u: f64, v: f64): f64 {
  const columns = count4(light, 0);
  const rows = count4(light, 1);
  const values = light + 8;
  if (columns === 1 && rows === 1) return <f64>load<f32>(values);
  const x = min<f64>(max<f64>(u, 0), 1) * <f64>(columns - 1);
  const y = min<f64>(max<f64>(v, 0), 1) * <f64>(rows - 1);
  const column = min<f64>(floor(x), <f64>(columns - 2));
  const row = min<f64>(floor(y), <f64>(rows - 2));
  const dx = x - column;
  const dy = y - row;
  const at = values + ((<usize>(<i32>row * columns + <i32>column)) << 2);
  const below = at + ((<usize>columns) << 2);
  const a = <f64>load<f32>(at);
  const b = <f64>load<f32>(at, 4);
  const c = <f64>load<f32>(below);
  const d = <f64>load<f32>(below, 4);
  const upper = a + dx * (b - a);
  const lower = c + dx * (d - c);
  return upper + dy * (lower - upper);
}

// Shading.

/** Sets the size of a pixel in texels, at rectangle coordinates (u, v) and depth 1/w. */
function measure(plane: usize, number: usize, u: f64, v: f64, depth: f64): void {
  const scale = pixel * depth;
  const scaleAlong = scale * get(number, 0);
  const scaleDown = scale * get(number, 1);
  const wx = get(plane, 6);
  const wy = get(plane, 7);
  const ux = (get(plane, 0) - u * wx) * scaleAlong;
  const uy = (get(plane, 1) - u * wy) * scaleAlong;
  const vx = (get(plane, 3) - v * wx) * scaleDown;
  const vy = (get(plane, 4) - v * wy) * scaleDown;
  sizeU = sqrt(ux * ux + uy * uy) + 1e-9;
  sizeV = sqrt(vx * vx + vy * vy) + 1e-9;
}

/** Writes luminance of surface i to out[from .. to - 1], f32, which must be 0 before; opacity likewise unless its address is 0. */
function shadeRun(i: i32, from: i32, to: i32, out: usize, opacityOut: usize): void {
  const plane = planeOf(i);
  const number = numbers + <usize>i * NUMBER_BYTES;
  const look = looks + <usize>i * LOOK_BYTES;
  const texture = <usize>count4(look, 0);
  const light = <usize>count4(look, 1);
  const opacityTexture = <usize>count4(look, 2);
  const isEven = count4(light, 0) === 1 && count4(light, 1) === 1;
  const ux = f64x2.splat(get(plane, 0));
  const uy = f64x2.splat(get(plane, 1));
  const uc = f64x2.splat(get(plane, 2));
  const vx = f64x2.splat(get(plane, 3));
  const vy = f64x2.splat(get(plane, 4));
  const vc = f64x2.splat(get(plane, 5));
  const wx = f64x2.splat(get(plane, 6));
  const wy = f64x2.splat(get(plane, 7));
  const wc = f64x2.splat(get(plane, 8));
  const along = f64x2.splat(get(number, 0));
  const down = f64x2.splat(get(number, 1));
  const startU = f64x2.splat(get(number, 2));
  const startV = f64x2.splat(get(number, 3));
  const one = f64x2.splat(1);
  let x = from;
  while (x < to) {
    const end = min<i32>(to, (x / STRETCH_PX + 1) * STRETCH_PX);
    const n = end - x;
    const middle = n >> 1;
    for (let k = 0; k < n; k += 2) {
      const byte = (<usize>k) << 3;
      const ray = (<usize>(x + k)) << 3;
      const rx = v128.load(rayX + ray);
      const ry = v128.load(rayY + ray);
      const depth = f64x2.div(one, f64x2.add(f64x2.add(f64x2.mul(wx, rx), f64x2.mul(wy, ry)), wc));
      const u = f64x2.mul(f64x2.add(f64x2.add(f64x2.mul(ux, rx), f64x2.mul(uy, ry)), uc), depth);
      const v = f64x2.mul(f64x2.add(f64x2.add(f64x2.mul(vx, rx), f64x2.mul(vy, ry)), vc), depth);
      v128.store(stretchDepth + byte, depth);
      v128.store(stretchU + byte, u);
      v128.store(stretchV + byte, v);
      v128.store(texelU + byte, f64x2.add(startU, f64x2.mul(u, along)));
      v128.store(texelV + byte, f64x2.add(startV, f64x2.mul(v, down)));
    }
    measure(plane, number, get(stretchU, middle), get(stretchV, middle), get(stretchDepth, middle));
    const target = out + ((<usize>x) << 2);
    addTexture(texture, n, target);
    if (opacityOut !== 0 && opacityTexture !== 0)
      addTexture(opacityTexture, n, opacityOut + ((<usize>x) << 2));
    const begin = isEven ? <f64>load<f32>(light, 8) : lightAt(light, get(stretchU, 0), get(stretchV, 0));
    const step =
      isEven || n === 1
        ? 0.0
        : (lightAt(light, get(stretchU, n - 1), get(stretchV, n - 1)) - begin) / <f64>(n - 1);
    for (let k = 0; k < n; k++) {
      const place = target + ((<usize>k) << 2);
      store<f32>(place, <f32>(<f64>load<f32>(place) * (begin + <f64>k * step)));
    }
    x = end;
  }
}

/** Where a ray meets a surface, in texels, and the light there. */
let foundU: f64 = 0;
let foundV: f64 = 0;

function locate(i: i32, light: usize, rx: f64, ry: f64): f64 {
  const plane = planeOf(i);
  const number = numbers + <usize>i * NUMBER_BYTES;
  const depth = 1 / (get(plane, 6) * rx + get(plane, 7) * ry + get(plane, 8));
  const u = (get(plane, 0) * rx + get(plane, 1) * ry + get(plane, 2)) * depth;
  const v = (get(plane, 3) * rx + get(plane, 4) * ry + get(plane, 5)) * depth;
  foundU = get(number, 2) + u * get(number, 0);
  foundV = get(number, 3) + v * get(number, 1);
  measure(plane, number, u, v, depth);
  return lightAt(light, u, v);
}

/** What is seen at one ray of something of luminance `behind` through cut-out i. */
function shadeOver(i: i32, rx: f64, ry: f64, behind: f64): f64 {
  const look = looks + <usize>i * LOOK_BYTES;
  const light = locate(i, <usize>count4(look, 1), rx, ry);
  const opacityTexture = <usize>count4(look, 2);
  const share = opacityTexture === 0 ? 0 : min<f64>(1, <f64>textureAt(opacityTexture, foundU, foundV));
  if (share <= 0) return behind;
  return behind * (1 - share) + <f64>textureAt(<usize>count4(look, 0), foundU, foundV) * light;
}

/** Luminance of surface i at a ray, cut-outs in front of it included. */
function shadeThrough(i: i32, rx: f64, ry: f64, cutoutCount: i32): f64 {
  const look = looks + <usize>i * LOOK_BYTES;
  const light = locate(i, <usize>count4(look, 1), rx, ry);
  let seen = <f64>textureAt(<usize>count4(look, 0), foundU, foundV) * light;
  const plane = planeOf(i);
  const behind = get(plane, 6) * rx + get(plane, 7) * ry + get(plane, 8);
  for (let k = 0; k < cutoutCount; k++) {
    const c = id(cutouts, k);
    const front = planeOf(c);
    const w = get(front, 6) * rx + get(front, 7) * ry + get(front, 8);
    if (w <= behind) continue;
    const u = get(front, 0) * rx + get(front, 1) * ry + get(front, 2);
    const v = get(front, 3) * rx + get(front, 4) * ry + get(front, 5);
    if (u >= 0 && v >= 0 && u <= w && v <= w) seen = shadeOver(c, rx, ry, seen);
  }
  return seen;
}

// Pixels on the border between surfaces.

/** Spans of all active surfaces over the row, half a pixel wider on every side; gives how many. */
function listSpans(activeCount: i32, rowLow: f64, rowHigh: f64): i32 {
  const half = pixel / 2;
  let count = 0;
  for (let k = 0; k < activeCount; k++) {
    const i = id(active, k);
    narrowSpan(planeOf(i), rowLow - half, rowHigh + half);
    if (low > high) continue;
    putCount(listed, count, i);
    put(spanFrom, count, low - half);
    put(spanTo, count, high + half);
    count++;
  }
  return count;
}

/** Of the spans, those that reach into columns from..to, in their order; gives how many. */
function listBlock(from: i32, to: i32, count: i32): i32 {
  // Rays of a bent row need not rise with their columns.
  let least = get(rayX, from);
  let most = least;
  for (let x = from + 1; x <= to; x++) {
    least = min<f64>(least, get(rayX, x));
    most = max<f64>(most, get(rayX, x));
  }
  let kept = 0;
  for (let k = 0; k < count; k++) {
    if (!(most >= get(spanFrom, k) && least <= get(spanTo, k))) continue;
    putCount(block, kept, count4(listed, k));
    put(blockFrom, kept, get(spanFrom, k));
    put(blockTo, kept, get(spanTo, k));
    kept++;
  }
  return kept;
}

/** Keeps in `near` what can show in the pixel at a ray; what is fully behind another one that fills the pixel goes. */
function keepVisible(nearCount: i32, rx: f64, ry: f64): i32 {
  const reach = pixel * REACH;
  let kept = 0;
  let nearestFilling: f64 = 0;
  for (let k = 0; k < nearCount; k++) {
    const i = count4(near, k);
    const plane = planeOf(i);
    const ux = get(plane, 0);
    const uy = get(plane, 1);
    const vx = get(plane, 3);
    const vy = get(plane, 4);
    const wx = get(plane, 6);
    const wy = get(plane, 7);
    const u = ux * rx + uy * ry + get(plane, 2);
    const v = vx * rx + vy * ry + get(plane, 5);
    const w = wx * rx + wy * ry + get(plane, 8);
    const du = reach * (abs(ux) + abs(uy));
    const dv = reach * (abs(vx) + abs(vy));
    const dw = reach * (abs(wx) + abs(wy));
    if (u < -du || v < -dv || u > w + du + dw || v > w + dv + dw || w < -dw) continue;
    const fills = u > du && v > dv && u < w - du - dw && v < w - dv - dw;
    if (fills && w - dw > nearestFilling) nearestFilling = w - dw;
    putCount(near, kept, i);
    putCount(filling, kept, fills ? 1 : 0);
    put(middleU, kept, u);
    put(middleV, kept, v);
    put(middleW, kept, w);
    put(largestW, kept, w + dw);
    kept++;
  }
  let visible = 0;
  for (let k = 0; k < kept; k++) {
    if (get(largestW, k) < nearestFilling) continue;
    putCount(near, visible, count4(near, k));
    putCount(filling, visible, count4(filling, k));
    put(middleU, visible, get(middleU, k));
    put(middleV, visible, get(middleV, k));
    put(middleW, visible, get(middleW, k));
    visible++;
  }
  return visible;
}

/** Writes to bestAt (i64) which of the surfaces in `near` is in front at each of the places in a pixel; -1 where none is. */
function findFronts(count: i32): void {
  const none = i64x2.splat(-1);
  const zero = f64x2.splat(0);
  for (let s: usize = 0; s < (<usize>PLACES) << 3; s += 16) {
    v128.store(bestW + s, zero);
    v128.store(bestAt + s, none);
  }
  for (let k = 0; k < count; k++) {
    const plane = planeOf(count4(near, k));
    const here = i64x2.splat(<i64>k);
    const mu = f64x2.splat(get(middleU, k));
    const mv = f64x2.splat(get(middleV, k));
    const mw = f64x2.splat(get(middleW, k));
    const ux = f64x2.splat(get(plane, 0));
    const uy = f64x2.splat(get(plane, 1));
    const vx = f64x2.splat(get(plane, 3));
    const vy = f64x2.splat(get(plane, 4));
    const wx = f64x2.splat(get(plane, 6));
    const wy = f64x2.splat(get(plane, 7));
    const isPartial = count4(filling, k) === 0;
    for (let s: usize = 0; s < (<usize>PLACES) << 3; s += 16) {
      const dx = v128.load(placeX + s);
      const dy = v128.load(placeY + s);
      const before = v128.load(bestW + s);
      const w = f64x2.add(f64x2.add(mw, f64x2.mul(wx, dx)), f64x2.mul(wy, dy));
      let isFront = f64x2.gt(w, before);
      if (isPartial) {
        const u = f64x2.add(f64x2.add(mu, f64x2.mul(ux, dx)), f64x2.mul(uy, dy));
        const v = f64x2.add(f64x2.add(mv, f64x2.mul(vx, dx)), f64x2.mul(vy, dy));
        isFront = v128.and(isFront, v128.and(f64x2.ge(u, zero), f64x2.le(u, w)));
        isFront = v128.and(isFront, v128.and(f64x2.ge(v, zero), f64x2.le(v, w)));
      }
      v128.store(bestW + s, v128.bitselect(w, before, isFront));
      v128.store(bestAt + s, v128.bitselect(here, v128.load(bestAt + s), isFront));
    }
  }
}

function resolvePixel(x: i32, row: i32, nearCount: i32, cutoutCount: i32): f64 {
  const rx = get(rayX, x);
  const ry = get(rayY, x);
  const count = keepVisible(nearCount, rx, ry);
  if (count === 1 && count4(filling, 0) === 1) return shadeThrough(count4(near, 0), rx, ry, cutoutCount);
  const shiftX = (<f64>((5 * x + 7 * row) & 15) - 7.5) / 256;
  const shiftY = (<f64>((11 * x + 3 * row) & 15) - 7.5) / 256;
  for (let k = 0; k < count; k++) {
    putCount(places, k, 0);
    put(sumX, k, 0);
    put(sumY, k, 0);
  }
  for (let s = 0; s < PLACES; s++) {
    put(placeX, s, ((get(placeColumn, s) - 7.5) / <f64>PLACES + shiftX) * pixel);
    put(placeY, s, ((<f64>s - 7.5) / <f64>PLACES + shiftY) * pixel);
  }
  findFronts(count);
  for (let s = 0; s < PLACES; s++) {
    const k = <i32>load<i64>(bestAt + ((<usize>s) << 3));
    if (k < 0) continue;
    putCount(places, k, count4(places, k) + 1);
    put(sumX, k, get(sumX, k) + get(placeX, s));
    put(sumY, k, get(sumY, k) + get(placeY, s));
  }
  let sum: f64 = 0;
  for (let k = 0; k < count; k++) {
    const share = count4(places, k);
    if (share === 0) continue;
    const n = <f64>share;
    sum += shadeThrough(count4(near, k), rx + get(sumX, k) / n, ry + get(sumY, k) / n, cutoutCount) * n;
  }
  return sum / <f64>PLACES;
}

function resolveRow(row: i32, activeCount: i32, cutoutCount: i32, rowLow: f64, rowHigh: f64): void {
  const count = listSpans(activeCount, rowLow, rowHigh);
  let blockEnd = 0;
  let blockCount = 0;
  for (let x = 0; x < width; x++) {
    if (load<u8>(edge + <usize>x) === 0) continue;
    if (x >= blockEnd) {
      blockEnd = min<i32>(width, (x / BLOCK_PX + 1) * BLOCK_PX);
      blockCount = listBlock(x, blockEnd - 1, count);
    }
    const rx = get(rayX, x);
    let nearCount = 0;
    for (let k = 0; k < blockCount; k++) {
      if (rx >= get(blockFrom, k) && rx <= get(blockTo, k)) putCount(near, nearCount++, count4(block, k));
    }
    store<f32>(luma + ((<usize>x) << 2), <f32>resolvePixel(x, row, nearCount, cutoutCount));
  }
}

/** Draws cut-out i over columns from..to of a row where they are no edges (those have it already). */
function overlay(i: i32, from: i32, to: i32, ids: usize): void {
  const plane = planeOf(i);
  const bytes = (<usize>(to + 1 - from)) << 2;
  memory.fill(over + ((<usize>from) << 2), 0, bytes);
  memory.fill(opacity + ((<usize>from) << 2), 0, bytes);
  shadeRun(i, from, to + 1, over, opacity);
  for (let x = from; x <= to; x++) {
    const share = min<f64>(1, <f64>load<f32>(opacity + ((<usize>x) << 2)));
    if (share <= 0) continue;
    if (!straight && !hits(plane, x)) continue;
    const solid = id(ids, x);
    const rx = get(rayX, x);
    const ry = get(rayY, x);
    if (solid !== NO_SURFACE) {
      const w = get(plane, 6) * rx + get(plane, 7) * ry + get(plane, 8);
      const behind = planeOf(solid);
      if (get(behind, 6) * rx + get(behind, 7) * ry + get(behind, 8) >= w) continue;
    }
    const place = luma + ((<usize>x) << 2);
    if (load<u8>(edge + <usize>x) === 0)
      store<f32>(
        place,
        <f32>(<f64>load<f32>(place) * (1 - share) + <f64>load<f32>(over + ((<usize>x) << 2))),
      );
    if (share > 0.5) store<u16>(shown + ((<usize>x) << 1), <u16>i);
  }
}

/** Paints a row from its surfaces (`ids`, with those of the rows above and below) into the rows of luminance and of what is shown. */
export function paintRow(
  row: i32,
  ids: usize,
  above: usize,
  below: usize,
  activeCount: i32,
  cutoutCount: i32,
  rowLow: f64,
  rowHigh: f64,
): void {
  memory.fill(luma, 0, (<usize>width) << 2);
  memory.copy(shown, ids, (<usize>width) << 1);
  const hasEdges = markEdges(ids, above, below);
  let x = 0;
  while (x < width) {
    const i = id(ids, x);
    if (load<u8>(edge + <usize>x) !== 0 || i === NO_SURFACE) {
      x++;
      continue;
    }
    const from = x;
    while (x < width && load<u8>(edge + <usize>x) === 0 && id(ids, x) === i) x++;
    shadeRun(i, from, x, luma, 0);
  }
  if (hasEdges) resolveRow(row, activeCount, cutoutCount, rowLow, rowHigh);
  for (let k = 0; k < cutoutCount; k++) {
    const c = id(cutouts, k);
    if (columnRange(planeOf(c), rowLow, rowHigh)) overlay(c, first, last, ids);
  }
}
