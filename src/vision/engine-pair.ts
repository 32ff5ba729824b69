/** Two consecutive pictures kept in the engine's memory, blurred once; the scalar path of tracking. */
import type { Engine, Mat } from './engine.js';
import { cornerStrengthIn } from './corner-strength.js';
import { localMaxima } from './local-maxima.js';
import { blurInto } from './gaussian-blur.js';
import { lucasKanade } from './lucas-kanade.js';
import { withMats } from './scope.js';
import { scalarTemplates } from './scalar-templates.js';
import type { TemplateSize } from './template-window.js';
import type {
  Area,
  Corners,
  FoundPoints,
  LucasKanadeOptions,
  PicturePair,
  Points,
  SmoothPicture,
  TemplateCutter,
} from './types.js';

/** Owns engine memory: call `close` when done. */
export class EnginePair implements PicturePair {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly #engine: Engine;
  readonly #sigmaPx: number;
  #previous: Mat;
  #current: Mat;
  #loaded = 0;
  /** The current picture, blurred and not rounded. */
  readonly #levels: Float32Array;

  /** Made by `Vision.openPair` and `openPair`. */
  constructor(engine: Engine, widthPx: number, heightPx: number, sigmaPx: number) {
    this.#sigmaPx = sigmaPx;
    this.widthPx = widthPx;
    this.heightPx = heightPx;
    this.#engine = engine;
    this.#previous = new engine.Mat(heightPx, widthPx, engine.CV_8UC1);
    this.#current = new engine.Mat(heightPx, widthPx, engine.CV_8UC1);
    this.#levels = new Float32Array(widthPx * heightPx);
  }

  push(grey: Uint8Array): void {
    const sigmaPx = this.#sigmaPx;
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

  relightPrevious(gain: number, offset: number): void {
    const levels = Uint8ClampedArray.from({ length: 256 }, (_, level) => gain * level + offset);
    const pixels: Uint8Array = this.#previous.data;
    for (let i = 0; i < pixels.length; i++) pixels[i] = levels[pixels[i]];
  }

  smooth(): SmoothPicture {
    return { widthPx: this.widthPx, heightPx: this.heightPx, levels: this.#levels };
  }

  templates(size: TemplateSize): TemplateCutter {
    return scalarTemplates(() => this.smooth(), size);
  }

  forward(points: Points, options: LucasKanadeOptions = {}): FoundPoints {
    this.#needTwo();
    return withMats(this.#engine, (keep) =>
      lucasKanade(this.#engine, keep, this.#previous, this.#current, points, options),
    );
  }

  backward(points: Points, options: LucasKanadeOptions = {}): FoundPoints {
    this.#needTwo();
    return withMats(this.#engine, (keep) =>
      lucasKanade(this.#engine, keep, this.#current, this.#previous, points, options),
    );
  }

  cornerStrength(blockPx: number, area: Area): Float32Array {
    return withMats(this.#engine, (keep) =>
      cornerStrengthIn(this.#engine, keep, this.#current, blockPx, area),
    );
  }

  corners(blockPx: number, { xPx, yPx, widthPx, heightPx }: Area, floor: number): Corners {
    const around = { xPx: xPx - 1, yPx: yPx - 1, widthPx: widthPx + 2, heightPx: heightPx + 2 };
    const map = this.cornerStrength(blockPx, around);
    const places = localMaxima(map, around.widthPx, floor);
    return {
      xPx: Int32Array.from(places, (i) => around.xPx + (i % around.widthPx)),
      yPx: Int32Array.from(places, (i) => around.yPx + Math.floor(i / around.widthPx)),
      strength: Float32Array.from(places, (i) => map[i]),
    };
  }

  close(): void {
    this.#previous.delete();
    this.#current.delete();
  }

  #needTwo(): void {
    if (this.#loaded < 2)
      throw new Error('Two pictures must be pushed before points can be followed between them.');
  }
}
