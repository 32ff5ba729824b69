/**
 * Reads prefiltered textures at texel coordinates, bilinear within a level and blended between levels of sharpness.
 *
 * Texel i of the finest level has its centre at i + 0.5. Levels are chosen from the size of one picture pixel in texels, so
 * the surface seen by the camera is one fixed, continuous pattern and moves with sub-pixel exactness.
 */
import type { LightMap } from './surface.js';
import type { Texture } from './texture.js';

/** Added to log2(texels per pixel): above 0 the picture is a little softer than its pixels and free of aliases. */
const LEVEL_BIAS = 0.6;
/** Near a whole level the other one is left out: half of the blends cost nothing. */
const BLEND_FROM = 0.3;
const BLEND_WIDTH = 0.4;
/** Added to texel coordinates, whole periods at every level: they are positive then, and cutting off is rounding down. */
const PERIODS = 1 << 20;

/** Adds `weight` times level (lu, lv) at n texel coordinates to out[at ..]. */
function addLevel(
  texture: Texture,
  lu: number,
  lv: number,
  weight: number,
  n: number,
  u: Float64Array,
  v: Float64Array,
  out: Float32Array,
  at: number,
): void {
  const texels = texture.texels;
  const start = texture.offsets[lu * texture.levelsV + lv];
  const shift = texture.widthLog2 - lu;
  const maskU = (1 << shift) - 1;
  const maskV = (1 << (texture.heightLog2 - lv)) - 1;
  const scaleU = 1 / (1 << lu);
  const scaleV = 1 / (1 << lv);
  const firstU = PERIODS * scaleU - 0.5;
  const firstV = PERIODS * scaleV - 0.5;
  for (let k = 0; k < n; k++) {
    const fu = u[k] * scaleU + firstU;
    const fv = v[k] * scaleV + firstV;
    const wholeU = fu | 0;
    const wholeV = fv | 0;
    const du = fu - wholeU;
    const dv = fv - wholeV;
    const u0 = wholeU & maskU;
    const u1 = (wholeU + 1) & maskU;
    const row0 = start + ((wholeV & maskV) << shift);
    const row1 = start + (((wholeV + 1) & maskV) << shift);
    const a = texels[row0 + u0];
    const b = texels[row0 + u1];
    const c = texels[row1 + u0];
    const d = texels[row1 + u1];
    const upper = a + du * (b - a);
    out[at + k] += weight * (upper + dv * (c + du * (d - c) - upper));
  }
}

function blendShare(fraction: number): number {
  const share = (fraction - BLEND_FROM) / BLEND_WIDTH;
  return share <= 0 ? 0 : share >= 1 ? 1 : share;
}

/**
 * Adds n texture values to out[at ..].
 *
 * @param u texel coordinates along, first n used
 * @param v texel coordinates down, first n used
 * @param sizeU texels per picture pixel along, > 0; one value for the whole stretch
 * @param sizeV the same down
 */
export function addTexture(
  texture: Texture,
  n: number,
  u: Float64Array,
  v: Float64Array,
  sizeU: number,
  sizeV: number,
  out: Float32Array,
  at: number,
): void {
  const highestU = texture.levelsU - 1;
  const highestV = texture.levelsV - 1;
  let levelU = Math.log2(sizeU) + LEVEL_BIAS;
  let levelV = Math.log2(sizeV) + LEVEL_BIAS;
  if (!texture.grazing) levelU = levelV = Math.max(levelU, levelV);
  levelU = levelU > 0 ? levelU : 0;
  levelV = levelV > 0 ? levelV : 0;
  const lu = Math.min(Math.floor(levelU), highestU);
  const lv = Math.min(Math.floor(levelV), highestV);
  const nextU = Math.min(lu + 1, highestU);
  const nextV = Math.min(lv + 1, highestV);
  const shareU = blendShare(levelU - lu);
  const shareV = blendShare(levelV - lv);
  if (!texture.grazing) {
    if (shareU < 1) addLevel(texture, lu, lv, 1 - shareU, n, u, v, out, at);
    if (shareU > 0) addLevel(texture, nextU, nextV, shareU, n, u, v, out, at);
    return;
  }
  const w00 = (1 - shareU) * (1 - shareV);
  const w10 = shareU * (1 - shareV);
  const w01 = (1 - shareU) * shareV;
  const w11 = shareU * shareV;
  if (w00 > 0) addLevel(texture, lu, lv, w00, n, u, v, out, at);
  if (w10 > 0) addLevel(texture, nextU, lv, w10, n, u, v, out, at);
  if (w01 > 0) addLevel(texture, lu, nextV, w01, n, u, v, out, at);
  if (w11 > 0) addLevel(texture, nextU, nextV, w11, n, u, v, out, at);
}

/** Light at (u, v), each 0..1 over the rectangle; held at the borders. */
export function lightAt(light: LightMap, u: number, v: number): number {
  const { columns, rows, values } = light;
  if (columns === 1 && rows === 1) return values[0];
  const x = Math.min(Math.max(u, 0), 1) * (columns - 1);
  const y = Math.min(Math.max(v, 0), 1) * (rows - 1);
  const column = Math.min(Math.floor(x), columns - 2);
  const row = Math.min(Math.floor(y), rows - 2);
  const dx = x - column;
  const dy = y - row;
  const at = row * columns + column;
  const upper = values[at] + dx * (values[at + 1] - values[at]);
  const lower = values[at + columns] + dx * (values[at + columns + 1] - values[at + columns]);
  return upper + dy * (lower - upper);
}
