/** Frames made from frames that are known as functions of the place: turned, at any depth, density of chroma, layout. */
import { describe, expect, it } from 'vitest';
import type { PlaneFormat } from '../../src/footage/index.js';
import type { ProofLayout } from '../../src/proof/index.js';
import { FrameMaker, planFrames, type FrameRecipe } from '../../src/proof/frame-maker.js';
import type { Samples } from '../../src/vision/index.js';
import { expectWithin } from '../support/expect-within.js';
import { cameraOf, formatOf, planesOf, steady, viewOf } from './support/made-view.js';

const WIDTH = 192;
const HEIGHT = 108;
const camera = cameraOf(96, 54);
const still = steady(2, 0, 0, 0);

/** A picture of soft detail; levels of 8 bits, chroma around its middle. */
function scene(x: number, y: number, plane: number): number {
  const detail = Math.sin(0.31 * x + 0.12 * y) + Math.cos(0.09 * x - 0.35 * y + plane);
  return plane === 0 ? 120 + 45 * detail : 128 + 30 * Math.sin(0.11 * x - 0.05 * y + plane);
}

function recipeOf(source: PlaneFormat, rest: Partial<FrameRecipe> = {}): FrameRecipe {
  return { view: viewOf(still, camera), source, codec: 'h264', layout: 'alone', ...rest };
}

/** RMS of planes against a function of the output's luma place, 8-bit levels; the outermost samples left out. */
function rmsOf(planes: readonly Samples[], format: PlaneFormat, f: typeof scene, plane: number): number {
  const { widthPx, heightPx, stepX, stepY, offsetX, offsetY } = format.planes[plane];
  const scale = 2 ** (format.bitDepth - 8);
  let sum = 0;
  let count = 0;
  for (let y = 4; y < heightPx - 4; y++) {
    for (let x = 4; x < widthPx - 4; x++) {
      const expected = f(stepX * x + offsetX, stepY * y + offsetY, plane);
      sum += (planes[plane][y * widthPx + x] / scale - expected) ** 2;
      count++;
    }
  }
  return Math.sqrt(sum / count);
}

const LEVELS = { abs: 0.6, why: 'rounding twice (0.41 RMS of a level) and the kernel at 0.06 cycles/px' };

describe('a frame that is not turned', () => {
  it.each([
    ['yuv420p', 8],
    ['yuv422p10le', 10],
    ['yuv444p', 8],
    ['gray', 8],
    ['yuv420p12le', 12],
  ])('stays as it is, sample by sample: %s', (pixelFormat, bitDepth) => {
    const format = formatOf(WIDTH, HEIGHT, { pixelFormat, bitDepth });
    const planes = planesOf(format, (x, y, k) => scene(x, y, k) * 2 ** (bitDepth - 8));
    const recipe = recipeOf(format);
    const made = new FrameMaker(recipe).make(planes, 0);
    expect(made.planes).toEqual(planes);
    expect(made.outsidePx).toBe(0);
    expect(planFrames(recipe).written.pixelFormat).toBe(pixelFormat);
  });
});

