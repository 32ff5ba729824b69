import { beforeAll, describe, expect, it } from 'vitest';
import {
  cornerStrengthOfGradient,
  startVision,
  type GreyPicture,
  type Vision,
} from '../../src/vision/index.js';
import { AnalyticTexture } from '../tracking/support/analytic-texture.js';
import { expectWithin } from '../support/expect-within.js';

const WIDTH = 160;
const HEIGHT = 120;
const REST = { shiftXPx: 0, shiftYPx: 0, turnRad: 0 };
const texture = new AnalyticTexture({
  seed: 4,
  widthPx: WIDTH,
  heightPx: HEIGHT,
  finestPx: 8,
  coarsestPx: 60,
});

function picture(level: (x: number, y: number) => number): GreyPicture {
  const grey = Uint8Array.from({ length: WIDTH * HEIGHT }, (_, i) => level(i % WIDTH, Math.floor(i / WIDTH)));
  return { widthPx: WIDTH, heightPx: HEIGHT, grey };
}

function textured(shiftXPx: number, shiftYPx: number): GreyPicture {
  return { widthPx: WIDTH, heightPx: HEIGHT, grey: texture.picture({ ...REST, shiftXPx, shiftYPx }) };
}

/** RMS gradient in the weaker direction over a block, grey levels per pixel, straight from the definition. */
function weakerGradient({ grey }: GreyPicture, x: number, y: number, block: number): number {
  const at = (col: number, row: number): number => grey[row * WIDTH + col];
  const half = (block - 1) / 2;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (let v = y - half; v <= y + half; v++) {
    for (let u = x - half; u <= x + half; u++) {
      let gx = 0;
      let gy = 0;
      for (const [step, weight] of [
        [-1, 1],
        [0, 2],
        [1, 1],
      ]) {
        gx += (weight * (at(u + 1, v + step) - at(u - 1, v + step))) / 8;
        gy += (weight * (at(u + step, v + 1) - at(u + step, v - 1))) / 8;
      }
      xx += gx * gx;
      xy += gx * gy;
      yy += gy * gy;
    }
  }
  const smaller = (xx + yy) / 2 - Math.hypot((xx - yy) / 2, xy);
  return Math.sqrt(smaller / block ** 2);
}

