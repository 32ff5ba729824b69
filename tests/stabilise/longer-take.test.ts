import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/numerics/index.js';
import { findHits, predictTakes } from '../../src/stabilise/index.js';
import type { Hit, TestPass } from '../../src/stabilise/index.js';
import { expectWithin } from '../support/expect-within.js';
import { RATE_HZ, UP_CROSSINGS_HZ, partOf, ride, type Floor } from './support/simulated-floors.js';

const TEST_S = 12;

function testPass(floor: Floor, seconds = TEST_S, seed = 8): TestPass & { readonly hits: readonly Hit[] } {
  const { cropFraction, vibration, hits } = partOf(
    ride(floor, (seconds + 4) * RATE_HZ, seededRandom(seed)),
    0,
    seconds * RATE_HZ,
  );
  return { cropFraction, vibration, hits, rateHz: RATE_HZ, upCrossingsHz: UP_CROSSINGS_HZ };
}

const number = (value: number | null | undefined): number => value ?? NaN;
const largest = (values: Readonly<Float64Array>): number => values.reduce((a, b) => Math.max(a, b), 0);
const steady = testPass('steady');
const joints = testPass('joints');

describe('takes elsewhere on the floor of a test', () => {
  it('need more with chance T / (T + t), whatever the floor', () => {
    expect(predictTakes(steady, [12, 36]).takes.map((take) => take.chanceExceeds)).toEqual([0.5, 0.75]);
    expect(predictTakes(joints, [4]).takes[0].chanceExceeds).toBe(0.25);
  });

  it.each([
    ['steady', steady],
    ['with joints', joints],
  ])('need more the longer they are (%s), any length', (_, pass) => {
    const { takes } = predictTakes(pass, [5, 12, 30, 45, 60, 120]);
    for (let i = 1; i < takes.length; i++) {
      expect(number(takes[i].medianPercent)).toBeGreaterThan(number(takes[i - 1].medianPercent));
      expect(number(takes[i].upper95Percent)).toBeGreaterThan(number(takes[i - 1].upper95Percent));
      expect(number(takes[i].upper95Percent)).toBeGreaterThan(number(takes[i].medianPercent));
    }
  });

  it('typically need what the test did when as long, and grow with the root of the logarithm, on a steady floor', () => {
    const [same, longer] = predictTakes({ ...steady, hits: [] }, [TEST_S, 60]).takes;
    const mostPercent = 100 * largest(steady.cropFraction);
    expectWithin(number(same.medianPercent), mostPercent, { rel: 1e-12, why: 'its own maximum' });
    // c_T = c_t sqrt(ln(2 nu T / ln 2) / ln(2 nu t / ln 2)), Rice 1944
    const growth = Math.sqrt(Math.log(692.5) / Math.log(138.5));
    expectWithin(number(longer.medianPercent), growth * mostPercent, {
      rel: 1e-4,
      why: 'figures of four digits',
    });
  });

  it('have a bound that is called "at least" where hits are rare, unless the spacing of the joints is known', () => {
    const foretell = (hits: readonly Hit[], more: Partial<TestPass> = {}) =>
      predictTakes({ ...joints, hits, ...more }, [60]).takes[0];
    const [first, second, third] = joints.hits;
    expect(foretell([]).atLeast).toBe(false);
    expect(foretell([first]).atLeast).toBe(true);
    expect(foretell([first, second]).atLeast).toBe(true);
    expect(foretell([first, second, third]).atLeast).toBe(false);
    const spaced = { joints: { spacingM: 1.2, speedMps: 0.3 } };
    expect(foretell([first, second, third], spaced).atLeast).toBe(false);
    // Three joints were rolled over: a single hit is the worst of them, and no count of joints.
    expect(foretell([first], spaced)).toEqual(foretell([first]));
    // Four hits in 30 s are rare, six are not.
    const long = testPass('joints', 30);
    const longAtLeast = (count: number) =>
      predictTakes({ ...long, hits: long.hits.slice(0, count) }, [60]).takes[0].atLeast;
    expect([4, 6].map(longAtLeast)).toEqual([true, false]);
  });

  it('hold as many joints as the spacing says: none on a take shorter than it', () => {
    const row = { joints: { spacingM: 3.6, speedMps: 0.3 } }; // one in 12 s
    // A hit so high that a bound shows at once whether any may come.
    const cropFraction = joints.cropFraction.slice();
    const [{ from }] = joints.hits[0].spans;
    cropFraction[from] = 0.3;
    const pass = { ...joints, cropFraction, hits: [joints.hits[0]] };
    const [short, long] = predictTakes({ ...pass, ...row }, [11.9, 12.1]).takes;
    expect(number(short.upper95Percent)).toBeLessThan(15);
    expect(number(long.upper95Percent)).toBeGreaterThan(30);
    expect(number(predictTakes(pass, [11.9]).takes[0].upper95Percent)).toBeGreaterThan(30);
  });

  it('may bring up to 3 T / t hits unseen so far after a test without one', () => {
    expect(predictTakes({ ...steady, hits: [] }, [12, 60]).takes.map((t) => t.unseenHitsAtMost)).toEqual([
      3, 15,
    ]);
    expect(predictTakes(joints, [60]).takes[0].unseenHitsAtMost).toBeNull();
  });

  it('have their bound from the steady shake alone when hits fill the clip', () => {
    const everywhere = [{ spans: [{ from: 0, to: 200 }] }];
    const bound = (hits: readonly Hit[]) => predictTakes({ ...steady, hits }, [60]).takes[0].upper95Percent;
    expect(bound(everywhere)).toBe(bound([]));
  });

  it('are foretold from hits that are looked for when none are given', () => {
    const { hits, ...pass } = testPass('joints', TEST_S, 9);
    const found = findHits(pass.vibration, RATE_HZ);
    expect(found.length).toBeGreaterThan(0);
    expect(predictTakes(pass, [60])).toEqual(predictTakes({ ...pass, hits: found }, [60]));
    expect(predictTakes(pass, [60]).hits).toEqual({ seen: found.length, list: found });
    expect(predictTakes({ ...pass, hits }, [60]).hits.list).toEqual(hits);
  });

  it('are foretold alike bit by bit on repeat, and whatever other lengths are asked for', () => {
    expect(predictTakes(joints, [60], 4)).toEqual(predictTakes(joints, [60], 4));
    expect(predictTakes(joints, [30, 60], 4).takes[1]).toEqual(predictTakes(joints, [60], 4).takes[0]);
  });

  it('never need more than the whole picture', () => {
    const wild = steady.cropFraction.map((v) => Math.min(0.95, 30 * v));
    const [take] = predictTakes({ ...steady, cropFraction: wild }, [120]).takes;
    expect(take.upper95Percent).toBe(100);
    expect(number(take.medianPercent)).toBeLessThanOrEqual(100);
  });
});