describe('a turned frame', () => {
  /** Where a point of the output comes from: back by the roll about the middle, as shown. */
  function rolled(rollDeg: number, zoom: number, pixelAspect = 1): typeof scene {
    const c = Math.cos((rollDeg * Math.PI) / 180) / zoom;
    const s = Math.sin((rollDeg * Math.PI) / 180) / zoom;
    const middleX = ((WIDTH - 1) / 2 + 0.5) * pixelAspect;
    return (x, y, plane) => {
      const u = (x + 0.5) * pixelAspect - middleX;
      const v = y - (HEIGHT - 1) / 2;
      return scene((middleX + c * u + s * v) / pixelAspect - 0.5, (HEIGHT - 1) / 2 - s * u + c * v, plane);
    };
  }

  it.each([
    ['8 bits', 'yuv420p', 8],
    ['10 bits', 'yuv422p10le', 10],
  ])(
    'is turned back by as much as the camera rolled, clockwise for clockwise: %s',
    (_, pixelFormat, bitDepth) => {
      const format = formatOf(WIDTH, HEIGHT, { pixelFormat, bitDepth });
      const planes = planesOf(format, (x, y, k) => scene(x, y, k) * 2 ** (bitDepth - 8));
      const before = planes.map((plane) => plane.slice());
      for (const rollDeg of [-1.5, 2.5]) {
        const view = viewOf(steady(2, 0, 0, rollDeg), camera, { window: { kind: 'centred', zoom: 1.15 } });
        const recipe = recipeOf(format, { view });
        const made = new FrameMaker(recipe).make(planes, 0.04);
        const { written } = planFrames(recipe);
        for (const k of [0, 1, 2])
          expectWithin(rmsOf(made.planes, written, rolled(rollDeg, 1.15), k), 0, LEVELS);
        expect(made.outsidePx).toBe(0);
      }
      expect(planes).toEqual(before);
    },
  );

  it('turns as shown when stored pixels are not square', () => {
    const format = formatOf(WIDTH, HEIGHT, { pixelAspect: 1.5, widthPx: 288 });
    const view = viewOf(steady(2, 0, 0, 2), cameraOf(144, 54), { window: { kind: 'centred', zoom: 1.15 } });
    const recipe = recipeOf(format, { view });
    const { planes } = new FrameMaker(recipe).make(planesOf(format, scene), 0);
    const { written } = planFrames(recipe);
    expect(written).toMatchObject({ widthPx: WIDTH, heightPx: HEIGHT, pixelAspect: 1.5 });
    for (const k of [0, 1]) expectWithin(rmsOf(planes, written, rolled(2, 1.15, 1.5), k), 0, LEVELS);
  });

  it('says how far it shows what was not recorded', () => {
    const view = viewOf(steady(2, 0.5, 0, 0), camera);
    const { outsidePx } = new FrameMaker(recipeOf(formatOf(WIDTH, HEIGHT), { view })).make(
      planesOf(formatOf(WIDTH, HEIGHT), scene),
      0,
    );
    // f tan(0.5 deg) of the stored picture, less the half pixel from its middle to its edge, a little more at the edge.
    const shiftPx = 2 * camera.focalPx * Math.tan((0.5 * Math.PI) / 180) - 0.5;
    expectWithin(outsidePx, shiftPx, { rel: 0.2, why: 'up to 1 / cos^2 of half the 40 degrees across' });
  });

  it('is zoomed by what a moving zoom has at its moment', () => {
    const format = formatOf(WIDTH, HEIGHT);
    const zoom = Float64Array.of(1.1, 1.3);
    const view = viewOf(still, camera, { window: { kind: 'moving', zoom } });
    const maker = new FrameMaker(recipeOf(format, { view }));
    for (const [atS, factor] of [
      [0, 1.1],
      [0.02, 1.2],
      [0.04, 1.3],
      [5, 1.3],
    ]) {
      const { planes } = maker.make(planesOf(format, scene), atS);
      expectWithin(rmsOf(planes, format, rolled(0, factor), 0), 0, LEVELS, `zoom at ${atS} s`);
    }
  });

  it('brings chroma to where the written clip has it, also of a picture stored on its side', () => {
    const onSide = formatOf(HEIGHT, WIDTH, { rotationDeg: 90, widthPx: WIDTH, heightPx: HEIGHT });
    expect(onSide).toMatchObject({ widthPx: WIDTH, heightPx: HEIGHT });
    const recipe = recipeOf(onSide, { layout: 'above' });
    const { written } = planFrames(recipe);
    expect([onSide.planes[1].offsetX, onSide.planes[1].offsetY]).not.toEqual([
      written.planes[1].offsetX,
      written.planes[1].offsetY,
    ]);
    const { planes } = new FrameMaker(recipe).make(planesOf(onSide, scene), 0);
    const twice = (x: number, y: number, k: number): number => scene(x, y % HEIGHT, k);
    // Rows next to the seam and lines of the window drawn on the original are few enough not to matter in chroma here.
    const { widthPx } = written.planes[1];
    for (const y of [10, 30, 44, 64, 90]) {
      for (let x = 8; x < widthPx - 8; x++) {
        const expected = twice(2 * x + written.planes[1].offsetX, 2 * y + written.planes[1].offsetY, 1);
        expectWithin(planes[1][y * widthPx + x], expected, {
          abs: 1.6,
          why: 'rounding twice and the kernel',
        });
      }
    }
  });

  it('gives ProRes the chroma rows that 4:2:0 lacks', () => {
    const format = formatOf(WIDTH, HEIGHT);
    const recipe = recipeOf(format, { codec: 'prores' });
    const { written } = planFrames(recipe);
    expect(written.pixelFormat).toBe('yuv422p');
    const { planes } = new FrameMaker(recipe).make(planesOf(format, scene), 0);
    for (const k of [0, 1, 2]) expectWithin(rmsOf(planes, written, scene, k), 0, LEVELS);
  });
});

