/** Two consecutive pictures in memory that several threads share: each makes its strip of them and follows its points. */
import { assert } from '../../run/plain.js';
import { MIN_EIGENVALUE, resolveLucasKanade } from '../lucas-kanade.js';
import { needPart } from '../corner-strength.js';
import type {
  Area,
  Corners,
  FoundPoints,
  LucasKanadeOptions,
  PicturePair,
  Points,
  SmoothPicture,
  TemplateCutter,
} from '../types.js';
import type { TemplateSize } from '../template-window.js';
import { kernelTemplates } from './kernel-templates.js';
import { BATCH, MAP_ROWS, type Layout, type Level, type PictureUse, type Scratch } from './layout.js';
import type { Kernel } from './load-kernel.js';
import type { SharedMemory } from './web-assembly.js';

/** Longest wait for the other threads at once, ms; the wait then begins anew. */
const WAIT_MS = 1000;

/** Made by `openPair`; the same as `EnginePair` on the SIMD kernel. */
export class KernelPair implements PicturePair {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly #kernel: Kernel;
  readonly #memory: SharedMemory;
  readonly #use: PictureUse;
  readonly #layout: Layout;
  readonly #hand: number;
  readonly #scratch: Scratch;
  /** The picture blurred and not rounded, of even and of odd number. */
  readonly #pictures: readonly SmoothPicture[];
  #previous = 0;
  #current = 1;
  #spare = 2;
  #loaded = 0;
  #meetings = 0;
  #frame = 0;

