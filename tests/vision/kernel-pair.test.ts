import { beforeAll, describe, expect, it } from 'vitest';
import { openPair, sharePictures, type PicturePair } from '../../src/vision/index.js';
import { stripsOf } from '../../src/vision/kernel/kernel-pair.js';
import { compile } from '../../src/vision/kernel/load-kernel.js';
import { AnalyticTexture } from '../tracking/support/analytic-texture.js';
import { expectWithin } from '../support/expect-within.js';

/** Odd sides, no multiple of the eight pixels that the kernel works on at once. */
const [widthPx, heightPx] = [243, 187];
const USE = {
  widthPx,
  heightPx,
  blurSigmaPx: 1,
  windowPx: 21,
  levels: 2,
  blockPx: 7,
  template: { halfPx: 12, rowStepPx: 1.5 },
  threads: 1,
};
const texture = new AnalyticTexture({ seed: 9, widthPx, heightPx, finestPx: 7, coarsestPx: 50 });

/** With grain of up to 4 grey levels, as film has it. */
function picture(k: number): Uint8Array {
  const grey = texture.picture({ shiftXPx: 2.3 * k, shiftYPx: -1.1 * k, turnRad: 0.004 * k });
  return grey.map((level, i) => Math.min(255, level + ((Math.imul(i + 977 * k, 2654435761) >>> 28) >> 2)));
}

/** Points all over the picture, and some outside of it. */
const points = {
  xPx: Float32Array.from({ length: 400 }, (_, i) => -8 + ((i * 37.71) % (widthPx + 16))),
  yPx: Float32Array.from({ length: 400 }, (_, i) => -8 + ((i * 61.37) % (heightPx + 16))),
};

