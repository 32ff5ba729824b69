/** Pixels on the border between surfaces: edge-pixels.ts. */
import {
  PLACES,
  active,
  bestAt,
  bestW,
  block,
  blockFrom,
  blockTo,
  count4,
  edge,
  filling,
  get,
  id,
  largestW,
  listed,
  luma,
  middleU,
  middleV,
  middleW,
  near,
  pixel,
  placeColumn,
  placeX,
  placeY,
  places,
  planeOf,
  put,
  putCount,
  rayX,
  rayY,
  spanFrom,
  spanTo,
  sumX,
  sumY,
  width,
} from './memory';
import { shadeThrough } from './shading';
import { high, low, narrowSpan } from './spans';

const REACH: f64 = 0.5;
/** Columns that share a list of the surfaces that may lie in them. */
const BLOCK_PX: i32 = 16;

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

/** Paints the pixels of a row that are marked as edges. */
export function resolveRow(row: i32, activeCount: i32, cutoutCount: i32, rowLow: f64, rowHigh: f64): void {
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
