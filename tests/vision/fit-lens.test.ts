import { beforeAll, describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import { CALIBRATION_BOARD, lensUncertainty, type BoardCrossings } from '../../src/optics/index.js';
import { startVision, type Vision } from '../../src/vision/index.js';
import { boardCamera, boardPath, trueCrossings } from '../support/board-clip.js';
import { expectWithin } from '../support/expect-within.js';

const SIZE = { widthPx: 960, heightPx: 540 };
const LENS = { k1: -0.27, k2: 0.09, p1: 0.001, p2: -0.0005, k3: -0.01 };
const ALL_TERMS = { k2: true, k3: true, decentring: true };
const CAMERA = boardCamera(SIZE.widthPx, SIZE.heightPx, 640, LENS);

/** Crossings inside the picture, moved by noise, and by a stretch of the whole view. */
function views(noisePx: number, stretch = 0): BoardCrossings[] {
  const gauss = gaussianRandom(seededRandom(5));
  return boardPath(CAMERA, 12).map((pose) => {
    const scale = 1 + stretch * gauss();
    const seen = trueCrossings(CAMERA, pose)
      .map((place, id) => ({ id, x: place?.xPx ?? NaN, y: place?.yPx ?? NaN }))
      .filter(({ x, y }) => x >= 0 && y >= 0 && x < SIZE.widthPx && y < SIZE.heightPx);
    return {
      ids: Int32Array.from(seen, ({ id }) => id),
      xPx: Float64Array.from(seen, ({ x }) => 479.5 + scale * (x - 479.5) + noisePx * gauss()),
      yPx: Float64Array.from(seen, ({ y }) => 269.5 + (y - 269.5) / scale + noisePx * gauss()),
    };
  });
}

describe('fitting a lens', () => {
  let vision: Vision;
  beforeAll(async () => {
    vision = await startVision();
  });

  it('gives back a lens of five terms from exact crossings', () => {
    const fit = vision.fitLens(CALIBRATION_BOARD, views(0), { ...SIZE, terms: ALL_TERMS });
    expectWithin(fit.focalPx, 640, { abs: 0.01, why: 'crossings are handed over as 32-bit floats' });
    for (const name of ['k1', 'k2', 'p1', 'p2', 'k3'] as const)
      expectWithin(fit.lens[name], LENS[name], { abs: 2e-4, why: 'crossings as 32-bit floats' }, name);
    expect(fit.rmsPx).toBeLessThan(1e-3);
    expect(fit.centreXPx).toBe(479.5);
    expect(fit.poses).toHaveLength(12);
  });

  it('leaves terms that are not asked for at zero', () => {
    const terms = { k2: false, k3: false, decentring: false };
    const { lens } = vision.fitLens(CALIBRATION_BOARD, views(0), { ...SIZE, terms });
    expect(lens).toMatchObject({ k2: 0, p1: 0, p2: 0, k3: 0 });
    expect(lens.k1).toBeLessThan(-0.1);
  });

  it('knows how sure it is: for independent errors as the engine says, and less sure where views err as a whole', () => {
    const terms = { ...ALL_TERMS, k3: false };
    const plain = views(0.1);
    const fit = vision.fitLens(CALIBRATION_BOARD, plain, { ...SIZE, terms });
    const own = lensUncertainty(CALIBRATION_BOARD, plain, fit, terms, SIZE)!;
    expect(own.focalPx / fit.deviations.focalPx).toBeGreaterThan(0.98);
    expect(own.focalPx / fit.deviations.focalPx).toBeLessThan(2.2); // the spread of twelve views is itself only known so well
    expect(own.lens.k1 / fit.deviations.k1).toBeGreaterThan(0.98);
    expect(own.lens.k1 / fit.deviations.k1).toBeLessThan(2.2);
    expectWithin(fit.focalPx, 640, { abs: 4 * own.focalPx, why: 'four standard deviations' });

    const stretched = views(0.02, 0.002);
    const askew = vision.fitLens(CALIBRATION_BOARD, stretched, { ...SIZE, terms });
    const unsure = lensUncertainty(CALIBRATION_BOARD, stretched, askew, terms, SIZE)!;
    expect(unsure.focalPx).toBeGreaterThan(1.2 * askew.deviations.focalPx);
    expectWithin(askew.focalPx, 640, { abs: 4 * unsure.focalPx, why: 'four standard deviations' });
  });

  it('refuses an empty list and views of three crossings', () => {
    const options = { ...SIZE, terms: ALL_TERMS };
    expect(() => vision.fitLens(CALIBRATION_BOARD, [], options)).toThrow(/at least one view/);
    const thin = { ids: Int32Array.of(0, 1, 2), xPx: new Float64Array(3), yPx: new Float64Array(3) };
    expect(() => vision.fitLens(CALIBRATION_BOARD, [thin], options)).toThrow(/at least 4 crossings/);
  });
});
