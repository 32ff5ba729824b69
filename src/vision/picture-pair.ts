/** Two consecutive pictures kept in the engine's memory, blurred once, for tracking in both directions and corner strength. */
import type { Engine, Mat } from './engine.js';
import { cornerStrengthIn } from './corner-strength.js';
import { blurInto } from './gaussian-blur.js';
import { lucasKanade } from './lucas-kanade.js';
import { withMats } from './scope.js';
import type { Area, FoundPoints, LucasKanadeOptions, Points, SmoothPicture } from './types.js';

/**
 * Holds the current and the previous picture of one clip, so that each is copied and blurred once.
 * Owns engine memory: call `close` when done.
 */
export class PicturePair {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly #engine: Engine;
  #previous: Mat;
  #current: Mat;
  #loaded = 0;
  /** The current picture, blurred and not rounded. */
  readonly #levels: Float32Array;

  /** Made by `Vision.openPair`. */
  constructor(engine: Engine, widthPx: number, heightPx: number) {
    this.widthPx = widthPx;
    this.heightPx = heightPx;
    this.#engine = engine;
    this.#previous = new engine.Mat(heightPx, widthPx, engine.CV_8UC1);
    this.#current = new engine.Mat(heightPx, widthPx, engine.CV_8UC1);
    this.#levels = new Float32Array(widthPx * heightPx);
  }

  /**
   * Takes the next picture: the current one becomes the previous one.
   * @param grey length widthPx * heightPx, copied
   * @param sigmaPx standard deviation of the Gaussian blur, px; 0 for none
   * @throws RangeError when the picture has another size
   */
  push(grey: Uint8Array, sigmaPx: number): void {
    const expected = this.widthPx * this.heightPx;
    if (grey.length !== expected) {
      throw new RangeError(
        `grey: expected ${expected} bytes for ${this.widthPx} x ${this.heightPx}, got ${grey.length}`,
      );
    }
    [this.#previous, this.#current] = [this.#current, this.#previous];
    this.#current.data.set(grey);
    if (sigmaPx > 0)
      withMats(this.#engine, (keep) =>
        blurInto(this.#engine, keep, this.#current, this.#current, sigmaPx, this.#levels),
      );
    else this.#levels.set(grey);
    this.#loaded += 1;
  }

  /**
   * Changes the light of the previous picture to that of the current one: each level to `gain` times itself plus
   * `offset`, rounded, held at 0 and 255. Points can then be followed across a change of the exposure.
   */
  relightPrevious(gain: number, offset: number): void {
    const levels = Uint8ClampedArray.from({ length: 256 }, (_, level) => gain * level + offset);
    const pixels: Uint8Array = this.#previous.data;
    for (let i = 0; i < pixels.length; i++) pixels[i] = levels[pixels[i]];
  }

  /** The current picture, blurred but not rounded; a view that the next `push` overwrites. */
  smooth(): SmoothPicture {
    return { widthPx: this.widthPx, heightPx: this.heightPx, levels: this.#levels };
  }

  /** Follows points of the previous picture into the current one. @throws Error before two pictures were pushed */
  forward(points: Points, options: LucasKanadeOptions = {}): FoundPoints {
    this.#needTwo();
    return withMats(this.#engine, (keep) =>
      lucasKanade(this.#engine, keep, this.#previous, this.#current, points, options),
    );
  }

  /** Follows points of the current picture back into the previous one. @throws Error before two pictures were pushed */
  backward(points: Points, options: LucasKanadeOptions = {}): FoundPoints {
    this.#needTwo();
    return withMats(this.#engine, (keep) =>
      lucasKanade(this.#engine, keep, this.#current, this.#previous, points, options),
    );
  }

  /**
   * Smaller eigenvalue of the gradient matrix over a part of the current picture.
   * @param blockPx side of the square over which gradients are summed, px
   * @returns row by row, length area.widthPx * area.heightPx; equal to that part of the whole map
   * @throws RangeError when the area does not lie in the picture
   */
  cornerStrength(blockPx: number, area: Area): Float32Array {
    return withMats(this.#engine, (keep) =>
      cornerStrengthIn(this.#engine, keep, this.#current, blockPx, area),
    );
  }

  /** Gives the engine's memory back; the pair must not be used afterwards. */
  close(): void {
    this.#previous.delete();
    this.#current.delete();
  }

  #needTwo(): void {
    if (this.#loaded < 2)
      throw new Error('Two pictures must be pushed before points can be followed between them.');
  }
}
