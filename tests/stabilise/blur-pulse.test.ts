import { describe, expect, it } from 'vitest';
import { gaussianRandom, quantile, rms, seededRandom } from '../../src/numerics/index.js';
import { blurPulseLimitPx, shutterForBlur, type ShutterInput } from '../../src/stabilise/index.js';
import { expectWithin } from '../support/expect-within.js';
import { ROOM_DEPTH, madeMotion, type MadeMotion } from './support/made-motion.js';
import { NARROW, residualCase } from './support/residual-case.js';

const F = 3000;
/** Never in step with 25 frames a second. */
const FREQ_HZ = 3.93;
const shake = (s: number): number => 1e-3 * Math.sin(2 * Math.PI * FREQ_HZ * s + 0.2);
const SEEN = { rel: 0.05, why: 'frames seldom fall on the very extremes' };

const blur = (made: MadeMotion, exposureS: number | null = 0.02) =>
  residualCase({ durationS: 20, ...made }, { times: { exposureS, readoutS: null } }).causes.blur;
const pulse = (made: MadeMotion, exposureS = 0.02): number => blur(made, exposureS)?.pulsePx ?? NaN;

describe('the pulse of motion blur', () => {
  const longest = 2 * 1e-3 * Math.sin(Math.PI * FREQ_HZ * 0.02) * F;

  it('swings from nothing to the longest smear of a sine', () => {
    expectWithin(pulse({ path: { tilt: shake } }), longest, SEEN);
  });

  it('has the spread of the smear about its median', () => {
    // |cos| over the frames.
    const smear = Float64Array.from({ length: 3600 }, (_, i) => longest * Math.abs(Math.cos(i / 100)));
    const usual = quantile(smear, 0.5);
    const off = smear.map((v) => Math.abs(v - usual));
    const left = blur({ path: { tilt: shake } });
    expectWithin(left?.rmsPx ?? NaN, rms(off), SEEN);
    expectWithin(left?.p95Px ?? NaN, quantile(off, 0.95), SEEN);
  });

  it('does not come from a steady pan, whose blur never changes', () => {
    expect(pulse({ path: { pan: (s) => 0.05 * s } })).toBeLessThan(1e-6);
  });

  it('swings both ways about the smear of a steady move, turns and moves together', () => {
    const alone = pulse({ path: { pan: shake } });
    expectWithin(pulse({ path: { pan: (s) => 0.3 * s + shake(s) } }), 2 * alone, SEEN);
    // A dolly to the right smears as a pan to the right does: far more than the shake, so it takes the sign of it.
    const dolly = pulse({
      path: { pan: shake, lateral: (s) => 0.9 * s },
      depth: { ...ROOM_DEPTH, sdInverse: 0 },
    });
    expectWithin(dolly, 2 * alone, SEEN);
  });

  it('takes the moves of a shake in, where they can be told', () => {
    const made: MadeMotion = {
      path: { vertical: (s) => 3 * shake(s) },
      depth: { ...ROOM_DEPTH, sdInverse: 0 },
    };
    expectWithin(pulse(made), longest, SEEN);
    expect(pulse({ ...made, depth: null })).toBe(0);
    expect(pulse({ ...made, status: { vertical: 'notObservable' } })).toBe(0);
  });

  it('is nothing at the shortest shutter, the longer the larger, unknown without exposure', () => {
    const made = { path: { tilt: shake } };
    expect(pulse(made, 0)).toBe(0);
    expect(pulse(made, 0.02)).toBeGreaterThan(1.8 * pulse(made, 0.01));
    expect(blur(made, null)).toBeNull();
    expect(blur({ durationS: 0 })).toBeNull();
  });

  it('is not made of tracking noise', () => {
    const gaussian = gaussianRandom(seededRandom(2));
    const made = { path: { pan: () => 1e-5 * gaussian() }, noiseSd: { pan: 1.2e-5 } };
    // What is left is the part of the noise that counts as intended move.
    expect(pulse(made)).toBeLessThan(4e-3);
  });
});

