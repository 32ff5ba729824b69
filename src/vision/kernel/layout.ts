/** Where in the shared memory of the kernel everything lies: addresses in bytes, lengths in pixels. */

import { rowCount, type TemplateSize } from '../template-window.js';
import type { SharedMemory } from './web-assembly.js';

/** What the pictures of a clip will be used for; it decides how much memory they need. */
export interface PictureUse {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Standard deviation of the blur, px; 0 for none. */
  readonly blurSigmaPx: number;
  /** Side of the window of Lucas-Kanade, px, and its halvings above the base. */
  readonly windowPx: number;
  readonly levels: number;
  /** Side of the block of the corner strength, px. */
  readonly blockPx: number;
  readonly template: TemplateSize;
  /** Threads that share the pictures. */
  readonly threads: number;
}

/** One level of a pyramid: its first pixel lies behind a border of `padPx` on each side. */
export interface Level {
  readonly address: number;
  readonly strideBytes: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Scratch memory of one thread. */
export interface Scratch {
  readonly work: number;
  readonly points: number;
  readonly next: number;
  readonly found: number;
  readonly map: number;
  /** The template that is looked for, the weights of its pixels, and its place with what the search works with. */
  readonly template: number;
  readonly templateWeights: number;
  readonly place: number;
}

/** All addresses. */
export interface Layout {
  readonly bytes: number;
  /** Word on which the threads meet. */
  readonly meeting: number;
  /** Weights of the blur, floats. */
  readonly weights: number;
  readonly radiusPx: number;
  readonly relight: number;
  /** Frames as they come, unblurred. */
  readonly frames: readonly number[];
  /** Levels of each pyramid, finest first, and the address of their records for the kernel. */
  readonly pyramids: readonly { readonly records: number; readonly levels: readonly Level[] }[];
  readonly padPx: number;
  /** Pictures blurred and not rounded: those of even and of odd number. */
  readonly smooth: readonly number[];
  readonly scratch: readonly Scratch[];
}

/** Frames held as they came: the current one, and the one being written. */
export const FRAMES = 2;

/** Pyramids: the previous picture, the current one, and room for the next or for the previous one in a new light. */
const PYRAMIDS = 3;

/** Points handed to the kernel at once. */
export const BATCH = 256;

/** Rows of the whole width that a map of corner strengths may take at once. */
export const MAP_ROWS = 16;

/** Bytes of the record of a level. */
const RECORD_BYTES = 16;

/** Bytes of a template before its rows: 8 x 8 doubles of its matrix and two more. */
const TEMPLATE_HEAD_BYTES = 8 * (64 + 2);

/** Bytes of a place: six doubles, one of the answer, and two times eight to work with; or what cutting works with: 36 + 8 vectors. */
const PLACE_BYTES = Math.max(8 * (6 + 1 + 16), 16 * (36 + 8));

/** The kernel reads and writes up to sixteen pixels at once: so much may lie behind the end of anything. */
const SLACK = 64;

/** Lays out the memory for the pictures of a clip. */
export function layOut(use: PictureUse): Layout {
  const { widthPx, heightPx, windowPx, blockPx } = use;
  const radiusPx = use.blurSigmaPx > 0 ? Math.ceil(3 * use.blurSigmaPx) : 0;
  // A window may lie outside with all but one pixel; a block as well. Slopes and wide reads take a few pixels more.
  const padPx = roundUp(Math.max(windowPx, blockPx) + 10, 16);
  let end = SLACK;
  const take = (bytes: number): number => {
    const at = end;
    end = roundUp(at + bytes + SLACK, 64);
    return at;
  };
  const meeting = take(4);
  const weights = take(4 * (2 * radiusPx + 1));
  const relight = take(256);
  const frames = Array.from({ length: FRAMES }, () => take(widthPx * heightPx));
  const sizes = levelSizes(use);
  const pyramids = Array.from({ length: PYRAMIDS }, () => ({
    records: take(RECORD_BYTES * sizes.length),
    levels: sizes.map((size) => {
      const strideBytes = roundUp(size.widthPx + 2 * padPx, 16);
      const start = take(strideBytes * (size.heightPx + 2 * padPx));
      return { ...size, strideBytes, address: start + padPx * strideBytes + padPx };
    }),
  }));
  // Two, because one thread may begin the next picture while another still cuts templates out of this one.
  const smooth = [0, 1].map(() => take(4 * widthPx * heightPx));
  const rows = [
    4 * (2 * radiusPx + 2) * (widthPx + 2 * radiusPx + 24),
    2 * (widthPx + 2 * padPx),
    12 * (blockPx + 1) * (widthPx + blockPx + 16),
    4 * (windowPx + 1) * (windowPx + 16) + 6 * windowPx * roundUp(windowPx, 8),
  ];
  const scratch = Array.from({ length: use.threads }, () => ({
    work: take(Math.max(...rows)),
    points: take(8 * BATCH),
    next: take(8 * BATCH),
    found: take(BATCH),
    map: take(4 * MAP_ROWS * widthPx),
    template: take(templateBytes(use.template)),
    templateWeights: take(windowBytes(use.template)),
    place: take(PLACE_BYTES),
  }));
  return {
    bytes: end,
    meeting,
    weights,
    radiusPx,
    relight,
    frames,
    pyramids,
    padPx,
    smooth,
    scratch,
  };
}

/** Bytes of a template: its head, then levels and slopes; a multiple of eight. */
export function templateBytes(size: TemplateSize): number {
  return TEMPLATE_HEAD_BYTES + 3 * windowBytes(size);
}

/** Bytes of one number for each sample of a window. */
function windowBytes(size: TemplateSize): number {
  return 4 * templateRowFloats(size.halfPx) * rowCount(size);
}

/** Floats of a row of a template: a whole number of vectors of four. */
export function templateRowFloats(halfPx: number): number {
  return roundUp(2 * halfPx + 1, 4);
}

/** Sizes of the levels: halved while both sides stay longer than the window. */
function levelSizes(use: PictureUse): { widthPx: number; heightPx: number }[] {
  let { widthPx, heightPx } = use;
  const sizes = [{ widthPx, heightPx }];
  for (let level = 1; level <= use.levels; level++) {
    widthPx = Math.ceil(widthPx / 2);
    heightPx = Math.ceil(heightPx / 2);
    if (widthPx <= use.windowPx || heightPx <= use.windowPx) break;
    sizes.push({ widthPx, heightPx });
  }
  return sizes;
}

function roundUp(value: number, step: number): number {
  return Math.ceil(value / step) * step;
}

/** Writes what never changes: the records of the levels and the weights of the blur. */
export function writeConstants(memory: SharedMemory, layout: Layout, sigmaPx: number): void {
  for (const { records, levels } of layout.pyramids) {
    levels.forEach(({ address, strideBytes, widthPx, heightPx }, i) => {
      new Int32Array(memory.buffer, records + RECORD_BYTES * i, 4).set([
        address,
        strideBytes,
        widthPx,
        heightPx,
      ]);
    });
  }
  const { radiusPx, weights } = layout;
  const density = Array.from({ length: 2 * radiusPx + 1 }, (_, i) =>
    radiusPx ? Math.exp(-0.5 * ((i - radiusPx) / sigmaPx) ** 2) : 1,
  );
  const sum = density.reduce((total, one) => total + one, 0);
  new Float32Array(memory.buffer, weights, density.length).set(density.map((one) => one / sum));
}
