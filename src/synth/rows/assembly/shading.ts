/** Luminance of surfaces in runs of pixels and at single rays: shading.ts. */
import {
  LOOK_BYTES,
  NUMBER_BYTES,
  STRETCH_PX,
  count4,
  cutouts,
  get,
  id,
  looks,
  numbers,
  planeOf,
  rayX,
  rayY,
  stretchDepth,
  stretchU,
  stretchV,
  texelU,
  texelV,
} from './memory';
import { addTexture, measure, textureAt } from './textures';

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

/** Writes luminance of surface i to out[from .. to - 1], f32, which must be 0 before; opacity likewise unless its address is 0. */
export function shadeRun(i: i32, from: i32, to: i32, out: usize, opacityOut: usize): void {
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
export function shadeThrough(i: i32, rx: f64, ry: f64, cutoutCount: i32): f64 {
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
