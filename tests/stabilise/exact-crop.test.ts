import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyHomography,
  normalisePoints,
  pixelOfNormalised,
  rotationFromAngles,
  type Camera,
} from '../../src/optics/index.js';
import {
  correctionHomographies,
  exactCrop,
  exactZoomForPath,
  horizontalCropPercent,
  sourcePlaces,
  turnOfFrame,
  type AngularVibration,
  type Corrections,
  type RowChanges,
} from '../../src/stabilise/index.js';
import { expectWithin } from '../support/expect-within.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { farthestOutside, outline } from './support/plain-correction.js';
import { evenly } from '../support/evenly.js';

const ROUNDING = { abs: 1e-10, why: 'double rounding' };
const camera = plainCamera(1920, 1080, 1866.7);
const wide: Camera = {
  ...plainCamera(1920, 1080, 1200),
  distortion: { k1: -0.12, k2: 0.02, p1: 5e-4, p2: -3e-4, k3: 0 },
};

function shake(...frames: (readonly [number, number, number])[]): AngularVibration {
  const column = (axis: number) => Float64Array.from(frames, (frame) => frame[axis]);
  return { pan: column(0), tilt: column(1), roll: column(2) };
}

const angle = evenly(-0.06, 0.06);
const frameAngles = fc.tuple(angle, angle, angle);
const path = fc.array(frameAngles, { minLength: 1, maxLength: 6 });
const transposed = (r: Float64Array) => Float64Array.of(r[0], r[3], r[6], r[1], r[4], r[7], r[2], r[5], r[8]);

/** Where in the clip the pixel (x, y) of the stabilised picture comes from: the plain way back. */
function sourceOf(each: Camera, [pan, tilt, roll]: readonly [number, number, number], x: number, y: number) {
  const ray = normalisePoints(each, [x], [y]);
  const r = transposed(rotationFromAngles(-pan, -tilt, -roll));
  const z = r[6] * ray.x[0] + r[7] * ray.y[0] + r[8];
  return pixelOfNormalised(
    each,
    (r[0] * ray.x[0] + r[1] * ray.y[0] + r[2]) / z,
    (r[3] * ray.x[0] + r[4] * ray.y[0] + r[5]) / z,
  );
}

/** How far the outline of the crop rectangle reaches beyond the picture of its frame, in pixels; negative when inside. */
function furthestOutside(
  each: Camera,
  frame: readonly [number, number, number],
  zoom: number,
  perSide: number,
): number {
  const halfWidth = each.widthPx / 2 / zoom;
  const halfHeight = each.heightPx / 2 / zoom;
  let outside = -Infinity;
  for (let i = 0; i <= perSide; i++) {
    const s = -1 + (2 * i) / perSide;
    for (const [u, v] of [
      [s, -1],
      [s, 1],
      [-1, s],
      [1, s],
    ]) {
      const { xPx, yPx } = sourceOf(
        each,
        frame,
        (each.widthPx - 1) / 2 + u * halfWidth,
        (each.heightPx - 1) / 2 + v * halfHeight,
      );
      outside = Math.max(
        outside,
        -0.5 - xPx,
        xPx - (each.widthPx - 0.5),
        -0.5 - yPx,
        yPx - (each.heightPx - 0.5),
      );
    }
  }
  return outside;
}

