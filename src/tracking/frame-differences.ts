/** What a frame looks like beside the one before: brightness, contrast, change and likeness, from grey levels 0..255. */

import { mean } from '../numerics/index.js';
import { relightBetween } from './doubt/relight.js';
import type { Relight } from './protocol.js';

/** Side of the thumbnail grid, blocks: coarse enough that a few pixels of motion do not change it. */
const BLOCKS = { columns: 32, rows: 18 } as const;

/** Bands of the picture, top to bottom, whose brightness is followed; each is a whole number of rows of blocks. */
export const LEVEL_BANDS = 9;

/** Every fourth row is looked at: enough for every figure but the exact comparison, at a quarter of the cost. */
const ROW_STEP = 4;

/** Bins of the grey histogram. */
const BINS = 32;

/** Figures of one frame; the comparisons are null for the first. */
export interface FrameLook {
  readonly meanGrey: number;
  /** Standard deviation of the grey levels. */
  readonly contrastGrey: number;
  /** Mean grey level of each band, top first, length LEVEL_BANDS. */
  readonly bandGrey: Float64Array;
  /** Mean absolute change from the frame before, grey levels. */
  readonly changeGrey: number | null;
  /** True when every pixel equals that of the frame before. */
  readonly identical: boolean;
  /** Correlation of the two thumbnails, -1..1; 1 when both are flat. */
  readonly likeness: number | null;
  /** What the light became from the frame before; null where it held. */
  readonly relight: Relight | null;
  /** Share of the pixels that would have to change grey level to turn one histogram into the other, 0..1. */
  readonly histogramChange: number | null;
}

interface Summary {
  readonly grey: Uint8Array;
  readonly thumbnail: Float64Array;
  readonly histogram: Float64Array;
}

/** Compares each frame with the one before it. */
export class FrameComparer {
  #before: Summary | undefined;
  readonly #widthPx: number;
  readonly #heightPx: number;
  /** First column of each column of blocks, and the width. */
  readonly #edges: Int32Array;

  constructor(widthPx: number, heightPx: number) {
    this.#widthPx = widthPx;
    this.#heightPx = heightPx;
    const { columns } = BLOCKS;
    this.#edges = Int32Array.from({ length: columns + 1 }, (_, c) => Math.ceil((c * widthPx) / columns));
  }

  /** Looks at the next frame; keeps a reference to it until the one after. */
  look(grey: Uint8Array): FrameLook {
    const before = this.#before;
    const { thumbnail, changeGrey, counts } = this.#summarise(grey, before?.grey);
    const { histogram, meanGrey, contrastGrey } = levelsOf(counts);
    const now = { grey, thumbnail, histogram };
    const bandGrey = bandMeans(thumbnail);
    this.#before = now;
    if (!before)
      return {
        meanGrey,
        contrastGrey,
        bandGrey,
        changeGrey: null,
        identical: false,
        likeness: null,
        relight: null,
        histogramChange: null,
      };
    return {
      meanGrey,
      contrastGrey,
      bandGrey,
      changeGrey,
      identical: changeGrey === 0 && Buffer.compare(before.grey, grey) === 0,
      likeness: correlation(before.thumbnail, now.thumbnail),
      relight: relightBetween(before.thumbnail, now.thumbnail),
      histogramChange: histogramDistance(before.histogram, now.histogram),
    };
  }

  /** Means of the blocks, mean absolute change, and how many pixels have each grey level: in one pass, which every frame costs. */
  #summarise(
    grey: Uint8Array,
    before: Uint8Array | undefined,
  ): { readonly thumbnail: Float64Array; readonly changeGrey: number; readonly counts: Int32Array } {
    const { columns, rows } = BLOCKS;
    const width = this.#widthPx;
    const counts = new Int32Array(256);
    const sums = new Float64Array(columns * rows);
    const sizes = new Float64Array(columns * rows);
    const old = before ?? grey;
    let change = 0;
    let total = 0;
    for (let y = 0; y < this.#heightPx; y += ROW_STEP) {
      const row = Math.floor((y * rows) / this.#heightPx) * columns;
      for (let column = 0; column < columns; column++) {
        const from = y * width + this.#edges[column];
        const to = y * width + this.#edges[column + 1];
        let sum = 0;
        let changed = 0;
        for (let i = from; i < to; i++) {
          const level = grey[i];
          sum += level;
          counts[level] += 1;
          // A picture beside itself shows no change.
          changed += Math.abs(old[i] - level);
        }
        change += changed;
        sums[row + column] += sum;
        sizes[row + column] += to - from;
      }
      total += width;
    }
    const thumbnail = sums.map((sum, i) => (sizes[i] ? sum / sizes[i] : 0));
    return { thumbnail, changeGrey: change / total, counts };
  }
}

/** Means of the bands of a thumbnail. */
function bandMeans(thumbnail: Float64Array): Float64Array {
  const size = thumbnail.length / LEVEL_BANDS;
  return Float64Array.from({ length: LEVEL_BANDS }, (_, b) =>
    mean(thumbnail.subarray(b * size, (b + 1) * size)),
  );
}

/** Histogram as shares, mean and standard deviation of levels that were counted. */
function levelsOf(counts: Int32Array): { histogram: Float64Array; meanGrey: number; contrastGrey: number } {
  const total = counts.reduce((all, count) => all + count, 0);
  const histogram = new Float64Array(BINS);
  let sum = 0;
  let squares = 0;
  for (let level = 0; level < 256; level++) {
    histogram[Math.floor((level * BINS) / 256)] += counts[level] / total;
    sum += counts[level] * level;
    squares += counts[level] * level * level;
  }
  const meanGrey = sum / total;
  return { histogram, meanGrey, contrastGrey: Math.sqrt(Math.max(0, squares / total - meanGrey * meanGrey)) };
}

function correlation(a: Float64Array, b: Float64Array): number {
  const meanA = mean(a);
  const meanB = mean(b);
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let i = 0; i < a.length; i++) {
    ab += (a[i] - meanA) * (b[i] - meanB);
    aa += (a[i] - meanA) ** 2;
    bb += (b[i] - meanB) ** 2;
  }
  if (aa === 0 && bb === 0) return 1;
  return aa === 0 || bb === 0 ? 0 : ab / Math.sqrt(aa * bb);
}

/** Half the sum of absolute differences of two histograms of shares. */
function histogramDistance(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += Math.abs(a[i] - b[i]);
  return sum / 2;
}