describe('a bound is refused', () => {
  const refusal = (pass: TestPass, takeS: number) => {
    const [take] = predictTakes({ ...pass, hits: pass.hits ?? [] }, [takeS]).takes;
    expect(take.refused === null).toBe(take.upper95Percent !== null);
    return take.refused?.code ?? null;
  };
  const cut = (frames: number): TestPass => ({
    ...steady,
    cropFraction: steady.cropFraction.slice(0, frames),
  });

  it('beyond twelve clip lengths', () => {
    expect(refusal(steady, 144)).toBeNull();
    expect(refusal(steady, 145)).toBe('farReach');
    expect(predictTakes(steady, [145]).takes[0].medianPercent).not.toBeNull();
  });

  it('from clips under 5 s', () => {
    expect(refusal(cut(125), 10)).toBeNull();
    expect(refusal(cut(124), 10)).toBe('shortTest');
    expect(refusal(cut(0), 10)).toBe('shortTest');
  });

  it('without peaks, or with so slow a shake that a few swings fill the clip', () => {
    expect(refusal({ ...steady, cropFraction: new Float64Array(300).fill(0.01) }, 10)).toBe('fewPeaks');
    expect(refusal({ ...steady, cropFraction: new Float64Array(300) }, 10)).toBe('fewPeaks');
    expect(refusal({ ...steady, upCrossingsHz: 0.45 }, 10)).toBeNull(); // blocks of 1.1 s: ten of them, five peaks
    expect(refusal({ ...steady, upCrossingsHz: 0.3 }, 10)).toBe('fewPeaks');
    expect(refusal({ ...steady, upCrossingsHz: 0 }, 10)).toBe('fewPeaks');
  });

  it('together with the typical value when the clip holds fewer than three crossings', () => {
    expect(predictTakes({ ...steady, upCrossingsHz: 0.26 }, [30]).takes[0].medianPercent).not.toBeNull();
    expect(predictTakes({ ...steady, upCrossingsHz: 0.24 }, [30]).takes[0].medianPercent).toBeNull();
  });
});

describe('the stretch of the test rolled again', () => {
  it('needs the crop of the test, up to 1.35 times as much', () => {
    const { again } = predictTakes(steady, []);
    const mostPercent = 100 * largest(steady.cropFraction);
    expectWithin(again.medianPercent, mostPercent, { rel: 1e-12, why: 'rounding' });
    expectWithin(again.upper95Percent, 1.35 * mostPercent, { rel: 1e-12, why: 'rounding' });
  });

  it('needs more when the take goes on beyond it, at least what the new seconds need alone', () => {
    const { takes, again } = predictTakes(joints, [6, TEST_S, 13, 48, 60]);
    expect(again.longer.map((take) => take.takeS)).toEqual([13, 48, 60]);
    const [second, minute, more] = again.longer;
    expect(number(second.upper95Percent)).toBeGreaterThanOrEqual(again.upper95Percent);
    expect(number(more.upper95Percent)).toBeGreaterThan(number(minute.upper95Percent));
    // 60 s over the stretch and on are 48 s of new floor and the stretch itself.
    expect(number(more.medianPercent)).toBeGreaterThanOrEqual(number(takes[3].medianPercent));
    expect(number(more.upper95Percent)).toBeGreaterThanOrEqual(number(takes[3].upper95Percent));
  });

  it('has no bound beyond it where the new seconds have none', () => {
    const [near, far] = predictTakes(steady, [156, 157]).again.longer;
    expect(near.refused).toBeNull();
    expect(far.refused?.code).toBe('farReach');
    expect(far.upper95Percent).toBeNull();
  });
});
