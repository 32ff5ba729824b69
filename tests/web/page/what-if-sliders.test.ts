/** The sliders beside a verdict: scales of even ratios, usual values that catch, what is asked in the address of the page. */
import { describe, expect, it } from 'vitest';
import { LiveAsker } from '../../../src/judge/index.js';
import {
  askedFrom,
  asksNothing,
  withAsked,
  wishOf,
  withoutMeasured,
} from '../../../src/web/page/what-if/asked.js';
import { rangesOf } from '../../../src/web/page/what-if/slider-ranges.js';
import { placeOf, SLIDER_STEPS, valueAt, valueByKey } from '../../../src/web/page/what-if/slider-scale.js';
import { rolledPass } from '../../judge/advice/support/rolled-pass.js';
import { filesOf } from '../../judge/what-if/support/rolled-run.js';

const LENSES = { low: 14, high: 140, usual: [18, 25, 35, 50, 75, 100] };

describe('a slider', () => {
  it('runs from end to end in even ratios', () => {
    expect([placeOf(LENSES, 14), placeOf(LENSES, 140)]).toEqual([0, SLIDER_STEPS]);
    expect(placeOf(LENSES, Math.sqrt(14 * 140))).toBe(SLIDER_STEPS / 2);
    expect([placeOf(LENSES, 5), placeOf(LENSES, 500)]).toEqual([0, SLIDER_STEPS]);
  });

  it('is caught by usual values, and holds round ones between them', () => {
    expect(valueAt(LENSES, placeOf(LENSES, 35) + 3)).toBe(35);
    expect(valueAt(LENSES, placeOf(LENSES, 43.3))).toBe(43);
    expect(valueAt(LENSES, 0)).toBe(14);
    expect(valueAt(LENSES, SLIDER_STEPS)).toBe(140);
  });

  it('moves by keys in small steps, stops at usual values on the way, and reaches every usual one', () => {
    let value = 14;
    const met: number[] = [];
    for (let i = 0; i < 400 && value < 140; i++) {
      const next = valueByKey(LENSES, value, 'ArrowRight') ?? value;
      expect(next).toBeGreaterThan(value);
      value = next;
      met.push(value);
    }
    expect(value).toBe(140);
    expect(LENSES.usual.every((one) => met.includes(one))).toBe(true);
    expect(valueByKey(LENSES, 36, 'ArrowLeft')).toBe(35);
    expect([valueByKey(LENSES, 50, 'Home'), valueByKey(LENSES, 50, 'End')]).toEqual([14, 140]);
    expect(valueByKey(LENSES, 50, 'Tab')).toBeNull();
  });

  it.each(['ArrowRight', 'ArrowLeft'])('leads on by %s from every value, also just above 1', (key) => {
    const times = { low: 0.4, high: 4, usual: [0.5, 0.75, 1, 1.5, 2, 3] };
    const [from, to] = key === 'ArrowRight' ? [times.low, times.high] : [times.high, times.low];
    let value = from;
    // 2 % a step: 117 of them from end to end, some shorter at usual values.
    for (let i = 0; i < 150 && value !== to; i++) {
      const next = valueByKey(times, value, key) ?? NaN;
      expect(key === 'ArrowRight' ? next > value : next < value).toBe(true);
      value = next;
    }
    expect(value).toBe(to);
  });
});

const PASS = rolledPass({ seed: 3, speedMps: 0.2, durationS: 8 });
const { run: RUN, series: SERIES } = filesOf(PASS);
const RANGES = rangesOf(RUN, SERIES);
const NAMES = ['phone', 'web HD'];

describe('how far the sliders of a run reach', () => {
  it('takes in the lens, speed and smoothing of the pass', () => {
    for (const range of [RANGES.lens, RANGES.speed, RANGES.smoothing]) {
      if (range === null) throw new Error('the pass knows all three');
      expect(range.low).toBeLessThan(range.measured);
      expect(range.high).toBeGreaterThanOrEqual(range.measured);
      expect(range.usual).toContain(range.measured);
    }
  });

  it('holds no end that cannot be answered', () => {
    const asker = new LiveAsker(PASS, { verdict: RUN.verdict });
    const { lens, speed, smoothing } = RANGES;
    const asks = [
      ...[lens.low, lens.high].map((value) => ({ lens: value })),
      ...[speed?.low, speed?.high].map((value) => ({ speed: value })),
      ...[smoothing?.low, smoothing?.high].map((value) => ({ smoothing: value })),
    ];
    for (const asked of asks) expect(asker.answer(wishOf(asked, RANGES)).refused).toBeNull();
  });

  it('counts a lens that is not known in millimetres in times the one used', () => {
    const rig = { ...RUN.rig };
    delete rig.focalLengthMm;
    const ranges = rangesOf({ ...RUN, rig }, SERIES);
    expect([ranges.lensInMm, ranges.lens.measured]).toEqual([false, 1]);
    expect(wishOf({ lens: 1.5 }, ranges)).toEqual({ focalFactor: 1.5 });
    const nameless = { ...PASS, rig: { ...PASS.rig, focalLengthMm: undefined, focalPx: 1000 } };
    const { focalFactor, focalLengthMm } = new LiveAsker(nameless, { verdict: RUN.verdict }).answer({
      focalFactor: 1.5,
    });
    expect([focalFactor, focalLengthMm]).toEqual([1.5, null]);
  });

  it('has a sentence in place of a speed that is not known', () => {
    const rig = { ...RUN.rig };
    delete rig.speedMps;
    const ranges = rangesOf({ ...RUN, rig }, { ...SERIES, floor: null });
    expect(ranges.speed).toBeNull();
    expect(ranges.speedRefused).toContain('not known');
    expect(RANGES.speedRefused).toBeNull();
  });
});

describe('what is asked', () => {
  it('comes back from the address, beside what others keep there', () => {
    const asked = { lens: 50, speed: 0.15, smoothing: 0.5, delivery: 'web HD', maxCrop: 3, maxLeft: 0.4 };
    const query = withAsked(new URLSearchParams('view=full'), asked);
    expect(query.get('view')).toBe('full');
    expect(askedFrom(query, RANGES, NAMES)).toEqual(asked);
    expect(withAsked(query, {}).toString()).toBe('view=full');
  });

  it('leaves out what an address holds that this run cannot be asked', () => {
    const query = new URLSearchParams(
      'lens=9000&speed=fast&smoothing=-1&for=nowhere&max-crop=200&stabilise=twice',
    );
    expect(askedFrom(query, RANGES, NAMES)).toEqual({});
  });

  it('is nothing where everything stands as measured', () => {
    const { lens, speed, smoothing, delivery, mode } = RANGES;
    const asked = withoutMeasured(
      {
        lens: lens.measured,
        speed: speed?.measured,
        smoothing: smoothing?.measured,
        maxCrop: delivery.maxCropPercent,
        mode,
      },
      RANGES,
    );
    expect(asksNothing(asked)).toBe(true);
    expect(wishOf(asked, RANGES)).toEqual({});
  });

  it('has no smoothing for a way that has none', () => {
    expect(wishOf({ smoothing: 0.5, mode: 'holdStill' }, RANGES)).toEqual({ mode: 'holdStill' });
    expect(wishOf({ smoothing: 0.5, maxLeft: 1 }, RANGES)).toEqual({
      smoothingS: 0.5,
      delivery: { maxResidualPx: 1 },
    });
  });
});