  /** @param hand number of this thread among those that share the pictures, from 0 */
  constructor(kernel: Kernel, memory: SharedMemory, use: PictureUse, layout: Layout, hand: number) {
    this.widthPx = use.widthPx;
    this.heightPx = use.heightPx;
    this.#kernel = kernel;
    this.#memory = memory;
    this.#use = use;
    this.#layout = layout;
    this.#hand = hand;
    this.#scratch = layout.scratch[hand];
    this.#pictures = layout.smooth.map((address) => ({
      widthPx: use.widthPx,
      heightPx: use.heightPx,
      levels: new Float32Array(memory.buffer, address, use.widthPx * use.heightPx),
    }));
  }

  /** See `PicturePair`; a picture that lies in the shared memory is not copied. Each thread must call it. */
  push(grey: Uint8Array): void {
    const expected = this.widthPx * this.heightPx;
    if (grey.length !== expected) {
      throw new RangeError(
        `grey: expected ${expected} bytes for ${this.widthPx} x ${this.heightPx}, got ${grey.length}`,
      );
    }
    const { frames } = this.#layout;
    if (grey.buffer === this.#memory.buffer) this.#frame = grey.byteOffset;
    else {
      this.#frame = frames[this.#loaded % frames.length];
      new Uint8Array(this.#memory.buffer, this.#frame, expected).set(grey);
    }
    [this.#previous, this.#current, this.#spare] = [this.#current, this.#spare, this.#previous];
    this.#loaded += 1;
    this.#build(this.#current, (level, from, to) => this.#blur(level, from, to));
  }

  relightPrevious(gain: number, offset: number): void {
    const { relight, pyramids, padPx } = this.#layout;
    const table = Uint8ClampedArray.from({ length: 256 }, (_, level) => gain * level + offset);
    new Uint8Array(this.#memory.buffer, relight, 256).set(table);
    const { address } = pyramids[this.#previous].levels[0];
    this.#build(this.#spare, (level, from, to) => {
      const { strideBytes, widthPx } = level;
      this.#kernel.relightRows(address, level.address, strideBytes, widthPx, padPx, relight, from, to);
    });
    [this.#previous, this.#spare] = [this.#spare, this.#previous];
  }

  smooth(): SmoothPicture {
    return this.#pictures[this.#loaded % this.#pictures.length];
  }

  templates(size: TemplateSize): TemplateCutter {
    const { halfPx, rowStepPx } = this.#use.template;
    assert(
      size.halfPx <= halfPx && size.rowStepPx >= rowStepPx,
      'the memory was laid out for smaller templates',
    );
    return kernelTemplates(
      {
        kernel: this.#kernel,
        buffer: this.#memory.buffer,
        scratch: this.#scratch,
        current: () => this.smooth(),
      },
      size,
    );
  }

  forward(points: Points, options: LucasKanadeOptions = {}): FoundPoints {
    return this.#follow(this.#previous, this.#current, points, options);
  }

  backward(points: Points, options: LucasKanadeOptions = {}): FoundPoints {
    return this.#follow(this.#current, this.#previous, points, options);
  }

  cornerStrength(blockPx: number, area: Area): Float32Array {
    const { widthPx, heightPx } = area;
    const strength = new Float32Array(widthPx * heightPx);
    const most = this.#mapRows(area);
    for (let row = 0; row < heightPx; row += most) {
      const map = this.#strengths(blockPx, area, row, Math.min(most, heightPx - row));
      strength.set(map, row * widthPx);
    }
    return strength;
  }

  corners(blockPx: number, area: Area, floor: number): Corners {
    const xPx: number[] = [];
    const yPx: number[] = [];
    const strength: number[] = [];
    const { map, work } = this.#scratch;
    // A maximum is one against all its neighbours: a row and a column more on each side, and two rows that two maps share.
    const widthPx = area.widthPx + 2;
    const around = { xPx: area.xPx - 1, yPx: area.yPx - 1, widthPx, heightPx: area.heightPx + 2 };
    const most = this.#mapRows(around);
    for (let row = 0; row < area.heightPx; row += most - 2) {
      const rows = Math.min(most, around.heightPx - row);
      const strengths = this.#strengths(blockPx, around, row, rows);
      const count = this.#kernel.localMaxima(map, widthPx, rows, floor, work);
      for (const place of new Int32Array(this.#memory.buffer, work, count)) {
        xPx.push(around.xPx + (place % widthPx));
        yPx.push(around.yPx + row + Math.floor(place / widthPx));
        strength.push(strengths[place]);
      }
    }
    return { xPx: Int32Array.from(xPx), yPx: Int32Array.from(yPx), strength: Float32Array.from(strength) };
  }

  /** Rows of an area whose strengths fit into the map at once. */
  #mapRows({ widthPx }: Area): number {
    return Math.floor((MAP_ROWS * this.widthPx) / widthPx);
  }

  /** Strengths of `rows` rows of an area from `row` on, until the next are made. */
  #strengths(blockPx: number, area: Area, row: number, rows: number): Float32Array {
    const picture = this.#layout.pyramids[this.#current].levels[0];
    needPart(area, picture.widthPx, picture.heightPx);
    assert(blockPx <= this.#use.blockPx, 'the memory was laid out for smaller blocks');
    const { xPx, yPx, widthPx } = area;
    const { map, work } = this.#scratch;
    this.#kernel.cornerStrength(
      picture.address,
      picture.strideBytes,
      picture.widthPx,
      picture.heightPx,
      xPx,
      yPx + row,
      widthPx,
      rows,
      blockPx,
      map,
      work,
    );
    return new Float32Array(this.#memory.buffer, map, widthPx * rows);
  }

  /** Nothing to give back: the memory goes with the last thread that holds it. */
  close(): void {
    this.#loaded = 0;
  }

  #blur(level: Level, from: number, to: number): void {
    const { weights, radiusPx, padPx } = this.#layout;
    this.#kernel.blurRows(
      this.#frame,
      this.widthPx,
      this.heightPx,
      level.address,
      level.strideBytes,
      padPx,
      this.smooth().levels.byteOffset,
      weights,
      radiusPx,
      from,
      to,
      this.#scratch.work,
    );
  }

  /**
   * Makes this thread's strip of a pyramid, then waits until all have made theirs. Rows that two strips need are made
   * by both, to the same bytes, so that there is nothing to wait for in between.
   */
  #build(pyramid: number, base: (level: Level, from: number, to: number) => void): void {
    const { levels } = this.#layout.pyramids[pyramid];
    const { padPx } = this.#layout;
    const strips = stripsOf(levels, this.#hand, this.#use.threads);
    levels.forEach((level, i) => {
      const { address, strideBytes, widthPx, heightPx } = level;
      const { from, to } = strips[i];
      if (i === 0) base(level, from, to);
      else {
        const below = levels[i - 1];
        const { work } = this.#scratch;
        this.#kernel.halveRows(
          below.address,
          below.strideBytes,
          address,
          strideBytes,
          widthPx,
          padPx,
          from,
          to,
          work,
        );
      }
      this.#kernel.padRows(address, strideBytes, widthPx, heightPx, padPx, from, to);
    });
    this.#meet();
  }

  /** Waits until every thread has come here as often as this one. */
  #meet(): void {
    const { threads } = this.#use;
    if (threads === 1) return;
    const word = new Int32Array(this.#memory.buffer, this.#layout.meeting, 1);
    this.#meetings += 1;
    const all = this.#meetings * threads;
    Atomics.add(word, 0, 1);
    Atomics.notify(word, 0);
    for (let come = Atomics.load(word, 0); come < all; come = Atomics.load(word, 0))
      Atomics.wait(word, 0, come, WAIT_MS);
  }

  #follow(from: number, into: number, points: Points, options: LucasKanadeOptions): FoundPoints {
    if (this.#loaded < 2)
      throw new Error('Two pictures must be pushed before points can be followed between them.');
    const { windowPx, levels, iterations, epsilonPx } = resolveLucasKanade(options);
    assert(windowPx <= this.#use.windowPx, 'the memory was laid out for smaller windows');
    const count = points.xPx.length;
    if (points.yPx.length !== count) throw new RangeError(`points: ${count} x but ${points.yPx.length} y`);
    const start = options.start ?? points;
    const { pyramids } = this.#layout;
    const topLevel = Math.min(levels, pyramids[from].levels.length - 1);
    const scratch = this.#scratch;
    const flatFrom = new Float32Array(this.#memory.buffer, scratch.points, 2 * BATCH);
    const flatNext = new Float32Array(this.#memory.buffer, scratch.next, 2 * BATCH);
    const flags = new Uint8Array(this.#memory.buffer, scratch.found, BATCH);
    const result = {
      xPx: new Float32Array(count),
      yPx: new Float32Array(count),
      found: new Uint8Array(count),
    };
    for (let first = 0; first < count; first += BATCH) {
      const size = Math.min(BATCH, count - first);
      for (let i = 0; i < size; i++) {
        flatFrom[2 * i] = points.xPx[first + i];
        flatFrom[2 * i + 1] = points.yPx[first + i];
        flatNext[2 * i] = start.xPx[first + i];
        flatNext[2 * i + 1] = start.yPx[first + i];
      }
      this.#kernel.followPoints(
        pyramids[from].records,
        pyramids[into].records,
        topLevel,
        scratch.points,
        scratch.next,
        scratch.found,
        size,
        windowPx,
        iterations,
        epsilonPx * epsilonPx,
        MIN_EIGENVALUE,
        scratch.work,
      );
      for (let i = 0; i < size; i++) {
        result.xPx[first + i] = flatNext[2 * i];
        result.yPx[first + i] = flatNext[2 * i + 1];
        result.found[first + i] = flags[i];
      }
    }
    return result;
  }
}

/** Rows of each level that one of the threads makes: its share, and what its share of the coarser levels is made of. */
export function stripsOf(
  levels: readonly Pick<Level, 'heightPx'>[],
  hand: number,
  threads: number,
): { from: number; to: number }[] {
  const strips = levels.map(({ heightPx }) => ({
    from: Math.floor((heightPx * hand) / threads),
    to: Math.floor((heightPx * (hand + 1)) / threads),
  }));
  for (let i = strips.length - 1; i > 0; i--) {
    const above = strips[i];
    const below = strips[i - 1];
    if (above.from >= above.to) continue;
    below.from = Math.min(below.from, Math.max(0, 2 * above.from - 2));
    below.to = Math.max(below.to, Math.min(levels[i - 1].heightPx, 2 * above.to + 1));
  }
  return strips;
}