describe('the exact crop', () => {
  it('is nothing without vibration, with and without distortion', () => {
    expectWithin(exactZoomForPath(shake([0, 0, 0]), camera).zoom, 1, ROUNDING);
    expectWithin(exactZoomForPath(shake([0, 0, 0]), wide).zoom, 1, {
      abs: 1e-9,
      why: 'inverse of the distortion',
    });
    expect(exactZoomForPath(shake(), camera)).toMatchObject({
      zoom: 1,
      cropPercent: 0,
      worstFrame: -1,
      coverable: true,
    });
  });

  it('of a pure pan follows the tangent of the half view', () => {
    fc.assert(
      fc.property(evenly(-0.1, 0.1), (pan) => {
        const half = Math.atan(960 / camera.focalPx);
        const left = (camera.focalPx * Math.tan(half - Math.abs(pan))) / 960;
        expectWithin(1 / exactZoomForPath(shake([pan, 0, 0]), camera).zoom, left, ROUNDING);
      }),
      { seed: 210 },
    );
  });

  it('of a pure tilt follows the tangent of the half view across the height', () => {
    for (const tilt of [-0.05, 0.001, 0.03]) {
      const half = Math.atan(540 / camera.focalPx);
      const left = (camera.focalPx * Math.tan(half - Math.abs(tilt))) / 540;
      expectWithin(1 / exactZoomForPath(shake([0, tilt, 0]), camera).zoom, left, ROUNDING);
    }
  });

  it('of a pure roll is 1 / (cos t + W/H sin t), whatever the lens', () => {
    fc.assert(
      fc.property(evenly(-0.3, 0.3), evenly(300, 9000), (roll, f) => {
        const t = Math.abs(roll);
        const zoom = Math.cos(t) + (16 / 9) * Math.sin(t);
        expectWithin(exactZoomForPath(shake([0, 0, roll]), plainCamera(1920, 1080, f)).zoom, zoom, ROUNDING);
      }),
      { seed: 211 },
    );
  });

  it('leaves a rectangle that lies inside every corrected frame, and a slightly larger one does not', () => {
    fc.assert(
      fc.property(path, (frames) => {
        const { zoom, worstFrame } = exactZoomForPath(shake(...frames), camera);
        for (const frame of frames)
          expect(furthestOutside(camera, frame, zoom * (1 + 1e-9), 1)).toBeLessThanOrEqual(1e-6);
        expect(furthestOutside(camera, frames[worstFrame], zoom * (1 - 1e-6), 1)).toBeGreaterThan(0);
      }),
      { seed: 212 },
    );
  });

  it('holds the same on a bent picture, to the chord error of the sampled border', () => {
    fc.assert(
      fc.property(path, (frames) => {
        const { zoom, worstFrame } = exactZoomForPath(shake(...frames), wide);
        for (const frame of frames) expect(furthestOutside(wide, frame, zoom, 100)).toBeLessThan(0.02);
        expect(furthestOutside(wide, frames[worstFrame], zoom * (1 - 1e-4), 100)).toBeGreaterThan(0);
      }),
      { seed: 213, numRuns: 30 },
    );
  });

  it('grows when every angle grows and when frames are added', () => {
    fc.assert(
      fc.property(path, frameAngles, evenly(1, 2), (frames, extra, factor) => {
        const { zoom } = exactZoomForPath(shake(...frames), camera);
        const stronger = frames.map(([p, t, r]) => [factor * p, factor * t, factor * r] as const);
        expect(exactZoomForPath(shake(...stronger), camera).zoom).toBeGreaterThanOrEqual(zoom - 1e-12);
        expect(exactZoomForPath(shake(...frames, extra), camera).zoom).toBeGreaterThanOrEqual(zoom);
      }),
      { seed: 214 },
    );
  });

  it('does not depend on the size at which the clip was analysed', () => {
    fc.assert(
      fc.property(path, evenly(0.2, 4), (frames, s) => {
        const scaled = plainCamera(1920 * s, 1080 * s, camera.focalPx * s);
        expectWithin(
          exactZoomForPath(shake(...frames), scaled).zoom,
          exactZoomForPath(shake(...frames), camera).zoom,
          ROUNDING,
        );
      }),
      { seed: 215 },
    );
  });

  it('is smaller for a flatter delivery, which has room above and below', () => {
    const tilted = shake([0, 0.02, 0]);
    const scope = 1 / 2.39;
    const loose = exactZoomForPath(tilted, camera, scope);
    expect(loose.zoom).toBeLessThan(1.01);
    expect(exactZoomForPath(tilted, camera).zoom).toBeGreaterThan(1.05);
    expectWithin(
      exactZoomForPath(shake([0, 0, 0]), camera, scope).zoom,
      1,
      ROUNDING,
      'no vibration, no crop',
    );
  });

  it('says which frame decides, the last one included', () => {
    const result = exactZoomForPath(shake([0, 0, 0], [0.001, 0, 0], [0.01, 0, 0]), camera);
    expect(result.worstFrame).toBe(2);
    expectWithin(result.cropPercent, horizontalCropPercent(result.zoom), ROUNDING);
    expect(result.halfWidthShare.length).toBe(3);
  });

  it.each([
    ['off the frame', 0.6],
    ['sideways', 1.7],
    ['backwards', 3.1],
  ])('stays a number and says so when the camera turned %s', (_, pan) => {
    const result = exactZoomForPath(shake([pan, 0, 0]), camera);
    expect(result.coverable).toBe(false);
    expectWithin(result.zoom, 20, { abs: 1e-9, why: 'limit of the zoom' });
  });

  it('leaves its input as it was', () => {
    const vibration = shake([0.01, 0.02, 0.03]);
    exactZoomForPath(vibration, camera);
    expect(vibration).toEqual(shake([0.01, 0.02, 0.03]));
  });
});

