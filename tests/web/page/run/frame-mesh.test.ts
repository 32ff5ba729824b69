/** The preview draws the geometry of the proof: places of its grid against those of the proof's own grid, and maps made from them. */
import { describe, expect, it } from 'vitest';
import type { Camera } from '../../../../src/optics/index.js';
import { outputWindow } from '../../../../src/proof/output-window.js';
import { SourceGrid } from '../../../../src/proof/source-grid.js';
import { deliveryWindow } from '../../../../src/report/charts/index.js';
import { correctionAt, rowChanges, sourcePlaces, turnOfFrame } from '../../../../src/stabilise/index.js';
import {
  FrameMesh,
  MESH,
  MESH_POINTS,
  affineOf,
  gridPoints,
  gridTriangles,
  inverseOf,
  outlineOf,
  type PlayedView,
} from '../../../../src/web/page/run/player/frame-mesh.js';
import { expectWithin } from '../../../support/expect-within.js';

/** Frames that the page plays are this wide. */
const PLAYED_WIDTH_PX = 640;
/** A tenth of a px of such a frame: no eye sees it, and single precision is a thousand times finer. */
const SAME = { abs: 0.1 / PLAYED_WIDTH_PX, why: 'a tenth of a px of a frame 640 px wide' };

const CAMERA: Camera = {
  widthPx: 960,
  heightPx: 540,
  focalPx: 900,
  centreXPx: 479.5,
  centreYPx: 269.5,
  distortion: { k1: -0.1, k2: 0.02, p1: 0.001, p2: 0, k3: 0 },
};
const RATE_HZ = 25;
const COUNT = 40;

/** A shake of about a degree on every axis, on a sensor that is read in 15 ms. */
function shakenView(shape: number, change: Partial<PlayedView> = {}): PlayedView {
  const column = (deg: number, hz: number): Float64Array =>
    Float64Array.from(
      { length: COUNT },
      (_, t) => ((deg * Math.PI) / 180) * Math.sin((2 * Math.PI * hz * t) / RATE_HZ + hz),
    );
  const vibration = { pan: column(0.8, 3.1), tilt: column(1.1, 4.3), roll: column(1.5, 2.2) };
  return {
    timeS: Float64Array.from({ length: COUNT }, (_, t) => 2 + t / RATE_HZ),
    corrections: { vibration, rows: rowChanges(vibration, RATE_HZ, 0.015) },
    camera: CAMERA,
    zoom: 1.18,
    shape,
    ...change,
  };
}