describe('the shutter that tames blur', () => {
  const input = (made: MadeMotion, shutterAngleDeg = 180): ShutterInput => ({
    motion: madeMotion({ durationS: 20, ...made }),
    camera: NARROW,
    delivery: { widthPx: 960, heightPx: 540, viewingDistanceHeights: 6 },
    pxScale: 1,
    shutterAngleDeg,
  });
  const made = { path: { tilt: shake } };

  it('is the largest whole angle at which the pulse stays within the limit', () => {
    const found = shutterForBlur(input(made));
    expect(found).not.toBeNull();
    if (found === null) return;
    const at = (angleDeg: number) => pulse(made, angleDeg / 360 / 25);
    expect(at(180)).toBeGreaterThan(1);
    expect(at(found.shutterAngleDeg)).toBeLessThanOrEqual(1);
    expect(at(found.shutterAngleDeg + 1)).toBeGreaterThan(1);
    expectWithin(found.pulsePx, at(found.shutterAngleDeg), { rel: 1e-12, why: 'the same code' });
    // Closed form: 2 a f sin(pi f T) = 1 px.
    const exposureS = Math.asin(1 / (2 * 1e-3 * F)) / (Math.PI * FREQ_HZ);
    expectWithin(found.shutterAngleDeg, exposureS * 25 * 360, {
      abs: 6,
      why: 'frames off the extremes: a few per cent',
    });
  });

  it('lets a minute of arc pulse for somebody far away, and never asks for less than a pixel', () => {
    const seenFrom = (viewingDistanceHeights: number) => ({
      widthPx: 1920,
      heightPx: 1080,
      viewingDistanceHeights,
    });
    // A minute of arc at 6.2 H: tan(1') 1080 6.2 px.
    const minutePx = Math.tan(Math.PI / 180 / 60) * 1080 * 6.2;
    expectWithin(blurPulseLimitPx(seenFrom(6.2)), minutePx, { rel: 1e-6, why: 'a small angle' });
    expect(blurPulseLimitPx(seenFrom(1.5))).toBe(1);
    const near = shutterForBlur(input(made));
    const far = shutterForBlur({
      ...input(made),
      delivery: { widthPx: 960, heightPx: 540, viewingDistanceHeights: 12 },
    });
    expect(far?.shutterAngleDeg ?? 180).toBeGreaterThan(near?.shutterAngleDeg ?? 180);
  });

  it('is looked for in px of the delivery, and against another limit', () => {
    const one = shutterForBlur(input(made))?.shutterAngleDeg ?? NaN;
    const closer = shutterForBlur({
      ...input(made),
      pxScale: 2,
      delivery: { widthPx: 1920, heightPx: 1080, viewingDistanceHeights: 3.1 },
    });
    expectWithin(closer?.shutterAngleDeg ?? NaN, one / 2, { abs: 1, why: 'whole degrees' });
    expectWithin(shutterForBlur(input(made), 0.5)?.shutterAngleDeg ?? NaN, one / 2, {
      abs: 1,
      why: 'whole degrees',
    });
  });

  it('is none where the pulse is within the limit, or there are no frames', () => {
    expect(shutterForBlur(input(made), 50)).toBeNull();
    expect(shutterForBlur(input(made, 20))).toBeNull();
    expect(shutterForBlur(input({ ...made, durationS: 0 }))).toBeNull();
  });

  it('is one degree where none is short enough, and keeps below a present angle that is not whole', () => {
    const hopeless = shutterForBlur(input({ path: { tilt: (s) => 100 * shake(s) } }), 0.01);
    expect(hopeless?.shutterAngleDeg).toBe(1);
    expect(hopeless?.pulsePx).toBeGreaterThan(0.01);
    const limit = pulse(made, 172.8 / 360 / 25) * 0.9999;
    expect(shutterForBlur(input(made, 172.8), limit)?.shutterAngleDeg).toBe(172);
  });

  it('refuses a limit that is none', () => {
    expect(() => shutterForBlur(input(made), 0)).toThrow(RangeError);
  });
});