describe('corrections', () => {
  it('bring a scene point back to where the intended move shows it', () => {
    fc.assert(
      fc.property(frameAngles, (frame) => {
        // A ray in the axes of the intended camera, seen by the shaken one: Y = R X.
        const ray = [0.2, -0.1, 1];
        const r = rotationFromAngles(...frame);
        const [x, y, z] = [0, 3, 6].map((row) => r[row] * ray[0] + r[row + 1] * ray[1] + r[row + 2] * ray[2]);
        const shaken = pixelOfNormalised(camera, x / z, y / z);
        const intended = pixelOfNormalised(camera, 0.2, -0.1);
        const back = applyHomography(correctionHomographies(shake(frame), camera), shaken.xPx, shaken.yPx);
        expectWithin(back?.xPx ?? NaN, intended.xPx, { abs: 1e-9, why: 'double rounding at pixel scale' });
        expectWithin(back?.yPx ?? NaN, intended.yPx, { abs: 1e-9, why: 'double rounding at pixel scale' });
      }),
      { seed: 216 },
    );
  });
});

/** Smooth turns within the frames, radians, that differ from frame to frame. */
function turningRows(frames: number, amplitude: number, knots = 9): RowChanges {
  const column = (phase: number) =>
    Float64Array.from(
      { length: frames * knots },
      (_, i) => amplitude * Math.sin(phase + 2 * Math.floor(i / knots) + (1.5 * (i % knots)) / (knots - 1)),
    );
  return { knots, pan: column(0), tilt: column(1), roll: column(2) };
}

describe('the exact crop for any frame and delivery', () => {
  const size = fc.integer({ min: 400, max: 4000 });
  const deliveryShape = fc.constantFrom(9 / 16, 1 / 2.39, 1 / 1.85, 3 / 4, 1, 5 / 4, 16 / 9);

  it('of a pure roll is set by the nearer of the two sides that a corner meets, upright frames included', () => {
    fc.assert(
      fc.property(size, size, deliveryShape, evenly(-0.2, 0.2), (w, h, shape, roll) => {
        const [c, s] = [Math.cos(roll), Math.sin(Math.abs(roll))];
        const halfWidth = Math.min(w / 2 / (c + shape * s), h / 2 / (s + shape * c));
        const whole = Math.min(w / 2, h / 2 / shape);
        const { zoom } = exactZoomForPath(shake([0, 0, roll]), plainCamera(w, h, 2000), shape);
        expectWithin(zoom, Math.min(20, Math.max(1, whole / halfWidth)), {
          abs: 1e-9,
          why: 'double rounding',
        });
      }),
      { seed: 217 },
    );
  });

  it('of a shift costs nothing as long as the delivery leaves room on that side', () => {
    const long = (w: number, h: number) => plainCamera(w, h, 1e7);
    const shiftPx = (dx: number, dy: number) => shake([dx / 1e7, dy / 1e7, 0]);
    const zoomOf = (w: number, h: number, dx: number, dy: number, shape: number) =>
      exactZoomForPath(shiftPx(dx, dy), long(w, h), shape).zoom;
    const exact = { abs: 1e-6, why: 'tangent of some microradians' };
    // 1920 x 1080 has 138.3 px above and below a 2.39 : 1 picture.
    const above = (1080 - 1920 / 2.39) / 2;
    expectWithin(zoomOf(1920, 1080, 0, 100, 1 / 2.39), 1, exact);
    expectWithin(zoomOf(1920, 1080, 0, above + 10, 1 / 2.39), 1 / (1 - 20 / (1920 / 2.39)), exact);
    expectWithin(zoomOf(1920, 1080, 48, 100, 1 / 2.39), 1 / 0.95, exact);
    // An upright delivery cut from the same frame has the room at the sides.
    expectWithin(zoomOf(1920, 1080, 600, 27, 16 / 9), 1 / 0.95, exact);
    // A frame shot upright for an upright delivery has none anywhere.
    expectWithin(zoomOf(1080, 1920, 27, 0, 16 / 9), 1 / 0.95, exact);
    expectWithin(zoomOf(1080, 1920, 0, 48, 16 / 9), 1 / 0.95, exact);
    // 4:3 from 16:9: 240 px at each side.
    expectWithin(zoomOf(1920, 1080, 240, 0, 3 / 4), 1, exact);
  });

  it('is the same for a frame and its delivery turned by a quarter, lens and shake with them', () => {
    // Turned clockwise: what was right is down, what was up is right.
    fc.assert(
      fc.property(path, (frames) => {
        const upright: Camera = {
          ...wide,
          widthPx: wide.heightPx,
          heightPx: wide.widthPx,
          centreXPx: wide.heightPx - 1 - wide.centreYPx,
          centreYPx: wide.centreXPx,
          distortion: { k1: -0.12, k2: 0.02, k3: 0, p1: -3e-4, p2: -5e-4 },
        };
        const turned = frames.map(([p, t, r]) => [t, -p, r] as const);
        for (const shape of [9 / 16, 1 / 2.39]) {
          expectWithin(
            exactZoomForPath(shake(...turned), upright, 1 / shape).zoom,
            exactZoomForPath(shake(...frames), wide, shape).zoom,
            { abs: 1e-8, why: 'inverse of the distortion' },
          );
        }
      }),
      { seed: 218, numRuns: 20 },
    );
  });
});

