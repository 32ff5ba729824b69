import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import { sixAxes, stabiliseSchema } from '../../src/run/index.js';
import {
  exactCrop,
  exactZoomForPath,
  planStabilisation,
  stabiliseSection,
} from '../../src/stabilise/index.js';
import { expectWithin } from '../support/expect-within.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { madeMotion, unitShake, type MadeMotion } from './support/made-motion.js';

const camera = plainCamera(960, 540, 933);
const delivery = {
  widthPx: 1920,
  heightPx: 1080,
  maxCropPercent: 3,
  maxResidualPx: 1,
  name: null,
  viewingDistanceHeights: 3.1,
};
const DEG = Math.PI / 180;
const shaken: MadeMotion = {
  path: {
    pan: (s) => 0.02 * s + 0.03 * DEG * unitShake(1)(s),
    tilt: (s) => 0.04 * DEG * unitShake(2)(s),
    roll: (s) => 0.02 * DEG * unitShake(3)(s),
    lateral: (s) => 0.2 * s + 2e-4 * unitShake(4)(s),
  },
};
const plan = (made: MadeMotion = shaken, more: object = {}, options = {}) =>
  planStabilisation({ motion: madeMotion(made), camera, delivery, ...more }, options);

describe('a stabilisation plan', () => {
  it('asks for the zoom of the true path within 0.3 points of crop, tracking noise and all', () => {
    const gaussian = gaussianRandom(seededRandom(7));
    const noise = 0.0007 * DEG; // per frame, as a usual clip is tracked
    const truth = madeMotion(shaken);
    const { pan, tilt, roll, lateral } = shaken.path ?? {};
    const measured = plan({
      path: {
        pan: (s, t) => (pan?.(s, t) ?? 0) + noise * gaussian(),
        tilt: (s, t) => (tilt?.(s, t) ?? 0) + noise * gaussian(),
        roll: (s, t) => (roll?.(s, t) ?? 0) + noise * gaussian(),
        ...(lateral ? { lateral } : {}),
      },
    });
    const exact = exactZoomForPath(truth.vibration, camera);
    expectWithin(measured.cropPercent, exact.cropPercent, { abs: 0.3, why: 'what a crew can tell apart' });
    expect(measured.coverable).toBe(true);
  });

  it('keeps the intended move: a smooth pan costs no crop', () => {
    const smooth = plan({ path: { pan: (s) => 0.05 * s + 0.02 * Math.sin(2 * Math.PI * 0.1 * s) } });
    expect(smooth.cropPercent).toBeLessThan(0.05);
  });

  it('counts every frame, the first and the last included', () => {
    for (const bad of [0, 249]) {
      const motion = madeMotion(shaken);
      motion.vibration.tilt[bad] = 0.02;
      const result = planStabilisation({ motion, camera, delivery });
      expect(result.worstFrameS).toBe(motion.timeS[bad]);
      expect(result.cropPercent).toBeGreaterThan(5);
    }
  });

  it('agrees with itself: crop, pixels and fractions say one thing', () => {
    const result = plan(shaken, { source: { widthPx: 3840, heightPx: 2160 } });
    const rounding = { rel: 1e-9, why: 'one number in several units' };
    expectWithin(result.cropPercent, 100 * (1 - 1 / result.zoom), rounding);
    expectWithin(result.cropPx, (1920 * result.cropPercent) / 100, rounding);
    expectWithin(Math.max(...result.cropFraction) * 100, result.cropPercent, rounding);
    expect(result.recommended.pixels.leftWidthPx).toBe(Math.floor(3840 / result.zoom));
    const { pan, tilt, roll } = madeMotion(shaken).vibration;
    expect(result.corrections).toEqual({ vibration: { pan, tilt, roll }, rows: null });
    expect(result.ways.map(({ mode }) => mode)).toEqual(['keepMove', 'holdStill', 'smoothest']);
    expect(result.ways[0].crop.zoom).toBe(result.zoom);
  });

  it('saves picture with a moving zoom, but never shows a border by it', () => {
    const burst = plan({
      path: { tilt: (s) => (s > 4 && s < 5 ? 0.005 * Math.sin(2 * Math.PI * 5 * s) : 0) },
    });
    expect(burst.movingCropPercent).toBeLessThan(0.6 * burst.cropPercent);
    burst.movingCropFraction.forEach((crop, t) => expect(crop).toBeGreaterThanOrEqual(burst.cropFraction[t]));
  });

  it('trades crop for steadiness along the curve, its own smoothing included', () => {
    const { curve, smoothingS, cropPercent, residual } = plan({
      ...shaken,
      path: { ...shaken.path, pan: (s) => 0.004 * Math.sin(2 * Math.PI * 0.6 * s) + 5e-4 * unitShake(1)(s) },
    });
    expect(curve.map((point) => point.smoothingS)).toEqual([0.25, 0.35, 0.5, 0.7, 1, 1.25, 1.5, 2, 2.5, 3]);
    const own = curve.find((point) => point.smoothingS === smoothingS);
    expect(own?.cropPercent).toBe(cropPercent);
    expect(own?.residualPx).toBe(residual.total?.rmsPx ?? null);
    expect(curve[9].cropPercent).toBeGreaterThan(1.7 * curve[2].cropPercent);
  });

  it('leaves smoothings out of the curve that the clip is too short for', () => {
    const smoothings = plan({ ...shaken, durationS: 4 }).curve.map((point) => point.smoothingS);
    expect(Math.max(...smoothings)).toBe(1.25);
  });

  it('recommends what was asked for when its crop is accepted, with a little reserve', () => {
    const { recommended, zoom } = plan();
    expect(recommended.smoothingS).toBe(1.25);
    expect(recommended.zoom).toBeGreaterThan(zoom);
    expect(recommended.zoom).toBeLessThan(zoom + 0.005);
    const { reserved, forRepeat } = recommended.framing;
    expectWithin(reserved?.overscanPercent ?? NaN, 100 * (recommended.zoom - 1), {
      rel: 0.1,
      why: 'a wider lens needs a little less crop',
    });
    expect(forRepeat?.overscanPercent).toBeGreaterThan(reserved?.overscanPercent ?? NaN);
  });

  it('recommends less smoothing when the limit asks for it, and stays with the one asked for when nothing meets it', () => {
    const swaying: MadeMotion = { path: { pan: (s) => 0.024 * Math.sin(2 * Math.PI * 0.9 * s) } };
    const weaker = plan(swaying);
    expect(weaker.cropPercent).toBeGreaterThan(delivery.maxCropPercent);
    expect(weaker.recommended.smoothingS ?? NaN).toBeLessThan(1.25);
    expect(100 * (1 - 1 / weaker.recommended.zoom)).toBeLessThanOrEqual(delivery.maxCropPercent);
    const strict = plan(swaying, { delivery: { ...delivery, maxCropPercent: 0 } });
    expect(strict.recommended.smoothingS).toBe(1.25);
  });

  it('uses another smoothing when asked, and refuses one that is none', () => {
    expect(plan(shaken, {}, { smoothingS: 0.5 }).smoothingS).toBe(0.5);
    expect(() => plan(shaken, {}, { smoothingS: 0 })).toThrow(RangeError);
  });

  it('turns the rows one by one where the readout is known, given or found, and counts their crop', () => {
    const whole = plan();
    const rows = plan(shaken, { rig: { readoutMs: 15 } });
    expect(whole.corrections.rows).toBeNull();
    expect(rows.corrections.rows?.knots).toBeGreaterThan(2);
    expect(rows.cropPercent).not.toBe(whole.cropPercent);
    expect(rows.cropPercent).toBe(exactCrop(rows.corrections, camera).cropPercent);
    const motion = madeMotion(shaken);
    const found = planStabilisation({
      motion: { ...motion, readout: { ...motion.readout, readoutS: 0.015 } },
      camera,
      delivery,
    });
    expect(found.cropPercent).toBe(rows.cropPercent);
    expect(plan(shaken, { rig: { readoutMs: 0 } }).corrections.rows).toBeNull();
  });

  it('holds still what stands, at the price of its whole turn where the camera turns', () => {
    const standing = { path: { tilt: (s: number) => 0.04 * DEG * unitShake(2)(s) } };
    const still = plan(standing, {}, { mode: 'holdStill' });
    expect(still.smoothingS).toBeNull();
    expect(still.recommended.smoothingS).toBeNull();
    expect(still.cropPercent).toBeLessThan(1);
    const { tilt } = madeMotion(standing).path;
    const target = tilt.map((angle, t) => angle - still.corrections.vibration.tilt[t]);
    expectWithin(Math.max(...target) - Math.min(...target), 0, { abs: 1e-12, why: 'one orientation' });
    // Panning by 0.2 rad shifts the picture by 0.2 x 933 px, a fifth of the width.
    expect(plan(shaken, {}, { mode: 'holdStill' }).cropPercent).toBeGreaterThan(19);
  });

  it('uses the crop that it may, and no more, on the smoothest path', () => {
    const smoothest = plan(shaken, {}, { mode: 'smoothest' });
    expect(smoothest.mode).toBe('smoothest');
    expect(smoothest.cropPercent).toBeLessThanOrEqual(delivery.maxCropPercent + 1e-9);
    expect(smoothest.cropPercent).toBeGreaterThan(0.8 * delivery.maxCropPercent);
  });

  it('foretells the take that was asked for beside the usual ones', () => {
    const lengths = plan(shaken, {}, { takeS: 45 }).forecast.takes.map(({ takeS }) => takeS);
    expect(lengths).toEqual([10, 30, 45, 60, 120]);
  });

  it('leaves more shake where it smooths less', () => {
    const { curve } = plan({ path: { pan: (s) => 0.003 * Math.sin(2 * Math.PI * 1.2 * s) } });
    const left = curve
      .filter(({ smoothingS }) => smoothingS <= 1.25)
      .map(({ residualPx }) => residualPx ?? NaN);
    for (let i = 1; i < left.length; i++) expect(left[i]).toBeLessThanOrEqual(left[i - 1] * (1 + 1e-9));
    expect(left[0]).toBeGreaterThan(2 * left[left.length - 1]);
  });

  it('assumes a shutter aloud when none is given', () => {
    expect(plan().assumed.map((entry) => entry.name)).toEqual(['shutterAngleDeg']);
    expect(plan(shaken, { rig: { shutterAngleDeg: 90 } }).assumed).toEqual([]);
    expect(
      plan(shaken, { rig: { readoutMs: 15 } }).residual.causes.readoutWholeFrames?.rmsPx,
    ).toBeGreaterThan(0);
  });

  it('gives the same fractions at every analysis size, and residues in delivery pixels', () => {
    const large = planStabilisation({
      motion: madeMotion(shaken),
      camera: plainCamera(1920, 1080, 1866),
      delivery,
    });
    const small = plan();
    const rounding = { rel: 1e-9, why: 'rounding' };
    expectWithin(large.cropPercent, small.cropPercent, rounding);
    const total = ({ residual }: typeof small): number => residual.total?.rmsPx ?? NaN;
    const pulse = ({ residual }: typeof small): number => residual.causes.blur?.pulsePx ?? NaN;
    expectWithin(total(large), total(small), rounding);
    expectWithin(pulse(large), pulse(small), rounding);
    const uhd = plan(shaken, { delivery: { ...delivery, widthPx: 3840, heightPx: 2160 } });
    expectWithin(total(uhd), 2 * total(small), rounding);
    expectWithin(uhd.cropPx, 2 * small.cropPx, rounding);
  });

  it('stays a set of plain numbers on clips that cannot be stabilised', () => {
    const wild = plan({ path: { pan: (s) => 1.5 * Math.sin(2 * Math.PI * 3 * s) } });
    expect(wild.coverable).toBe(false);
    expect(wild.cropPercent).toBeLessThanOrEqual(95.0001);
    for (const durationS of [0, 0.04, 0.12, 0.4]) {
      const short = plan({ ...shaken, durationS, depth: null });
      stabiliseSchema.parse(stabiliseSection(short)); // refuses NaN and infinities
      expect(short.cropFraction.length).toBe(Math.round(durationS * 25));
    }
  });

  it('writes the section of the run document, nulls where nothing is known', () => {
    const section = stabiliseSchema.parse(stabiliseSection(plan({ ...shaken, depth: null })));
    expect(section.residual).toMatchObject({ rmsPx: null, p95Px: null, parallaxPx: null, readoutPx: null });
    expect(section.curve.every((point) => point.residualPx === null)).toBe(true);
    expect(section.longerTake.map((take) => take.takeS)).toEqual([10, 30, 60, 120]);
    expect(JSON.parse(JSON.stringify(section))).toEqual(section);
  });

  it('repeats bit by bit and leaves the motion as it was', () => {
    const motion = madeMotion(shaken);
    const before = sixAxes((axis) => motion.vibration[axis].slice());
    const first = planStabilisation({ motion, camera, delivery });
    expect(planStabilisation({ motion, camera, delivery })).toEqual(first);
    expect(motion.vibration).toEqual(before);
  });
});
