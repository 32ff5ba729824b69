/** Lamps that flicker, told from drift, from motion past bright things and from other lines. */
import { describe, expect, it } from 'vitest';
import { exposureGain } from '../../../src/optics/index.js';
import { falseMotionHz, FALSE_SHIFT_SHARE } from '../../../src/spectrum/shutter/false-motion.js';
import { findFlicker, type Flicker } from '../../../src/spectrum/shutter/find-flicker.js';
import type { FrameLevels } from '../../../src/tracking/index.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpLight } from './support/made-up-light.js';

const UNKNOWN = { exposureS: null, mainsHz: null, readoutS: null };
const GLOBAL = { ...UNKNOWN, readoutS: 0 };
const TEN = { durationS: 10, seed: 11 };

function found(flicker: Flicker | null): Flicker {
  if (flicker === null) throw new Error('no flicker found');
  return flicker;
}

describe('a lamp on the mains', () => {
  it.each([
    [24, 100, 4],
    [25, 120, 5],
    [30, 100, 10],
    [29.97, 100, 100 - 3 * 29.97],
    [24, 50, 2],
    [50, 120, 20],
  ])('is found where %d frames/s fold %d Hz, with its frequency and depth', (rateHz, hz, seenHz) => {
    // Mains a little fast, as they are: by 0.07 %.
    const offHz = 0.0007 * hz * (hz > Math.round(hz / rateHz) * rateHz ? 1 : -1);
    const levels = madeUpLight({ ...TEN, rateHz, lamp: { hz: 1.0007 * hz, depth: 0.02 } });
    const flicker = found(findFlicker(levels, GLOBAL));
    expect(flicker.lampHz).toBe(hz);
    expect(flicker.inBands).toBe(false);
    expectWithin(flicker.seenHz, seenHz + offHz, {
      abs: 4 * flicker.seenSdHz,
      why: 'four stated standard deviations',
    });
    expectWithin(flicker.depthPercent, 2, { rel: 0.1, why: 'drift and noise of the light, ten seconds' });
  });

  it('rolls through the picture where rows are read one after the other, and loses no depth by it', () => {
    const light = { ...TEN, rateHz: 24, readoutS: 0.02, lamp: { hz: 100, depth: 0.01 } };
    for (const readoutS of [0.02, null]) {
      const flicker = found(findFlicker(madeUpLight(light), { ...UNKNOWN, readoutS }));
      expect([flicker.lampHz, flicker.inBands]).toEqual([100, true]);
      expectWithin(flicker.depthPercent, 1, { rel: 0.1, why: 'noise of the light' });
    }
  });

  it('is no lamp where bands roll at another pace than the rows of this sensor', () => {
    const levels = madeUpLight({ ...TEN, rateHz: 24, readoutS: 0.02, lamp: { hz: 100, depth: 0.01 } });
    expect(findFlicker(levels, { ...UNKNOWN, readoutS: 0.009 })).toBeNull();
  });

  it('tells 50 from 100 Hz at 30 frames/s, where both show at 10 Hz, by the way bands run; without bands it is twice the mains', () => {
    for (const hz of [50, 100]) {
      const levels = madeUpLight({ ...TEN, rateHz: 30, readoutS: 0.015, lamp: { hz, depth: 0.02 } });
      expect(findFlicker(levels, { ...UNKNOWN, readoutS: 0.015 })?.lampHz).toBe(hz);
    }
    const still = madeUpLight({ ...TEN, rateHz: 30, lamp: { hz: 50, depth: 0.02 } });
    expect(findFlicker(still, GLOBAL)?.lampHz).toBe(100);
  });

  it('is looked for at the mains that were given alone', () => {
    const levels = madeUpLight({ ...TEN, rateHz: 25, lamp: { hz: 120, depth: 0.02 } });
    expect(findFlicker(levels, { ...GLOBAL, mainsHz: 60 })?.lampHz).toBe(120);
    expect(findFlicker(levels, { ...GLOBAL, mainsHz: 50 })).toBeNull();
  });

  it('cannot be told where frames stand still against it, or nearly so', () => {
    for (const [rateHz, hz] of [
      [25, 100],
      [50, 100],
      [29.97, 120],
    ]) {
      const levels = madeUpLight({ ...TEN, rateHz, lamp: { hz, depth: 0.05 } });
      expect(findFlicker(levels, UNKNOWN)).toBeNull();
    }
  });

  it('is followed through a clip of minutes whose mains wander', () => {
    const levels = madeUpLight({ rateHz: 24, durationS: 90, seed: 3, drift: 0, white: 0.002 });
    for (let k = 0; k < levels.timeS.length; k++) {
      const cycles = 100 * levels.timeS[k] + 0.3 * Math.sin((2 * Math.PI * levels.timeS[k]) / 60);
      for (let b = 0; b < levels.bands; b++)
        levels.mean[k * levels.bands + b] *= 1 + 0.01 * Math.cos(2 * Math.PI * cycles);
    }
    expect(findFlicker(levels, UNKNOWN)?.lampHz).toBe(100);
  });

  it('keeps its beat over frames that are missing and stamps that are rounded', () => {
    const all = madeUpLight({ ...TEN, rateHz: 24, lamp: { hz: 100, depth: 0.02 } });
    const kept = Array.from(all.timeS.keys()).filter((k) => k % 31 !== 7);
    const levels: FrameLevels = {
      timeS: Float64Array.from(kept, (k) => Math.round(1000 * all.timeS[k]) / 1000),
      bands: all.bands,
      mean: Float64Array.from(
        kept.flatMap((k) => [...all.mean.subarray(k * all.bands, (k + 1) * all.bands)]),
      ),
    };
    const flicker = found(findFlicker(levels, GLOBAL));
    expect(flicker.lampHz).toBe(100);
    expectWithin(flicker.depthPercent, 2, {
      rel: 0.12,
      why: 'one frame in 31 is a straight line between neighbours',
    });
  });
});