describe('the exact crop of rows that turn', () => {
  const wobbly: Corrections = {
    vibration: shake([0.01, 0.004, -0.005], [-0.006, -0.008, 0.004], [0.002, 0.003, 0.008]),
    rows: turningRows(3, 0.003),
  };

  it('is that of whole frames when no row differs', () => {
    const { vibration } = wobbly;
    expectWithin(
      exactCrop({ vibration, rows: turningRows(3, 0) }, camera).zoom,
      exactZoomForPath(vibration, camera).zoom,
      ROUNDING,
    );
  });

  it('of a pan that shears a long lens picture by d px is zoom 1 + d / W', () => {
    // The side leans by d over the height; a window of half width a meets it at a / (W/2) of the half height.
    const long = plainCamera(1920, 1080, 1e6);
    for (const d of [-30, 4, 12]) {
      const rows = {
        knots: 2,
        pan: Float64Array.of(-d / 2e6, d / 2e6),
        tilt: new Float64Array(2),
        roll: new Float64Array(2),
      };
      const { zoom } = exactCrop({ vibration: shake([0, 0, 0]), rows }, long);
      expectWithin(zoom, 1 + Math.abs(d) / 1920, {
        abs: 1e-6,
        why: 'perspective of a thousandth of a degree',
      });
    }
  });

  it.each([
    ['straight lens', camera, undefined],
    ['bent lens', wide, undefined],
    ['bent lens in 4K', scaled(wide, 2), undefined],
    [
      'bent lens, upright',
      scaled({ ...wide, widthPx: 1080, heightPx: 1920, centreXPx: 545, centreYPx: 955 }, 1),
      undefined,
    ],
    ['straight lens, flat delivery', camera, 1 / 2.39],
    ['bent lens, upright delivery', wide, 16 / 9],
  ])(
    'leaves a window that comes from inside every frame, to 0.02 px, and no larger one does: %s',
    (_, each, given) => {
      const shape = given ?? each.heightPx / each.widthPx;
      const result = exactCrop(wobbly, each, shape);
      const whole = Math.min(each.widthPx / 2, each.heightPx / 2 / shape);
      expect(outsideOf(each, whole / result.zoom, shape)).toBeLessThan(0.02);
      expect(outsideOf(each, whole / result.zoom, shape)).toBeGreaterThan(-0.02);
      expect(result.cropPercent).toBeGreaterThan(0.5);
    },
  );

  function outsideOf(each: Camera, halfWidthPx: number, shape: number): number {
    const { xPx, yPx } = outline(each, { halfWidthPx, shape }, 1500);
    const outX = new Float64Array(xPx.length);
    const outY = new Float64Array(xPx.length);
    let outside = -Infinity;
    for (let t = 0; t < 3; t++) {
      sourcePlaces(turnOfFrame(wobbly, t), each, xPx, yPx, outX, outY);
      outside = Math.max(outside, farthestOutside(each, outX, outY));
    }
    return outside;
  }
});

function scaled(each: Camera, s: number): Camera {
  return {
    ...each,
    widthPx: each.widthPx * s,
    heightPx: each.heightPx * s,
    focalPx: each.focalPx * s,
    centreXPx: (each.centreXPx + 0.5) * s - 0.5,
    centreYPx: (each.centreYPx + 0.5) * s - 0.5,
  };
}
