/**
 * Textures of made-up surfaces: luminance 0..1 on a periodic grid of texels, prefiltered to every coarser size, so that a
 * picture taken from any distance holds nothing finer than its own pixels.
 *
 * Each level halves one or both directions with the binomial kernel 1 3 3 1. A texture seen at grazing angles keeps all
 * pairs of horizontal and vertical levels (four times the memory), other textures only the diagonal of them.
 */

/** A prefiltered texture; sizes are powers of two and the pattern repeats in both directions. */
export interface Texture {
  readonly widthLog2: number;
  readonly heightLog2: number;
  /** Levels in each direction: widthLog2 + 1 and heightLog2 + 1. */
  readonly levelsU: number;
  readonly levelsV: number;
  /** True when every pair of levels is kept. */
  readonly grazing: boolean;
  /** Start of level (lu, lv) in `texels`, at lu * levelsV + lv; -1 where that pair is not kept. */
  readonly offsets: Int32Array;
  /** All levels, one after another, each row by row; shared memory, so that threads need no copy. */
  readonly texels: Float32Array;
}

/** Half the width, periodic, kernel 1 3 3 1: texel i of the result lies between texels 2i and 2i+1. */
function halveAcross(source: Float32Array, width: number, height: number): Float32Array {
  const half = width >> 1;
  const mask = width - 1;
  const out = new Float32Array(half * height);
  for (let y = 0; y < height; y++) {
    const row = y * width;
    for (let x = 0; x < half; x++) {
      const c = 2 * x;
      const outer = source[row + ((c - 1) & mask)] + source[row + ((c + 2) & mask)];
      out[y * half + x] = (outer + 3 * (source[row + c] + source[row + c + 1])) / 8;
    }
  }
  return out;
}

/** Half the height, periodic, same kernel. */
function halveDown(source: Float32Array, width: number, height: number): Float32Array {
  const half = height >> 1;
  const mask = height - 1;
  const out = new Float32Array(width * half);
  for (let y = 0; y < half; y++) {
    const c = 2 * y;
    const above = ((c - 1) & mask) * width;
    const first = c * width;
    const second = first + width;
    const below = ((c + 2) & mask) * width;
    for (let x = 0; x < width; x++) {
      const outer = source[above + x] + source[below + x];
      out[y * width + x] = (outer + 3 * (source[first + x] + source[second + x])) / 8;
    }
  }
  return out;
}

/** The kept levels as [lu, lv, texels], finest first. */
function levelsOf(base: Float32Array, widthLog2: number, heightLog2: number, grazing: boolean) {
  const out: [number, number, Float32Array][] = [];
  if (grazing) {
    let column = base;
    for (let lu = 0; lu <= widthLog2; lu++) {
      if (lu > 0) column = halveAcross(column, 1 << (widthLog2 - lu + 1), 1 << heightLog2);
      let level = column;
      for (let lv = 0; lv <= heightLog2; lv++) {
        if (lv > 0) level = halveDown(level, 1 << (widthLog2 - lu), 1 << (heightLog2 - lv + 1));
        out.push([lu, lv, level]);
      }
    }
    return out;
  }
  let level = base;
  out.push([0, 0, level]);
  for (let l = 1; l <= Math.max(widthLog2, heightLog2); l++) {
    const w = Math.max(0, widthLog2 - l + 1);
    const h = Math.max(0, heightLog2 - l + 1);
    if (w > 0) level = halveAcross(level, 1 << w, 1 << h);
    if (h > 0) level = halveDown(level, 1 << Math.max(0, w - 1), 1 << h);
    out.push([Math.min(l, widthLog2), Math.min(l, heightLog2), level]);
  }
  return out;
}

/**
 * Makes the texture of a base pattern.
 *
 * @param base luminance (or opacity) 0..1, length 2^widthLog2 * 2^heightLog2, row by row, periodic; not changed
 * @param grazing keep all pairs of levels, for floors and walls that run away from the camera
 * @throws RangeError when the length does not fit the size
 */
export function makeTexture(
  base: Float32Array,
  widthLog2: number,
  heightLog2: number,
  grazing: boolean,
): Texture {
  if (base.length !== 1 << (widthLog2 + heightLog2)) {
    throw new RangeError(`base must hold ${1 << (widthLog2 + heightLog2)} texels, got ${base.length}`);
  }
  const levels = levelsOf(base, widthLog2, heightLog2, grazing);
  const levelsU = widthLog2 + 1;
  const levelsV = heightLog2 + 1;
  const offsets = new Int32Array(levelsU * levelsV).fill(-1);
  const total = levels.reduce((sum, [, , level]) => sum + level.length, 0);
  const texels = new Float32Array(new SharedArrayBuffer(4 * total));
  let at = 0;
  for (const [lu, lv, level] of levels) {
    offsets[lu * levelsV + lv] = at;
    texels.set(level, at);
    at += level.length;
  }
  return { widthLog2, heightLog2, levelsU, levelsV, grazing, offsets, texels };
}