describe('the pair of pictures on the SIMD kernel, beside the scalar engine', () => {
  let scalar: PicturePair;
  let kernel: PicturePair;

  beforeAll(async () => {
    const share = await sharePictures(USE);
    expect(share.kernel, 'npm run build makes the kernel').not.toBeNull();
    kernel = (await openPair(share, 0)).pair;
    const plain = await sharePictures(USE, true);
    expect(plain.kernel).toBeNull();
    scalar = (await openPair(plain, 0)).pair;
    for (const pair of [kernel, scalar]) {
      pair.push(picture(0));
      pair.push(picture(1));
    }
  });

  /** Distances of the places that both found, in order, and how many only one of them found. */
  function compared(options: { readonly levels: number; readonly windowPx: number }): {
    distances: number[];
    disputed: number;
  } {
    const distances: number[] = [];
    let disputed = 0;
    for (const way of ['forward', 'backward'] as const) {
      const [a, b] = [kernel[way](points, options), scalar[way](points, options)];
      for (let i = 0; i < points.xPx.length; i++) {
        if (a.found[i] !== b.found[i]) disputed += 1;
        else if (a.found[i]) distances.push(Math.hypot(a.xPx[i] - b.xPx[i], a.yPx[i] - b.yPx[i]));
      }
    }
    return { distances: distances.sort((p, q) => p - q), disputed };
  }

  it('blurs to the same bits', () => {
    expect(kernel.smooth().levels).toEqual(scalar.smooth().levels);
  });

  it.each([
    { levels: 2, windowPx: 21 },
    { levels: 0, windowPx: 21 },
    { levels: 1, windowPx: 15 },
  ])('follows points to the same places over $levels halvings with a window of $windowPx px', (options) => {
    const { distances, disputed } = compared(options);
    expect(distances.length).toBeGreaterThan(600);
    expect(disputed).toBeLessThanOrEqual(2);
    const at = (share: number): number => distances[Math.floor(share * (distances.length - 1))];
    expectWithin(at(0.5), 0, { abs: 1e-4, why: 'the same whole numbers, summed in another order' });
    expectWithin(at(0.99), 0, { abs: 0.01, why: 'an iteration may end one step earlier: 0.005 px' });
  });

  it('finds templates at the same places, in the same shape, and loses the same ones', async () => {
    const share = await sharePictures(USE);
    const plain = await sharePictures(USE, true);
    const [own, other] = [(await openPair(share, 0)).pair, (await openPair(plain, 0)).pair];
    const [before, after] = [picture(0), picture(1)];
    // A strip of the later picture shows something else, so that what lay there is lost.
    for (let y = 100; y < 125; y++) after.fill((y * 7) % 251, y * widthPx, (y + 1) * widthPx);
    const found = [own, other].map((pair) => {
      pair.push(before);
      const cutter = pair.templates(USE.template);
      const templates = Array.from(points.xPx, (x, i) => cutter.cut(x, points.yPx[i]));
      pair.push(after);
      return templates.map((template, i) => {
        const place = { xPx: points.xPx[i] + 2, yPx: points.yPx[i] - 1, xx: 1, xy: 0, yx: 0, yy: 1 };
        return template && { ...template.find(place), contrastGrey: template.contrastGrey, place };
      });
    });
    let [kept, lost] = [0, 0];
    found[0].forEach((a, i) => {
      const b = found[1][i];
      expect(a === null).toBe(b === null);
      if (!a || !b) return;
      expect(a.found).toBe(b.found);
      if (!a.found) lost += 1;
      if (!a.found || a.iterations !== b.iterations) return;
      kept += 1;
      expectWithin(a.place.xPx, b.place.xPx, { abs: 0.001, why: 'single precision' });
      expectWithin(a.place.yPx, b.place.yPx, { abs: 0.001, why: 'single precision' });
      for (const term of ['xx', 'xy', 'yx', 'yy'] as const)
        expectWithin(a.place[term], b.place[term], { abs: 1e-3, why: 'single precision' }, term);
      expectWithin(a.residualGrey, b.residualGrey, { abs: 0.01, why: 'single precision' });
    });
    expect(kept).toBeGreaterThan(200);
    expect(lost).toBeGreaterThan(5);
  });

  it('finds the same strength of corners, also at the border', () => {
    for (const area of [
      { xPx: 0, yPx: 0, widthPx, heightPx },
      { xPx: 100, yPx: 80, widthPx: 31, heightPx: 17 },
    ]) {
      const [a, b] = [kernel.cornerStrength(7, area), scalar.cornerStrength(7, area)];
      const strongest = Math.max(...b);
      const worst = Math.max(...a.map((value, i) => Math.abs(value - b[i])));
      expectWithin(worst, 0, { abs: 1e-5 * strongest, why: 'single precision' });
    }
    expect(() => kernel.cornerStrength(7, { xPx: 240, yPx: 0, widthPx: 9, heightPx: 9 })).toThrow(RangeError);
  });

  it('finds the same corners, also in an area larger than one of its maps', () => {
    const floor = 0.02 * Math.max(...scalar.cornerStrength(7, { xPx: 0, yPx: 0, widthPx, heightPx }));
    for (const area of [
      { xPx: 1, yPx: 1, widthPx: widthPx - 2, heightPx: heightPx - 2 },
      { xPx: 100, yPx: 80, widthPx: 31, heightPx: 17 },
      { xPx: 100, yPx: 80, widthPx: 1, heightPx: 40 },
    ]) {
      const [a, b] = [kernel.corners(7, area, floor), scalar.corners(7, area, floor)];
      expect(a.xPx).toEqual(b.xPx);
      expect(a.yPx).toEqual(b.yPx);
      const worst = Math.max(0, ...a.strength.map((value, i) => Math.abs(value - b.strength[i])));
      expectWithin(worst, 0, { abs: 0.0005 * floor, why: 'single precision' });
      if (area.widthPx > 100) expect(a.xPx.length).toBeGreaterThan(50);
    }
    for (const pair of [kernel, scalar])
      expect(() => pair.corners(7, { xPx: 0, yPx: 5, widthPx: 9, heightPx: 9 }, floor)).toThrow(RangeError);
  });

  it('puts the previous picture into another light alike', () => {
    for (const pair of [kernel, scalar]) pair.relightPrevious(1.2, -7);
    const { distances, disputed } = compared({ levels: 2, windowPx: 21 });
    expect(disputed).toBeLessThanOrEqual(4);
    expectWithin(distances[Math.floor(0.98 * distances.length)], 0, { abs: 0.01, why: 'as above' });
  });

  it('refuses a picture of another size, and points before two pictures', async () => {
    const fresh = (await openPair(await sharePictures(USE), 0)).pair;
    expect(() => fresh.push(new Uint8Array(7))).toThrow(RangeError);
    expect(() => fresh.forward(points)).toThrow(/Two pictures/);
  });
});

describe('what the kernel falls back on', () => {
  it('is null where the engine does not take the kernel', async () => {
    const broken = Buffer.from('AGFzbQEAAAAB', 'base64');
    expect(await compile(broken)).toBeNull();
    expect(await compile(Buffer.from('no kernel'))).toBeNull();
  });
});

describe('stripsOf', () => {
  it('gives each thread all rows that its share of the coarser levels is made of, and leaves none out', () => {
    const levels = [187, 94, 47, 24].map((heightOfLevel) => ({ heightPx: heightOfLevel }));
    for (const threads of [1, 2, 3]) {
      const strips = Array.from({ length: threads }, (_, hand) => stripsOf(levels, hand, threads));
      levels.forEach((level, i) => {
        const made = new Set<number>();
        for (const strip of strips) for (let y = strip[i].from; y < strip[i].to; y++) made.add(y);
        expect(made.size).toBe(level.heightPx);
        if (i === 0) return;
        for (const strip of strips) {
          expect(strip[i - 1].from).toBeLessThanOrEqual(Math.max(0, 2 * strip[i].from - 2));
          expect(strip[i - 1].to).toBeGreaterThanOrEqual(
            Math.min(levels[i - 1].heightPx, 2 * strip[i].to + 1),
          );
        }
      });
    }
  });
});