describe('light without a lamp', () => {
  it('seldom shows one: in fewer than three of fifty clips', () => {
    let claimed = 0;
    for (let seed = 1; seed <= 50; seed++) {
      const rateHz = [24, 25, 30, 50][seed % 4];
      if (findFlicker(madeUpLight({ rateHz, durationS: 10, seed }), UNKNOWN)) claimed += 1;
    }
    // 1.3 in 100 as measured on 3600; three or more of 50 would come about once in 40 times.
    expect(claimed).toBeLessThan(3);
  });

  it('shows none when something bright passes at another frequency, however strongly', () => {
    for (const hz of [3.2, 4.6, 7])
      expect(
        findFlicker(madeUpLight({ ...TEN, rateHz: 24, common: { hz, depth: 0.05 } }), UNKNOWN),
      ).toBeNull();
  });

  it('shows none when bright things pass at the very frequency of a lamp, each band in its own way', () => {
    for (let seed = 1; seed <= 10; seed++) {
      const levels = madeUpLight({ ...TEN, seed, rateHz: 24, passing: { hz: 4, depth: 0.02 } });
      expect(findFlicker(levels, GLOBAL)).toBeNull();
    }
  });

  it('shows none that a shake at the same place could make of a bright and a dark end of the picture', () => {
    const levels = madeUpLight({ ...TEN, rateHz: 24, common: { hz: 4, depth: 0.01 } });
    const shake = { freqHz: 4.01, shiftShare: 0.006 };
    expect(findFlicker(levels, { ...GLOBAL, shakes: [shake] })).toBeNull();
    expect(findFlicker(levels, { ...GLOBAL, shakes: [{ ...shake, freqHz: 5 }] })?.lampHz).toBe(100);
    expect(findFlicker(levels, { ...GLOBAL, shakes: [{ ...shake, shiftShare: 0.001 }] })?.lampHz).toBe(100);
  });

  it('shows none where the shutter would have left less of any lamp', () => {
    const levels = madeUpLight({ ...TEN, rateHz: 24, common: { hz: 4, depth: 0.05 } });
    // 1/50 s takes in two whole cycles of 100 Hz; 1/48 s lets 4 % through, a narrow shutter nearly all.
    expect(findFlicker(levels, { ...GLOBAL, exposureS: 1 / 50 })).toBeNull();
    expect(exposureGain(100, 1 / 1000)).toBeGreaterThan(0.98);
    expect(findFlicker(levels, { ...GLOBAL, exposureS: 1 / 1000 })?.lampHz).toBe(100);
  });

  it('is not judged when it is too short, keeps no beat or is the same throughout', () => {
    const lamp = { hz: 100, depth: 0.05 };
    expect(findFlicker(madeUpLight({ rateHz: 24, durationS: 1.5, seed: 1, lamp }), UNKNOWN)).toBeNull();
    const uneven = madeUpLight({ ...TEN, rateHz: 24, lamp });
    for (let k = 0; k < uneven.timeS.length; k++) uneven.timeS[k] += 0.004 * Math.sin(k * k);
    expect(findFlicker(uneven, UNKNOWN)).toBeNull();
    const flat = madeUpLight({ ...TEN, rateHz: 24, white: 0, drift: 0 });
    expect(findFlicker(flat, UNKNOWN)).toBeNull();
    const black = { ...flat, mean: new Float64Array(flat.mean.length) };
    expect(findFlicker(black, UNKNOWN)).toBeNull();
  });

  it('is left as it was', () => {
    const levels = madeUpLight({ ...TEN, rateHz: 24, lamp: { hz: 100, depth: 0.02 } });
    const copy = levels.mean.slice();
    findFlicker(levels, UNKNOWN);
    expect(levels.mean).toEqual(copy);
  });
});

describe('flicker taken for motion', () => {
  const flicker: Flicker = { lampHz: 100, seenHz: 4, seenSdHz: 0.001, depthPercent: 5, inBands: false };
  const reach = FALSE_SHIFT_SHARE * (16 / 9) * 0.05;

  it('is a suspect where frames show it, unless the picture shakes there more than such light can feign', () => {
    expect(falseMotionHz(flicker, [], 16 / 9)).toEqual([4]);
    expect(falseMotionHz(flicker, [{ freqHz: 4.01, shiftShare: 0.9 * reach }], 16 / 9)).toEqual([4]);
    expect(falseMotionHz(flicker, [{ freqHz: 4.01, shiftShare: 1.1 * reach }], 16 / 9)).toEqual([]);
    expect(falseMotionHz(flicker, [{ freqHz: 6, shiftShare: 0.1 }], 16 / 9)).toEqual([4]);
  });

  it('is none without flicker', () => {
    expect(falseMotionHz(null, [], 16 / 9)).toEqual([]);
  });
});
