/**
 * Grey pictures with known motion, exact to rounding: a texture that is a sum of sine waves, evaluated at every pixel of
 * a moved picture. No resampling takes part, so any fraction of a pixel is as exact as a whole one.
 */
import type { GreyFrame } from '../../../src/footage/index.js';
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';

/** How the texture lies in the picture: scaled and turned about the picture centre, then shifted; and how bright it is. */
export interface Placement {
  readonly shiftXPx: number;
  readonly shiftYPx: number;
  /** Positive turns x towards y: clockwise on the screen. */
  readonly turnRad: number;
  /** Above 1 the texture is larger; 1 when missing. */
  readonly scale?: number;
  /** Gain of the grey levels about their mean and what is added to them; 1 and 0 when missing. */
  readonly gain?: number;
  readonly offsetGrey?: number;
}

export interface TextureOptions {
  readonly seed: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly waves?: number;
  /** Shortest and longest wave, px. */
  readonly finestPx?: number;
  readonly coarsestPx?: number;
  /** Standard deviation of the grey levels. */
  readonly contrastGrey?: number;
  readonly meanGrey?: number;
}

interface Wave {
  readonly kx: number;
  readonly ky: number;
  readonly phase: number;
}

/** A texture without end in all directions. */
export class AnalyticTexture {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly #waves: readonly Wave[];
  readonly #amplitude: number;
  readonly #mean: number;

  constructor(options: TextureOptions) {
    const { seed, waves = 60, finestPx = 6, coarsestPx = 80, contrastGrey = 40, meanGrey = 128 } = options;
    const random = seededRandom(seed);
    this.widthPx = options.widthPx;
    this.heightPx = options.heightPx;
    this.#amplitude = contrastGrey * Math.sqrt(2 / waves);
    this.#mean = meanGrey;
    this.#waves = Array.from({ length: waves }, () => {
      // Wavelengths spread evenly on a logarithmic scale, as in pictures of real things.
      const k = (2 * Math.PI) / (finestPx * (coarsestPx / finestPx) ** random());
      const direction = 2 * Math.PI * random();
      return { kx: k * Math.cos(direction), ky: k * Math.sin(direction), phase: 2 * Math.PI * random() };
    });
  }

  /** The picture with the texture at `place`; noiseGrey adds white noise of that standard deviation. */
  picture(place: Placement, noiseGrey = 0, noiseSeed = 1): Uint8Array {
    const { widthPx: width, heightPx: height } = this;
    const { scale = 1, gain = 1, offsetGrey = 0 } = place;
    const cos = Math.cos(place.turnRad) / scale;
    const sin = Math.sin(place.turnRad) / scale;
    const cx = (width - 1) / 2;
    const cy = (height - 1) / 2;
    const value = new Float64Array(width * height).fill(this.#mean + offsetGrey);
    for (const wave of this.#waves) {
      // Phase is linear in x and y of the picture: constant steps along a row, turned by a complex product.
      const stepX = wave.kx * cos - wave.ky * sin;
      const stepY = wave.kx * sin + wave.ky * cos;
      const origin =
        wave.phase +
        wave.kx * cx +
        wave.ky * cy -
        stepX * (cx + place.shiftXPx) -
        stepY * (cy + place.shiftYPx);
      const stepCos = Math.cos(stepX);
      const stepSin = Math.sin(stepX);
      for (let y = 0; y < height; y++) {
        let c = gain * this.#amplitude * Math.cos(origin + stepY * y);
        let s = gain * this.#amplitude * Math.sin(origin + stepY * y);
        for (let i = y * width, end = i + width; i < end; i++) {
          value[i] += s;
          const turned = s * stepCos + c * stepSin;
          c = c * stepCos - s * stepSin;
          s = turned;
        }
      }
    }
    const noise = gaussianRandom(seededRandom(noiseSeed));
    const grey = new Uint8Array(width * height);
    for (let i = 0; i < grey.length; i++) {
      const level = value[i] + (noiseGrey > 0 ? noiseGrey * noise() : 0);
      grey[i] = Math.max(0, Math.min(255, Math.round(level)));
    }
    return grey;
  }

  /** Where a point of the picture placed at `from` lies in the picture placed at `to`, px. */
  follow(from: Placement, to: Placement, xPx: number, yPx: number): [number, number] {
    const cx = (this.widthPx - 1) / 2;
    const cy = (this.heightPx - 1) / 2;
    const dx = xPx - cx - from.shiftXPx;
    const dy = yPx - cy - from.shiftYPx;
    const turn = to.turnRad - from.turnRad;
    const growth = (to.scale ?? 1) / (from.scale ?? 1);
    const cos = growth * Math.cos(turn);
    const sin = growth * Math.sin(turn);
    return [cx + to.shiftXPx + cos * dx - sin * dy, cy + to.shiftYPx + sin * dx + cos * dy];
  }
}

/** Settings of a clip made of pictures. */
export interface ClipOptions {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly fps?: number;
  readonly type?: GreyFrame['type'];
  readonly timeS?: (frame: number) => number;
}

/** Frames of a clip, one picture after the other, as the decoder would give them. */
export async function* clipOf(
  pictures: Iterable<Uint8Array>,
  options: ClipOptions,
): AsyncGenerator<GreyFrame> {
  const { widthPx, heightPx, fps = 25, type = '?', timeS = (frame) => frame / fps } = options;
  let index = 0;
  for (const grey of pictures) {
    await Promise.resolve();
    yield { index, timeS: timeS(index), type, widthPx, heightPx, grey };
    index += 1;
  }
}