describe('the grid of the preview', () => {
  it.each([
    ['the shape of the frame', 9 / 16],
    ['a wide picture', 1 / 2.4],
    ['an upright picture', 16 / 9],
  ])('has the corners of the proof within a tenth of a px, for %s', (_, shape) => {
    const view = shakenView(shape);
    const mesh = new FrameMesh(view);
    const source = { widthPx: 1920, heightPx: 1080 };
    const output = outputWindow(source, { ...view, window: { kind: 'centred', zoom: view.zoom } });
    const edgeX = [-0.5, output.widthPx - 0.5, -0.5, output.widthPx - 0.5];
    const edgeY = [-0.5, -0.5, output.heightPx - 0.5, output.heightPx - 0.5];
    const proof = new SourceGrid(source, output, view.camera, {
      xPx: Float64Array.from(edgeX),
      yPx: Float64Array.from(edgeY),
    });
    // The proof has whole sides: it shows up to a px less of the delivered picture on either side.
    const rounded = { abs: SAME.abs + 1 / output.widthPx, why: `${SAME.why}, and sides in whole px` };
    for (const frame of [0, 7, 21, COUNT - 1]) {
      const atS = view.timeS[frame];
      const places = mesh.places(atS);
      const { xPx, yPx } = proof.places(correctionAt(view.corrections, view.timeS, atS), view.zoom);
      const corners = [0, MESH.columns, MESH_POINTS - 1 - MESH.columns, MESH_POINTS - 1];
      corners.forEach((point, corner) => {
        expectWithin(places[2 * point], (xPx[corner] + 0.5) / source.widthPx, rounded);
        expectWithin(places[2 * point + 1], (yPx[corner] + 0.5) / source.heightPx, rounded);
      });
    }
  });

  it('errs by less than a tenth of a px in the middle of its cells, where it is straight', () => {
    const view = shakenView(9 / 16);
    const places = new FrameMesh(view).places(view.timeS[11]);
    const at = gridPoints();
    const { widthPx, heightPx } = view.camera;
    const half = widthPx / 2 / view.zoom;
    const triangles = gridTriangles();
    for (let cell = 0; cell < triangles.length; cell += 39) {
      const points = [...triangles.slice(cell - (cell % 3), cell - (cell % 3) + 3)];
      const mean = (of: Float32Array, offset: number): number =>
        points.reduce((sum, p) => sum + of[2 * p + offset] / 3, 0);
      const x = new Float64Array(1);
      const y = new Float64Array(1);
      sourcePlaces(
        turnOfFrame(view.corrections, 11),
        view.camera,
        Float64Array.of((widthPx - 1) / 2 + half * (2 * mean(at, 0) - 1)),
        Float64Array.of((heightPx - 1) / 2 + half * view.shape * (2 * mean(at, 1) - 1)),
        x,
        y,
      );
      expectWithin(mean(places, 0), (x[0] + 0.5) / widthPx, SAME);
      expectWithin(mean(places, 1), (y[0] + 0.5) / heightPx, SAME);
    }
  });

  it('has the outline that the report draws, clockwise from top left', () => {
    const view = shakenView(1 / 2.4);
    const outline = outlineOf(new FrameMesh(view).places(view.timeS[3]));
    const drawn = deliveryWindow({ ...view, delivery: { widthPx: 2400, heightPx: 1000 } }, 3);
    const perSide = drawn.length / 2 / 4;
    const starts = [0, MESH.columns, MESH.columns + MESH.rows, 2 * MESH.columns + MESH.rows];
    starts.forEach((start, side) => {
      expectWithin(outline[2 * start], drawn[2 * side * perSide], SAME);
      expectWithin(outline[2 * start + 1], drawn[2 * side * perSide + 1], SAME);
    });
    expect(outline).toHaveLength(4 * (MESH.columns + MESH.rows));
  });

  it('shows the whole frame where nothing is taken out and nothing cropped', () => {
    const still = new Float64Array(COUNT);
    const view = shakenView(9 / 16, {
      corrections: { vibration: { pan: still, tilt: still, roll: still }, rows: null },
      zoom: 1,
    });
    const places = new FrameMesh(view).places(2.5);
    gridPoints().forEach((share, i) => expectWithin(places[i], share, SAME));
  });

  it('covers the picture with its triangles once', () => {
    const at = gridPoints();
    const triangles = gridTriangles();
    let area = 0;
    for (let i = 0; i < triangles.length; i += 3) {
      const [ax, ay, bx, by, cx, cy] = [0, 1, 2].flatMap((k) => [
        at[2 * triangles[i + k]],
        at[2 * triangles[i + k] + 1],
      ]);
      const one = ((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) / 2;
      expect(one).toBeGreaterThan(0);
      area += one;
    }
    expectWithin(area, 1, { abs: 1e-4, why: 'single precision of a few hundred triangles' });
  });
});

describe('the affine map of a frame', () => {
  it('is exact for a frame that is moved, turned and sized, and its inverse leads back', () => {
    const at = gridPoints();
    const map = { a: 0.9, b: 0.02, c: -0.03, d: 0.88, e: 0.04, f: 0.07 };
    const places = Float32Array.from(at, (_, i) => {
      const [x, y] = [at[i - (i & 1)], at[i - (i & 1) + 1]];
      return (i & 1) === 0 ? map.a * x + map.c * y + map.e : map.b * x + map.d * y + map.f;
    });
    const found = affineOf(places);
    const back = inverseOf(found);
    const single = { abs: 1e-6, why: 'single precision' };
    for (const name of ['a', 'b', 'c', 'd', 'e', 'f'] as const) expectWithin(found[name], map[name], single);
    const [x, y] = [map.a * 0.3 + map.c * 0.8 + map.e, map.b * 0.3 + map.d * 0.8 + map.f];
    expectWithin(back.a * x + back.c * y + back.e, 0.3, { ...single, abs: 1e-5 });
    expectWithin(back.b * x + back.d * y + back.f, 0.8, { ...single, abs: 1e-5 });
  });

  it('is refused the way back when it leaves nothing', () => {
    expect(() => inverseOf({ a: 1, b: 2, c: 2, d: 4, e: 0, f: 0 })).toThrow(RangeError);
  });
});
