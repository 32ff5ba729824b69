import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cropAtFocal,
  framingForPicture,
  rowChanges,
  tighterFocalLengthMm,
  type Corrections,
} from '../../src/stabilise/index.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { expectWithin } from '../support/expect-within.js';
import { madeMotion } from './support/made-motion.js';
import { sineOn } from './support/shakes.js';
import { evenly } from '../support/evenly.js';

const camera = plainCamera(960, 540, 933);
const delivery = { widthPx: 1920, heightPx: 1080 };
const source = { widthPx: 3840, heightPx: 2160 };
const SHAPE = 9 / 16;
const SOLVED = { abs: 1e-9, why: 'as fine as the focal length is solved for' };
const motion = madeMotion({ noiseSd: { pan: 2e-5, tilt: 2e-5, roll: 2e-5 } });
const framed = (corrections: Corrections, focalLengthMm: number | null = 35) =>
  framingForPicture({ motion, corrections, camera, delivery, source, focalLengthMm });
const angle = evenly(-0.03, 0.03);

describe('framing for a wanted picture', () => {
  it('finds the lens that leaves exactly the wanted picture: f zoom(f) is the focal length wanted', () => {
    fc.assert(
      fc.property(angle, angle, angle, (pan, tilt, roll) => {
        const vibration = {
          pan: Float64Array.of(pan, 0.001, 0),
          tilt: Float64Array.of(tilt, -0.002, 0),
          roll: Float64Array.of(roll, 0, 0),
        };
        const { bare } = framed({ vibration, rows: null });
        const k = bare?.focalFactor ?? NaN;
        expectWithin(k * cropAtFocal({ vibration, rows: null }, camera, SHAPE, k).zoom, 1, SOLVED);
        expectWithin(bare?.cropPercent ?? NaN, 100 * (1 - k), SOLVED);
      }),
      { seed: 221 },
    );
  });

  it('adds the amplitude of a pan to half the field of view', () => {
    const half = Math.atan(480 / 933);
    for (const amplitude of [0, 0.001, 0.02]) {
      const { bare } = framed(sineOn('pan', amplitude));
      expectWithin(bare?.focalFactor ?? NaN, Math.tan(half) / Math.tan(half + amplitude), SOLVED);
    }
  });

  it('frames wider by the crop factor of a roll, whatever the lens', () => {
    const { bare } = framed(sineOn('roll', 0.01));
    expectWithin(bare?.overscanPercent ?? NaN, 100 * (Math.cos(0.01) + (16 / 9) * Math.sin(0.01) - 1), {
      abs: 1e-6,
      why: 'a billionth of the focal length, in per cent, and roll next to none',
    });
  });

  it('says the same in per cent, columns of the delivery and millimetres', () => {
    const { bare, reserved, forRepeat } = framed(sineOn('tilt', 0.003));
    for (const each of [bare, reserved, forRepeat]) {
      expectWithin(each?.overscanPercent ?? NaN, 100 * (1 / (each?.focalFactor ?? NaN) - 1), SOLVED);
      expectWithin(each?.overscanPx ?? NaN, 19.2 * (each?.overscanPercent ?? NaN), SOLVED);
      expectWithin(each?.focalLengthMm ?? NaN, 35 * (each?.focalFactor ?? NaN), SOLVED);
    }
    expect(framed(sineOn('tilt', 0.003), null).bare?.focalLengthMm).toBeNull();
  });

  it('keeps the reserve and the room for a repeat free at the focal length that it names', () => {
    const corrections = sineOn('tilt', 0.003);
    const { bare, reserved, forRepeat, reserve } = framed(corrections);
    expect(bare?.focalFactor).toBeGreaterThan(reserved?.focalFactor ?? NaN);
    expect(reserved?.focalFactor).toBeGreaterThan(forRepeat?.focalFactor ?? NaN);
    const k = forRepeat?.focalFactor ?? NaN;
    const crop = cropAtFocal(corrections, camera, SHAPE, k).cropPercent / 100;
    expectWithin(1 - 1.35 * crop - reserve.share, k, {
      abs: 2e-6,
      why: 'the reserve is given at the focal length wanted, solved at the one found',
    });
  });

  it('asks for the reserve alone when nothing shakes', () => {
    const { bare, forRepeat, reserve } = framed(sineOn('pan', 0));
    expectWithin(bare?.focalFactor ?? NaN, 1, SOLVED);
    expectWithin(1 - (forRepeat?.focalFactor ?? NaN), reserve.share, {
      rel: 0.01,
      why: 'the reserve is given at the focal length wanted, solved at the one found',
    });
  });

  it('gives no framing when more than half of the picture would have to go', () => {
    const { bare, forRepeat } = framed(sineOn('pan', 0.4));
    expect(bare).toBeNull();
    expect(forRepeat).toBeNull();
    const close = framed(sineOn('pan', 0.3));
    expect(close.bare?.cropPercent).toBeLessThan(50);
    expect(close.forRepeat).toBeNull();
  });

  it('holds for frames that are turned row by row, and for a clip without frames', () => {
    const shaken = madeMotion({ path: { pan: (s) => 0.1 * s + 0.002 * Math.sin(20 * s) } });
    const corrections = { vibration: shaken.vibration, rows: rowChanges(shaken.path, 25, 0.015) };
    const k = framed(corrections).bare?.focalFactor ?? NaN;
    expectWithin(k * cropAtFocal(corrections, camera, SHAPE, k).zoom, 1, SOLVED);
    const none = new Float64Array(0);
    expect(framed({ vibration: { pan: none, tilt: none, roll: none }, rows: null }).bare?.focalFactor).toBe(
      1,
    );
  });
});

describe('the focal length that looks like the crop', () => {
  it('is the focal length times the zoom', () => {
    expectWithin(tighterFocalLengthMm(35, 1 / 0.94), 37.234, { abs: 5e-4, why: 'three decimals' });
  });
});
