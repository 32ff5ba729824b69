/** Crops of setups, and what a take needs beyond its test: frames of simulated floors, per cent of the width. */
import { describe, expect, it } from 'vitest';
import { cropCost, type PassCrop } from '../../../src/judge/compare/crop-cost.js';
import { mean, seededRandom } from '../../../src/numerics/index.js';
import { predictTakes } from '../../../src/stabilise/index.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpComparedPass } from '../../support/made-up-runs.js';
import { partOf, ride, RATE_HZ, UP_CROSSINGS_HZ } from '../../stabilise/support/simulated-floors.js';

const COMPARED = madeUpComparedPass({ durationS: 4 });

function cropOf(durationS: number, random: () => number, factor = 1): PassCrop {
  const { cropFraction, vibration } = ride('steady', durationS * RATE_HZ, random);
  const scaled = cropFraction.map((crop) => factor * crop);
  const test = { cropFraction: scaled, vibration, rateHz: RATE_HZ, upCrossingsHz: UP_CROSSINGS_HZ, hits: [] };
  return {
    compared: COMPARED,
    cropPercent: 100 * Math.max(...scaled),
    durationS,
    forecast: (takeS) => predictTakes(test, [takeS], 1).takes[0],
  };
}

describe('crops of two setups', () => {
  it('are told for the take asked for, but at most twice the shorter pass', () => {
    const random = seededRandom(1);
    const [short, long] = [cropOf(10, random), cropOf(30, random)];
    expect(cropCost([short], [long], 60, 0.1).takeS).toBe(20);
    expect(cropCost([short], [long], 15, 0.1).takeS).toBe(15);
  });

  it('of unequal passes are not judged by their raw maxima: the longer pass would lose', () => {
    const random = seededRandom(2);
    const ratios = Array.from({ length: 40 }, () => {
      const [short, long] = [cropOf(10, random), cropOf(60, random)];
      return {
        raw: Math.log(short.cropPercent / long.cropPercent),
        told: Math.log(cropCost([short], [long], 20, 0.1).ratio ?? NaN),
      };
    });
    expect(Math.exp(mean(ratios.map(({ raw }) => raw)))).toBeLessThan(0.9);
    // Forty comparisons that scatter by 0.2 leave their mean sure to 3 %; on steady floors there is no bias.
    expectWithin(mean(ratios.map(({ told }) => told)), 0, { abs: 0.1 }, 'mean ln ratio of like setups');
  });

  it('call like setups different in few of a hundred, though they are no test', () => {
    const random = seededRandom(3);
    const alarms = Array.from({ length: 100 }, () => {
      const { ci95 } = cropCost([cropOf(10, random)], [cropOf(10, random)], 20, 0.1);
      return ci95 !== null && (ci95[0] > 1 || ci95[1] < 1);
    });
    expect(alarms.filter(Boolean).length).toBeLessThanOrEqual(6);
  });

  it('keep the ratio of the shake where that is all that differs', () => {
    const cost = cropCost([cropOf(10, seededRandom(4), 0.5)], [cropOf(10, seededRandom(4))], 20, 0.1);
    expectWithin(cost.ratio ?? NaN, 0.5, { rel: 1e-6 });
    expectWithin(cost.a.medianPercent ?? NaN, (cost.b.medianPercent ?? NaN) / 2, { rel: 1e-6 });
  });

  it('have no range from passes too short for a bound', () => {
    const random = seededRandom(5);
    const cost = cropCost([cropOf(4, random)], [cropOf(4, random)], 60, 0.1);
    expect(cost).toMatchObject({ takeS: 8, ci95: null });
    expect(cost.a.upper95Percent).toBeNull();
  });
});

describe('a longer take', () => {
  it('needs more crop than its test in T / (T + t) of the takes', () => {
    const random = seededRandom(6);
    const [testS, takeS] = [10, 60];
    const trials = 500;
    let more = 0;
    for (let i = 0; i < trials; i++) {
      const whole = ride('steady', (testS + takeS + 2) * RATE_HZ, random);
      const test = partOf(whole, 0, testS * RATE_HZ);
      const take = partOf(whole, (testS + 2) * RATE_HZ, whole.cropFraction.length);
      if (Math.max(...take.cropFraction) > Math.max(...test.cropFraction)) more++;
    }
    expectWithin((100 * more) / trials, (100 * takeS) / (takeS + testS), { abs: 5, why: 'within 5 points' });
  });
});
