/** The lens model against OpenCV: its published sample calibration, and its own projection run beside ours. */
import { beforeAll, describe, it } from 'vitest';
import {
  distort,
  pixelOfNormalised,
  projectPoint,
  rotationFromVector,
  undistort,
  type Camera,
} from '../../src/optics/index.js';
import type { Engine, Mat } from '../../src/vision/engine.js';
import { loadEngine } from '../../src/vision/load-engine.js';
import { expectWithin } from '../support/expect-within.js';

/**
 * Source: OpenCV, samples/data/left_intrinsics.yml: 640 x 480, f = 535.9157, calibrated from 13 views of a chessboard;
 * digits as printed there.
 */
const SAMPLE: Camera = {
  widthPx: 640,
  heightPx: 480,
  focalPx: 535.9157,
  centreXPx: 342.2832,
  centreYPx: 235.5708,
  distortion: { k1: -0.266373, k2: -0.038589, p1: 0.00178319, p2: -0.00028122, k3: 0.238392 },
};

/** The part of OpenCV.js that only this file needs. */
interface Projection {
  readonly CV_64F: number;
  readonly CV_64FC3: number;
  projectPoints(places: Mat, turn: Mat, shift: Mat, matrix: Mat, coefficients: Mat, pixels: Mat): void;
}
type DoubleMat = Mat & { readonly data64F: Float64Array };

describe('the five-term lens model', () => {
  let cv: { engine: Engine & Projection };
  beforeAll(async () => {
    cv = (await loadEngine()) as { engine: Engine & Projection };
  });

  // Source: projectPoints of OpenCV 4.12, run here on points before the camera of the sample calibration.
  it('puts points where OpenCV puts them', () => {
    const { engine } = cv;
    const made: Mat[] = [];
    const mat = (rows: number, cols: number, type: number, values: readonly number[]): DoubleMat => {
      const m = new engine.Mat(rows, cols, type) as DoubleMat;
      made.push(m);
      m.data64F.set(values);
      return m;
    };
    const places = [-0.5, -0.25, 0, 0.25, 0.5].flatMap((x) =>
      [-0.4, -0.1, 0.2, 0.4].map((y) => [x, y, 0.3 * x * y]),
    );
    const turn = [0.1, -0.2, 0.3];
    const shift = [0.02, -0.03, 1.2];
    const { k1, k2, p1, p2, k3 } = SAMPLE.distortion!;
    const f = SAMPLE.focalPx;
    const pixels = mat(places.length, 2, engine.CV_64F, []);
    engine.projectPoints(
      mat(places.length, 1, engine.CV_64FC3, places.flat()),
      mat(3, 1, engine.CV_64F, turn),
      mat(3, 1, engine.CV_64F, shift),
      mat(3, 3, engine.CV_64F, [f, 0, SAMPLE.centreXPx, 0, f, SAMPLE.centreYPx, 0, 0, 1]),
      mat(5, 1, engine.CV_64F, [k1, k2, p1, p2, k3]),
      pixels,
    );
    const theirs = pixels.data64F.slice();
    for (const m of made) m.delete();
    const r = rotationFromVector(turn[0], turn[1], turn[2]);
    places.forEach(([x, y, z], i) => {
      const [a, b, c] = [0, 1, 2].map((k) => r[3 * k] * x + r[3 * k + 1] * y + r[3 * k + 2] * z + shift[k]);
      const ours = projectPoint(SAMPLE, a, b, c)!;
      const same = { abs: 1e-9, why: 'the same polynomial in double precision' };
      expectWithin(ours.xPx, theirs[2 * i], same, `x of point ${i}`);
      expectWithin(ours.yPx, theirs[2 * i + 1], same, `y of point ${i}`);
    });
  });

  // Source: the sample calibration above; the inverse has no closed form and is checked by going there and back.
  it('is undone over the whole picture of the sample lens to a billionth of the focal length', () => {
    for (let xPx = 0; xPx <= 639; xPx += 21.3) {
      for (let yPx = 0; yPx <= 479; yPx += 23.95) {
        const x = (xPx - SAMPLE.centreXPx) / SAMPLE.focalPx;
        const y = (yPx - SAMPLE.centreYPx) / SAMPLE.focalPx;
        const ideal = undistort(SAMPLE.distortion!, x, y);
        const back = distort(SAMPLE.distortion!, ideal.x, ideal.y);
        const exact = { abs: 1e-9, why: 'solved to far below a millionth of a pixel' };
        expectWithin(back.x, x, exact, `x at ${xPx}, ${yPx}`);
        expectWithin(back.y, y, exact, `y at ${xPx}, ${yPx}`);
        const again = pixelOfNormalised(SAMPLE, ideal.x, ideal.y);
        expectWithin(again.xPx, xPx, { abs: 1e-6, why: 'a billionth of the focal length' }, 'pixel');
      }
    }
  });
});
