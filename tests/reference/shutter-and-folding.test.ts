/** What shutter, frame rate and readout do to shake and to light, against computed cases and facts of the trade. */
import { describe, expect, it } from 'vitest';
import { exposureGain, shutterTimeS } from '../../src/optics/index.js';
import { couldBe } from '../../src/spectrum/shutter/folded.js';
import { lampsOnMains, largestDepth } from '../../src/spectrum/shutter/lamps.js';
import { wobblePx } from '../../src/spectrum/shutter/wobble.js';
import { expectWithin } from '../support/expect-within.js';
import { workedCase } from '../support/worked-case.js';

describe('a sensor that is read row by row', () => {
  // Source: row r is exposed at t0 + r * readout / rows. Computed case "rolling-shutter": 8 Hz, 5 px, 15 ms.
  it('bends an upright line as the case says, whatever focal length makes the 5 px', () => {
    const { inputs, expected } = workedCase<
      { max_skew_px: number },
      { readout_ms: number; f_Hz: number; A_px: number }
    >('rolling-shutter');
    const readoutS = inputs.readout_ms / 1000;
    for (const focalPx of [800, 2666]) {
      const picture = { focalPx, widthPx: 1920, readoutS };
      for (const axis of ['pan', 'tilt'] as const)
        expectWithin(
          wobblePx(axis, inputs.A_px / focalPx, inputs.f_Hz, picture),
          expected.max_skew_px,
          { rel: 1e-8, why: 'ten digits are printed in the reference' },
          axis,
        );
    }
  });
});

describe('frames that fold', () => {
  // Source: sampling theorem. Computed case "aliasing".
  it('list each true frequency of the case among what its alias could be', () => {
    for (const row of workedCase<{ f_Hz: number; fps: number; seen_Hz: number }[]>('aliasing').expected) {
      const origins = couldBe({ freqHz: row.seen_Hz, freqSdHz: 0 }, { rateHz: row.fps, exposureS: 0 });
      const nearest = Math.min(...origins.map(({ trueHz }) => Math.abs(trueHz - row.f_Hz)));
      expectWithin(nearest, 0, { abs: 1e-9, why: 'arithmetic' }, `${row.f_Hz} Hz at ${row.fps}`);
    }
  });
});

describe('lamps on the mains', () => {
  // Source: power of a resistive load on a sine, P = U^2 / R = P0 (1 - cos(2 w t)): closed form.
  it('give light at twice the frequency of the mains, for its power is a square', () => {
    for (const mainsHz of [50, 60] as const) {
      const samples = 1000;
      const power = Float64Array.from(
        { length: samples },
        (_, i) => Math.sin((2 * Math.PI * mainsHz * i) / samples) ** 2,
      );
      let strongest = 0;
      let best = 0;
      for (let hz = 1; hz < samples / 2; hz++) {
        let re = 0;
        let im = 0;
        power.forEach((level, i) => {
          re += level * Math.cos((2 * Math.PI * hz * i) / samples);
          im += level * Math.sin((2 * Math.PI * hz * i) / samples);
        });
        if (Math.hypot(re, im) > best) [best, strongest] = [Math.hypot(re, im), hz];
      }
      expect(lampsOnMains(24, mainsHz)[0].lampHz).toBe(strongest);
    }
  });

  // Arithmetic of folding at the rates that are filmed at; the rates are common practice, no source.
  it.each([
    [24, 100, 4],
    [25, 100, 0],
    [30, 100, 10],
    [25, 120, 5],
    [30, 120, 0],
    [24, 120, 0],
    [30000 / 1001, 120, 120 - 120000 / 1001],
    [24000 / 1001, 120, 120 - 120000 / 1001],
    [50, 120, 20],
    [60, 100, 20],
  ])('at %d frames/s lamps at %d Hz show at %d Hz', (rateHz, lampHz, seenHz) => {
    const lamp = lampsOnMains(rateHz, null).find((one) => one.lampHz === lampHz);
    expectWithin(lamp?.seenHz ?? NaN, seenHz, { abs: 1e-9, why: 'arithmetic' });
  });

  // Common practice, no source: with 50 Hz mains film at 1/50 or 1/100 s (172.8 degrees at 24), with 60 Hz at 1/60 (144 degrees).
  it.each([
    [100, 172.8, 24],
    [100, 180, 25],
    [100, 90, 25],
    [120, 144, 24],
    [120, 180, 30],
  ])('of %d Hz leave nothing in an exposure of %d degrees at %d frames/s', (lampHz, angleDeg, rateHz) => {
    const exposureS = shutterTimeS(angleDeg, rateHz);
    expectWithin(exposureGain(lampHz, exposureS), 0, { abs: 1e-12, why: 'whole cycles' });
    expect(largestDepth(lampHz, exposureS)).toBeLessThan(0.05);
  });

  // Common practice, no source: 24 frames/s, 180 degrees under 50 Hz mains pulse four times a second.
  it('pulse in the very clips that crews are warned of: 24 frames/s and 180 degrees under 50 Hz', () => {
    const [lamp] = lampsOnMains(24, 50);
    expect([lamp.lampHz, lamp.seenHz]).toEqual([100, 4]);
    expectWithin(largestDepth(100, shutterTimeS(180, 24)), 0.04, {
      abs: 0.06,
      why: 'a few per cent of the lamp; the shutter to 3 %',
    });
  });
});
