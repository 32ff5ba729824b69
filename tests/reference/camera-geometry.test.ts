/** Camera geometry against published relations; the numbers were computed apart from this code. */
import { describe, expect, it } from 'vitest';
import {
  aliasedFrequencyHz,
  applyHomography,
  exposureGain,
  fieldOfViewDeg,
  focalPxFromMm,
  frameDifferenceGain,
  pixelOfNormalised,
  projectPoint,
  readoutSkewPx,
  rotationFromVector,
  rotationHomography,
  rowTimeS,
  shutterTimeS,
  undistort,
  type Camera,
} from '../../src/optics/index.js';
import { workedCase } from '../support/worked-case.js';
import { expectWithin } from '../support/expect-within.js';

const DIGITS = { rel: 1e-8, why: 'ten digits are printed in the reference' };
const DEG = Math.PI / 180;

describe('camera geometry', () => {
  // Source: pinhole relation hfov = 2 atan(w / 2f), f_px = f W / w; sensor sizes of the trade. Computed case "fov".
  it('agrees on field of view and focal length in pixels', () => {
    type Row = { sensor_w_mm: number; f_mm: number; hfov_deg: number } & Record<string, number>;
    const rows = workedCase<Row[]>('fov').expected;
    expect(rows.length).toBe(9);
    for (const row of rows) {
      expectWithin(fieldOfViewDeg(row.sensor_w_mm, row.f_mm), row.hfov_deg, DIGITS, 'field of view');
      const focalPx = focalPxFromMm(row.f_mm, row.sensor_w_mm, 1920);
      expectWithin(focalPx, row.px_per_rad_at_centre_1920, DIGITS, 'focal length');
      expectWithin(3600 / DEG / focalPx, row.arcsec_per_px_1920, DIGITS, 'seconds of arc per pixel');
    }
  });

  // Source: shutter tables as printed in the trade (24 fps: 180 deg 1/48 s, 172.8 deg 1/50 s, 144 deg 1/60 s). Case "shutter".
  it('agrees on shutter times', () => {
    for (const row of workedCase<{ fps: number; angle: number; t_ms: number }[]>('shutter').expected) {
      expectWithin(shutterTimeS(row.angle, row.fps) * 1000, row.t_ms, {
        rel: 1e-9,
        why: 'ten digits printed',
      });
    }
    expectWithin(shutterTimeS(144, 24), 1 / 60, { rel: 1e-12, why: 'printed as a fraction' });
  });

  // Source: mean of a sine over an interval, |sinc(f T)|. Case "exposure-sinc".
  it('agrees on how an exposure dampens a vibration', () => {
    type Row = { f_Hz: number; fps: number; angle: number; factor: number };
    for (const row of workedCase<Row[]>('exposure-sinc').expected) {
      expectWithin(exposureGain(row.f_Hz, shutterTimeS(row.angle, row.fps)), row.factor, DIGITS);
    }
  });

  // Source: sampling theorem. Cases "aliasing" and "interframe-gain".
  it('agrees on aliases and on the gain of frame differences', () => {
    for (const row of workedCase<{ f_Hz: number; fps: number; seen_Hz: number }[]>('aliasing').expected) {
      expectWithin(aliasedFrequencyHz(row.f_Hz, row.fps), row.seen_Hz, {
        abs: 1e-6,
        why: 'tolerance of the case',
      });
    }
    for (const row of workedCase<{ f_Hz: number; fps: number; gain: number }[]>('interframe-gain').expected) {
      expectWithin(frameDifferenceGain(row.f_Hz, row.fps), row.gain, {
        abs: 1e-9,
        why: 'tolerance of the case',
      });
    }
  });

  // Source: row r is exposed at t0 + r * readout / rows. Case "rolling-shutter".
  it('agrees on row times and skew of a sensor read row by row', () => {
    const { inputs, expected } = workedCase<
      { row_time_us: number; max_skew_px: number },
      { rows: number; readout_ms: number; f_Hz: number; A_px: number }
    >('rolling-shutter');
    const readoutS = inputs.readout_ms / 1000;
    expectWithin(rowTimeS(1, inputs.rows, readoutS) * 1e6, expected.row_time_us, DIGITS);
    expectWithin(readoutSkewPx(inputs.A_px, inputs.f_Hz, readoutS), expected.max_skew_px, DIGITS);
  });

  // Source: Hartley & Zisserman, Multiple View Geometry, 2nd ed., ch. 8: x2 ~ K R K^-1 x1 [chapter from memory];
  // the relation itself was read in lecture notes on conjugate rotations. Case "rotation-homography".
  it('agrees on where a turning camera moves the pixels, whatever the depth', () => {
    const { inputs, expected } = workedCase<
      Record<string, [number, number][]>,
      { points: [number, number][] }
    >('rotation-homography');
    const camera: Camera = {
      widthPx: 1921,
      heightPx: 1081,
      focalPx: 1600,
      centreXPx: 960,
      centreYPx: 540,
      distortion: null,
    };
    expect(Object.keys(expected).length).toBe(6);
    for (const [name, points] of Object.entries(expected)) {
      const turn = Number(name.slice(1)) * DEG;
      const vector = { x: [turn, 0, 0], y: [0, turn, 0], z: [0, 0, turn] }[name[0]] ?? [NaN, NaN, NaN];
      const homography = rotationHomography(camera, rotationFromVector(vector[0], vector[1], vector[2]));
      points.forEach(([x, y], i) => {
        const moved = applyHomography(homography, ...inputs.points[i]);
        expectWithin(moved?.xPx ?? NaN, x, { abs: 1e-6, why: 'twelve digits are printed' }, `${name} x`);
        expectWithin(moved?.yPx ?? NaN, y, { abs: 1e-6, why: 'twelve digits are printed' }, `${name} y`);
      });
    }
  });

  // Source: pinhole, px = f_px * shift / depth. Case "translation-parallax".
  it('agrees on the parallax of a translation', () => {
    const { inputs, expected } = workedCase<
      { shift_mm: number; depth_m: number; px: number }[],
      { f_px: number }
    >('translation-parallax');
    const camera: Camera = {
      widthPx: 1920,
      heightPx: 1080,
      focalPx: inputs.f_px,
      centreXPx: 0,
      centreYPx: 0,
      distortion: null,
    };
    for (const row of expected) {
      const moved = projectPoint(camera, row.shift_mm / 1000, 0, row.depth_m);
      expectWithin(moved?.xPx ?? NaN, row.px, { abs: 1e-9, why: 'tolerance of the case' });
    }
  });

  // Source: coefficients of OpenCV samples/data/left_intrinsics.yml; model of Brown (1966) and Conrady (1919). Case "brown-conrady".
  it('agrees on a real lens, both ways', () => {
    const { inputs, expected } = workedCase<
      [number, number][],
      { fx: number; cx: number; cy: number; dist_k1k2p1p2k3: number[]; normalised_points: [number, number][] }
    >('brown-conrady');
    const [k1, k2, p1, p2, k3] = inputs.dist_k1k2p1p2k3;
    const lens = { k1, k2, p1, p2, k3 };
    const { fx, cx, cy } = inputs;
    const camera: Camera = {
      widthPx: 640,
      heightPx: 480,
      focalPx: fx,
      centreXPx: cx,
      centreYPx: cy,
      distortion: lens,
    };
    inputs.normalised_points.forEach(([x, y], i) => {
      const pixel = pixelOfNormalised(camera, x, y);
      expectWithin(pixel.xPx, expected[i][0], DIGITS, 'xPx');
      expectWithin(pixel.yPx, expected[i][1], DIGITS, 'yPx');
      const ideal = undistort(lens, (pixel.xPx - cx) / fx, (pixel.yPx - cy) / fx);
      expectWithin(ideal.x, x, { abs: 1e-10, why: 'the inverse is exact to rounding' }, 'x');
      expectWithin(ideal.y, y, { abs: 1e-10, why: 'the inverse is exact to rounding' }, 'y');
    });
  });
});
