import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import { findHits } from '../../src/stabilise/index.js';
import { expectWithin } from '../support/expect-within.js';
import { ECHO_S, RATE_HZ, partOf, ride, type Floor } from './support/simulated-floors.js';

const PASSES = 400;

/** Rides of 10 s over one kind of floor. */
function rides(floor: Floor, seed: number) {
  const random = seededRandom(seed);
  const gaussian = gaussianRandom(random);
  return Array.from({ length: PASSES }, () => partOf(ride(floor, 300, random, gaussian), 0, 250));
}

const share = (floor: Floor): number =>
  rides(floor, 5).filter(({ vibration }) => findHits(vibration, RATE_HZ).length > 0).length / PASSES;

/** Soft shake with kicks of 0.3 s, a bump up and down again, at the given seconds. */
function kicked(rateHz: number, atS: readonly number[], seconds = 10): Float64Array {
  const gaussian = gaussianRandom(seededRandom(3));
  const waves = Array.from({ length: 30 }, (_, k) => ({
    hz: 0.9 + 0.17 * k,
    phase: 7 * k,
    size: gaussian(),
  }));
  return Float64Array.from({ length: seconds * rateHz }, (_, t) => {
    const timeS = t / rateHz;
    const shake = waves.reduce(
      (sum, { hz, phase, size }) => sum + (0.15 * size * Math.sin(2 * Math.PI * hz * timeS + phase)) / hz,
      0,
    );
    return atS.reduce((sum, at) => sum + 8 * Math.exp(-(((timeS - at) / 0.07) ** 2)), shake);
  });
}

const startsS = (series: Float64Array, rateHz: number, echoS?: number): number[][] =>
  findHits([series], rateHz, echoS).map(({ spans }) => spans.map(({ from, to }) => (from + to) / 2 / rateHz));

describe('hits in simulated vibration', () => {
  it('are found where there are none in fewer than 5 % of steady passes of 10 s, and rarely where the level wanders', () => {
    expect(share('steady')).toBeLessThan(0.05);
    expect(share('line')).toBeLessThan(0.05);
    expect(share('uneven')).toBeLessThan(0.1);
  });

  it('are found at nearly half of the kicks of joints about as high as the peaks of the shake, and hardly elsewhere', () => {
    let kicks = 0;
    let found = 0;
    let elsewhere = 0;
    for (const { vibration, hits } of rides('joints', 6)) {
      const truth = hits.flatMap(({ spans }) => spans);
      const spans = findHits(vibration, RATE_HZ).flatMap((hit) => hit.spans);
      const meet = (a: (typeof spans)[number], b: (typeof spans)[number]) => a.from < b.to && b.from < a.to;
      kicks += truth.length;
      found += truth.filter((kick) => spans.some((span) => meet(span, kick))).length;
      elsewhere += spans.filter((span) => !truth.some((kick) => meet(span, kick))).length;
    }
    expect(found / kicks).toBeGreaterThan(0.45);
    expect(elsewhere).toBeLessThan(0.02 * found);
  });
});

describe('the axles of one hit', () => {
  it.each([24, 25, 50, 120])('are paired, at their times, at %d frames a second', (rateHz) => {
    const [first, second, ...more] = startsS(kicked(rateHz, [2, 3.5, 6, 7.5]), rateHz);
    expect(more).toEqual([]);
    for (const [seen, at] of [...first, ...second].map((seen, i) => [seen, [2, 3.5, 6, 7.5][i]]))
      expectWithin(seen, at, {
        abs: 0.15,
        why: 'a span reaches 0.06 s further after its peak, which may be the flank of a kick',
      });
  });

  it('are paired by the time between them when that is known', () => {
    const series = kicked(RATE_HZ, [2, 3.5, 6, 7.5]);
    expect(startsS(series, RATE_HZ, 1.5).map((hit) => hit.length)).toEqual([2, 2]);
    expect(startsS(series, RATE_HZ, 2.5).map((hit) => hit.length)).toEqual([1, 2, 1]);
    expect(startsS(series, RATE_HZ, ECHO_S * 3).map((hit) => hit.length)).toEqual([1, 1, 1, 1]);
  });

  it('stand alone when the second one is not seen', () => {
    expect(startsS(kicked(RATE_HZ, [5]), RATE_HZ).map((hit) => hit.length)).toEqual([1]);
  });
});

describe('a search for hits', () => {
  it('does not depend on the unit of a series, and leaves it as it was', () => {
    const series = kicked(RATE_HZ, [2, 6]);
    const copy = series.slice();
    expect(findHits([series.map((v) => 1e-4 * v)], RATE_HZ)).toEqual(findHits([series], RATE_HZ));
    expect(series).toEqual(copy);
  });

  it('takes kicks that fill the clip for its shake', () => {
    const everywhere = Array.from({ length: 40 }, (_, i) => 0.25 * i);
    expect(findHits([kicked(RATE_HZ, everywhere)], RATE_HZ)).toEqual([]);
  });

  it('finds nothing in a still or empty clip', () => {
    expect(findHits([new Float64Array(250)], RATE_HZ)).toEqual([]);
    expect(findHits([new Float64Array(3)], RATE_HZ)).toEqual([]);
    expect(findHits([new Float64Array(0)], RATE_HZ)).toEqual([]);
    expect(findHits([], RATE_HZ)).toEqual([]);
  });
});
