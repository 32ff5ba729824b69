/**
 * From luminance to frames of bytes: exposure (mean of several instants), lens softness, tone, sensor noise, colour.
 */
import { gaussianRandom, seededRandom } from '../numerics/index.js';
import { NO_SURFACE, type LumaPicture } from './rows/row-painter.js';
import type { Tint } from './surface.js';

/** What happens to the light on its way to the file. */
export interface DevelopOptions {
  readonly softnessPx: number;
  readonly brightness: number;
  readonly contrast: number;
  readonly transfer: 'display' | 'log';
  readonly noiseGrey: number;
}

/** Grey level around which contrast turns. */
const MIDDLE = 0.45;
/** Log transfer: black level, and stops of the scene that fill the range, as camera logs have them. */
const LOG_BLACK = 0.1;
const LOG_GAIN = 30;
const LOG_RANGE = 0.62;

const NOISE_TABLE = 1 << 16;
let noiseTable: Float32Array | null = null;

function normals(): Float32Array {
  if (!noiseTable) {
    const next = gaussianRandom(seededRandom(20_011));
    noiseTable = Float32Array.from({ length: NOISE_TABLE }, () => next());
  }
  return noiseTable;
}

/** Blurs in place with the kernel k, 1-2k, k along rows and columns (k = half the variance); borders are held. */
export function soften(luma: Float32Array, width: number, height: number, softnessPx: number): void {
  const k = (softnessPx * softnessPx) / 2;
  if (k === 0) return;
  const m = 1 - 2 * k;
  for (let y = 0; y < height; y++) {
    const row = y * width;
    let left = luma[row];
    for (let x = 0; x < width; x++) {
      const here = luma[row + x];
      const right = x + 1 < width ? luma[row + x + 1] : here;
      luma[row + x] = m * here + k * (left + right);
      left = here;
    }
  }
  const above = luma.slice(0, width);
  for (let y = 0; y < height; y++) {
    const row = y * width;
    const below = y + 1 < height ? row + width : row;
    for (let x = 0; x < width; x++) {
      const here = luma[row + x];
      luma[row + x] = m * here + k * (above[x] + luma[below + x]);
      above[x] = here;
    }
  }
}

/**
 * Turns luminance into grey levels 0..255, still as floating point and neither rounded nor limited.
 *
 * @param luma changed in place
 * @param seed of the noise of this frame
 * @returns `luma`
 */
export function toGreyLevels(
  luma: Float32Array,
  width: number,
  height: number,
  options: DevelopOptions,
  seed: number,
): Float32Array {
  soften(luma, width, height, options.softnessPx);
  const { brightness, contrast, noiseGrey } = options;
  const n = luma.length;
  if (options.transfer === 'log') {
    const scale = LOG_RANGE / Math.log2(1 + LOG_GAIN);
    for (let i = 0; i < n; i++)
      luma[i] = LOG_BLACK + scale * Math.log2(1 + LOG_GAIN * Math.max(0, luma[i] * brightness));
  } else if (brightness !== 1) for (let i = 0; i < n; i++) luma[i] *= brightness;
  const offset = 255 * MIDDLE * (1 - contrast) * (options.transfer === 'log' ? 1 : Math.min(1, brightness));
  const gain = 255 * contrast;
  for (let i = 0; i < n; i++) luma[i] = gain * luma[i] + offset;
  if (noiseGrey > 0) {
    const table = normals();
    // A 32-bit xorshift (Marsaglia 2003) picks from the table: fast, and its own for each frame.
    let state = (Math.imul(seed + 1, 0x9e3779b1) ^ 0x5bd1e995) | 1;
    for (let i = 0; i < n; i++) {
      state ^= state << 13;
      state ^= state >>> 17;
      state ^= state << 5;
      luma[i] += noiseGrey * table[(state >>> 8) & (NOISE_TABLE - 1)];
    }
  }
  return luma;
}

/** Rounds grey levels to bytes. */
export function greyBytes(levels: Float32Array): Uint8Array {
  const out = new Uint8ClampedArray(levels.length);
  for (let i = 0; i < levels.length; i++) out[i] = levels[i];
  return new Uint8Array(out.buffer);
}

/** Grey levels with the tints of what is shown, as red, green, blue bytes. @param tints of surfaces, then cut-outs */
export function colourBytes(levels: Float32Array, picture: LumaPicture, tints: readonly Tint[]): Uint8Array {
  const out = new Uint8ClampedArray(3 * levels.length);
  const { shown } = picture;
  const table = new Float32Array(3 * tints.length);
  tints.forEach((shade, i) => table.set(shade, 3 * i));
  for (let i = 0, o = 0; i < levels.length; i++, o += 3) {
    const level = levels[i];
    const id = shown[i];
    if (id === NO_SURFACE) {
      out[o] = out[o + 1] = out[o + 2] = level;
      continue;
    }
    out[o] = level * table[3 * id];
    out[o + 1] = level * table[3 * id + 1];
    out[o + 2] = level * table[3 * id + 2];
  }
  return new Uint8Array(out.buffer);
}
