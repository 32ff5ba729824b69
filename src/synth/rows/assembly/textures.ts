/**
 * Textures at texels, between two levels where a pixel is large: texture-sampling.ts.
 *
 * A texture in memory is its width and height as powers of two, levels along and down, whether all pairs of levels are kept, nothing,
 * then the address of each pair of levels, all i32. Each row of texels ends with its first once more, so that neighbours are read together.
 */
import { count4, get, pixel, texelU, texelV } from './memory';

/** The logarithm of the plain loops: the two must not differ in a bit. A call of it costs more than what else is done for a level. */
declare function log2(x: f64): f64;

const LEVEL_BIAS: f64 = 0.6;
const BLEND_FROM: f64 = 0.3;
const BLEND_WIDTH: f64 = 0.4;
const PERIODS: f64 = 1048576;

/** Size of a pixel in texels, along and down, as `measure` found it. */
let sizeU: f64 = 1;
let sizeV: f64 = 1;

/** Sets the size of a pixel in texels, at rectangle coordinates (u, v) and depth 1/w. */
export function measure(plane: usize, number: usize, u: f64, v: f64, depth: f64): void {
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
export function addTexture(texture: usize, n: i32, out: usize): void {
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
export function textureAt(texture: usize, u: f64, v: f64): f32 {
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