describe('a layout', () => {
  const format = formatOf(WIDTH, HEIGHT);
  const source = planesOf(format, scene);
  const view = viewOf(steady(2, 0, 0, 1), camera, { window: { kind: 'centred', zoom: 1.2 } });

  function madeAs(layout: ProofLayout, shape?: number): { planes: Samples[]; format: PlaneFormat } {
    const recipe = recipeOf(format, { layout, view: shape === undefined ? view : { ...view, shape } });
    return { planes: new FrameMaker(recipe).make(source, 0).planes, format: planFrames(recipe).written };
  }

  /** The samples of a piece of a plane, places and sizes in luma pixels. */
  function piece(
    made: { planes: readonly Samples[]; format: PlaneFormat },
    k: number,
    area: readonly number[],
  ): number[] {
    const { stepX, stepY, widthPx } = made.format.planes[k];
    const [left, top, width, height] = [area[0] / stepX, area[1] / stepY, area[2] / stepX, area[3] / stepY];
    return Array.from(
      { length: width * height },
      (_, i) => made.planes[k][(top + Math.floor(i / width)) * widthPx + left + (i % width)],
    );
  }

  const original = { planes: source, format };
  const alone = madeAs('alone');
  const whole = [0, 0, WIDTH, HEIGHT];
  /** Inside the window's outline, which stands (1 - 1 / 1.2) / 2 of the width from the sides. */
  const inner = [20, 14, WIDTH - 40, HEIGHT - 28];

  it('puts the original left of the stabilised picture, with the window drawn on it', () => {
    const made = madeAs('beside');
    expect(made.format).toMatchObject({ widthPx: 2 * WIDTH, heightPx: HEIGHT });
    for (const k of [0, 1, 2]) {
      expect(piece(made, k, [WIDTH, 0, WIDTH, HEIGHT])).toEqual(piece(alone, k, whole));
      expect(piece(made, k, inner)).toEqual(piece(original, k, inner));
    }
    // Bright on dark: 0.8 and 0.1 of the way from black to white; 192 / 2 - 192 / 2 / 1.2 = 16 pixels from the side.
    expect(piece(made, 0, [14, 50, 5, 1])).toEqual([
      source[0][50 * WIDTH + 14],
      38,
      191,
      38,
      source[0][50 * WIDTH + 18],
    ]);
    expect(piece(made, 0, [90, 7, 1, 5])).toEqual([
      source[0][7 * WIDTH + 90],
      38,
      191,
      38,
      source[0][11 * WIDTH + 90],
    ]);
    expect(piece(made, 1, [16, 50, 2, 2])).toEqual([128]);
  });

  it('puts the original above the stabilised picture', () => {
    const made = madeAs('above');
    expect(made.format).toMatchObject({ widthPx: WIDTH, heightPx: 2 * HEIGHT });
    for (const k of [0, 1, 2]) {
      expect(piece(made, k, [0, HEIGHT, WIDTH, HEIGHT])).toEqual(piece(alone, k, whole));
      expect(piece(made, k, inner)).toEqual(piece(original, k, inner));
    }
  });

  it('splits the picture in the middle, with a line between', () => {
    const made = madeAs('split');
    expect(made.format).toMatchObject({ widthPx: WIDTH, heightPx: HEIGHT });
    for (const k of [0, 1, 2]) {
      const left = [0, 0, WIDTH / 2 - 2, HEIGHT];
      const right = [WIDTH / 2 + 2, 0, WIDTH / 2 - 2, HEIGHT];
      expect(piece(made, k, left)).toEqual(piece(original, k, left));
      expect(piece(made, k, right)).toEqual(piece(alone, k, right));
    }
    expect(piece(made, 0, [WIDTH / 2 - 1, 40, 3, 1])).toEqual([38, 191, 38]);
  });

  it('centres a picture of another shape on black, and cuts the original to it in a split', () => {
    const upright = madeAs('alone', 16 / 9);
    const { widthPx, heightPx } = upright.format;
    expect([widthPx, heightPx]).toEqual([60, 108]);
    const area = [0, 0, widthPx, heightPx];
    const beside = madeAs('beside', 16 / 9);
    expect(beside.format).toMatchObject({ widthPx: WIDTH + 60, heightPx: HEIGHT });
    expect(piece(beside, 0, [WIDTH, 0, 60, HEIGHT])).toEqual(piece(upright, 0, area));
    const above = madeAs('above', 16 / 9);
    expect(above.format).toMatchObject({ widthPx: WIDTH, heightPx: 2 * HEIGHT });
    expect(piece(above, 0, [66, HEIGHT, 60, HEIGHT])).toEqual(piece(upright, 0, area));
    expect(new Set(piece(above, 0, [0, HEIGHT, 66, HEIGHT]))).toEqual(new Set([16]));
    expect(new Set(piece(above, 2, [126, HEIGHT, 66, HEIGHT]))).toEqual(new Set([128]));
    const split = madeAs('split', 16 / 9);
    expect(split.format).toMatchObject({ widthPx: 60, heightPx: 108 });
    expect(piece(split, 0, [0, 0, 28, 108])).toEqual(piece(original, 0, [66, 0, 28, 108]));
    expect(piece(split, 0, [32, 0, 28, 108])).toEqual(piece(upright, 0, [32, 0, 28, 108]));
  });

  it('draws a window off the middle where it stands', () => {
    const window = { kind: 'offCentre', offsetXPx: 5, offsetYPx: 0, zoom: 1.2 } as const;
    const recipe = recipeOf(format, { layout: 'beside', view: { ...view, window } });
    const made = {
      planes: new FrameMaker(recipe).make(source, 0).planes,
      format: planFrames(recipe).written,
    };
    // Five pixels of the camera are ten of the picture: the left line moves from column 16 to 26.
    expect(piece(made, 0, [25, 50, 3, 1])).toEqual([38, 191, 38]);
  });
});