describe('startVision', () => {
  let vision: Vision;
  let listenersBefore: number;

  beforeAll(async () => {
    listenersBefore =
      process.listenerCount('uncaughtException') + process.listenerCount('unhandledRejection');
    vision = await startVision();
  });

  it('gives the same functions on every call', async () => {
    expect(await startVision()).toBe(vision);
  });

  it('leaves no handler of the engine on the failures of the process', () => {
    const listeners =
      process.listenerCount('uncaughtException') + process.listenerCount('unhandledRejection');
    expect(listeners).toBe(listenersBefore);
  });

  it('turns a failure inside the engine into an Error with a sentence', () => {
    const flat = picture(() => 100);
    expect(() => vision.minEigenvalueMap(flat, -3)).toThrow(Error);
    expect(() => vision.minEigenvalueMap(flat, -3)).toThrow(/OpenCV\.js: .*[a-z]{4}/s);
  });

  it('refuses pictures whose length does not fit their size', () => {
    const short = { widthPx: WIDTH, heightPx: HEIGHT, grey: new Uint8Array(7) };
    expect(() => vision.gaussianBlur(short, 1)).toThrow(/grey: expected 19200 bytes/);
  });

  it('does not change its inputs', () => {
    const before = textured(0, 0);
    const copy = before.grey.slice();
    vision.gaussianBlur(before, 2);
    vision.minEigenvalueMap(before, 7);
    expect(before.grey).toEqual(copy);
  });

  describe('gaussianBlur', () => {
    it('spreads a line like a normal density of the given sigma', () => {
      const line = picture((x) => (x === 80 ? 250 : 0));
      const blurred = vision.gaussianBlur(line, 2);
      for (let d = -6; d <= 6; d++) {
        const density = Math.exp(-(d * d) / 8) / Math.sqrt(8 * Math.PI);
        expectWithin(blurred[60 * WIDTH + 80 + d], 250 * density, {
          abs: 0.7,
          why: 'half a grey level of rounding and 0.3 % of weight beyond three sigma',
        });
      }
    });

    it('leaves a flat picture flat up to the border', () => {
      expect(
        new Set(
          vision.gaussianBlur(
            picture(() => 77),
            3,
          ),
        ),
      ).toEqual(new Set([77]));
    });
  });

  describe('minEigenvalueMap', () => {
    it('is zero on a ramp, which has gradient in one direction only', () => {
      const map = vision.minEigenvalueMap(
        picture((x) => x),
        7,
      );
      const strong = cornerStrengthOfGradient(1, 7);
      expectWithin(map[60 * WIDTH + 80], 0, { abs: 1e-4 * strong, why: 'single precision' });
    });

    it('equals the definition worked out plainly, and the strength of a gradient its inverse', () => {
      const whole = textured(0, 0);
      const map = vision.minEigenvalueMap(whole, 7);
      for (const [x, y] of [
        [40, 50],
        [81, 63],
        [120, 77],
      ]) {
        const weaker = weakerGradient(whole, x, y, 7);
        expectWithin(map[y * WIDTH + x], cornerStrengthOfGradient(weaker, 7), {
          rel: 1e-3,
          why: 'single precision',
        });
      }
    });

    it('gives the same numbers for a part as for the whole', () => {
      const whole = textured(0, 0);
      const map = vision.minEigenvalueMap(whole, 7);
      const pair = vision.openPair(WIDTH, HEIGHT, 0);
      pair.push(whole.grey);
      const areas = [
        { xPx: 31, yPx: 47, widthPx: 20, heightPx: 13 },
        { xPx: 0, yPx: 0, widthPx: 9, heightPx: 9 },
        { xPx: WIDTH - 5, yPx: HEIGHT - 8, widthPx: 5, heightPx: 8 },
      ];
      for (const area of areas) {
        const part = pair.cornerStrength(7, area);
        for (let y = 0; y < area.heightPx; y++) {
          for (let x = 0; x < area.widthPx; x++) {
            expect(part[y * area.widthPx + x]).toBe(map[(area.yPx + y) * WIDTH + area.xPx + x]);
          }
        }
      }
      expect(() => pair.cornerStrength(7, { xPx: 150, yPx: 0, widthPx: 20, heightPx: 5 })).toThrow(
        RangeError,
      );
      pair.close();
    });
  });

  describe('pyramidalLucasKanade', () => {
    const points = { xPx: Float32Array.of(50.3, 80.5, 110.9), yPx: Float32Array.of(40.1, 60.5, 75.7) };

    it('follows a shift to a hundredth of a pixel', () => {
      const found = vision.pyramidalLucasKanade(textured(0, 0), textured(2.37, -1.21), points);
      for (let i = 0; i < 3; i++) {
        expect(found.found[i]).toBe(1);
        const tolerance = { abs: 0.02, why: 'linear interpolation of waves from 8 px, stop at 0.005 px' };
        expectWithin(found.xPx[i] - points.xPx[i], 2.37, tolerance);
        expectWithin(found.yPx[i] - points.yPx[i], -1.21, tolerance);
      }
    });

    it('follows a shift beyond the window only over the levels of the pyramid', () => {
      const far = textured(14, 6);
      const near = vision.pyramidalLucasKanade(textured(0, 0), far, points, { levels: 0, windowPx: 9 });
      const deep = vision.pyramidalLucasKanade(textured(0, 0), far, points, { levels: 2 });
      const error = (x: Float32Array): number =>
        Math.max(...Array.from(x, (v, i) => Math.abs(v - points.xPx[i] - 14)));
      expect(error(near.xPx)).toBeGreaterThan(2);
      expectWithin(error(deep.xPx), 0, { abs: 0.05, why: 'the same match as for a small shift' });
    });

    it('starts where it is told', () => {
      const far = textured(14, 6);
      const start = { xPx: points.xPx.map((x) => x + 13), yPx: points.yPx.map((y) => y + 6.5) };
      const found = vision.pyramidalLucasKanade(textured(0, 0), far, points, { levels: 0, start });
      expectWithin(found.xPx[1] - points.xPx[1], 14, { abs: 0.02, why: 'as for a small shift' });
    });

    it('finds nothing on a flat picture', () => {
      const flat = picture(() => 90);
      expect([...vision.pyramidalLucasKanade(flat, flat, points).found]).toEqual([0, 0, 0]);
    });

    it('takes an empty list of points', () => {
      const none = { xPx: new Float32Array(), yPx: new Float32Array() };
      expect(vision.pyramidalLucasKanade(textured(0, 0), textured(1, 0), none).found).toHaveLength(0);
    });

    it('refuses an even window, pictures of two sizes and columns of two lengths', () => {
      const a = textured(0, 0);
      const other = { widthPx: 2, heightPx: 2, grey: new Uint8Array(4) };
      expect(() => vision.pyramidalLucasKanade(a, a, points, { windowPx: 20 })).toThrow(
        /windowPx: expected an odd/,
      );
      expect(() => vision.pyramidalLucasKanade(a, other, points)).toThrow(/sizes differ/);
      const crooked = { xPx: points.xPx, yPx: new Float32Array(1) };
      expect(() => vision.pyramidalLucasKanade(a, a, crooked)).toThrow(/3 x but 1 y/);
    });
  });

  it('frees everything: a thousand rounds, refusals among them, do not grow the memory of the engine', () => {
    // So large that one leaked picture a round would fill the 134 MB the engine starts with.
    const [widthPx, heightPx] = [480, 270];
    const big = {
      widthPx,
      heightPx,
      grey: new Uint8Array(widthPx * heightPx).map((_, i) => (i * 7919) % 251),
    };
    const points = { xPx: Float32Array.of(50, 80), yPx: Float32Array.of(40, 60) };
    const crooked = { xPx: points.xPx, yPx: new Float32Array(1) };
    const round = (): void => {
      const pair = vision.openPair(widthPx, heightPx, 1);
      pair.push(big.grey);
      pair.push(big.grey);
      pair.forward(points, { levels: 0 });
      pair.backward(points, { levels: 0 });
      pair.cornerStrength(7, { xPx: 0, yPx: 0, widthPx, heightPx });
      expect(() => pair.forward(points, { start: crooked })).toThrow(RangeError);
      pair.close();
    };
    for (let i = 0; i < 20; i++) round();
    const before = vision.heapBytes();
    for (let i = 0; i < 1000; i++) round();
    expect(vision.heapBytes()).toBe(before);
  });
});
