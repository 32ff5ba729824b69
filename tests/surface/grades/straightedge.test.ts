import { describe, expect, it } from 'vitest';
import { gaussianRandom, quantile, seededRandom } from '../../../src/numerics/index.js';
import { gapsUnderBar } from '../../../src/surface/grades/straightedge-gap.js';
import { straightedges, type Straightedge } from '../../../src/surface/grades/straightedge.js';
import { expectWithin } from '../../support/expect-within.js';
import { gradedRun, lineProfile } from '../support/graded-profile.js';
import { madeUpFloor, SPACING_M } from '../support/made-up-floor.js';

const ROUNDING = { abs: 1e-12, why: 'rounding' };

/** Every pair of points that carries the bar with nothing in its way, tried one by one. */
function slowGaps(heightM: Float64Array, steps: number): { largest: number; bySpan: number[] } {
  const bySpan = new Array<number>(steps + 1).fill(0);
  for (let place = 0; place + steps < heightM.length; place++) {
    for (let a = place; a < place + steps; a++) {
      for (let b = a + 1; b <= place + steps; b++) {
        const line = (i: number): number => heightM[a] + ((heightM[b] - heightM[a]) * (i - a)) / (b - a);
        let highest = -Infinity;
        for (let i = place; i <= place + steps; i++) highest = Math.max(highest, heightM[i] - line(i));
        if (highest > 1e-12) continue;
        for (let i = a; i <= b; i++) bySpan[b - a] = Math.max(bySpan[b - a], line(i) - heightM[i]);
      }
    }
  }
  return { largest: Math.max(...bySpan), bySpan };
}

function bar(edges: readonly Straightedge[], lengthM: number): Straightedge {
  const found = edges.find((edge) => edge.lengthM === lengthM);
  if (!found) throw new Error(`no bar of ${lengthM} m`);
  return found;
}

describe('gaps under a bar', () => {
  it('are those that trying every pair of points gives', () => {
    const gaussian = gaussianRandom(seededRandom(5));
    for (const steps of [2, 3, 7, 15]) {
      const heightM = Float64Array.from({ length: 40 }, gaussian);
      const fast = gapsUnderBar(heightM, steps);
      const slow = slowGaps(heightM, steps);
      expectWithin(fast.largest.gapM, slow.largest, ROUNDING, `largest under ${steps} steps`);
      slow.bySpan.forEach((gap, k) => expectWithin(fast.bySpanM[k], gap, ROUNDING, `span ${k} of ${steps}`));
      expectWithin(Math.max(...fast.byPlaceM), slow.largest, ROUNDING, 'largest of all placements');
    }
  });

  it('do not change when the floor leans: the bar is not levelled', () => {
    const heightM = madeUpFloor(2, 1, 4e-6).left;
    const leaning = heightM.map((height, i) => height + 0.02 * i);
    const level = gapsUnderBar(heightM, 100).largest;
    expectWithin(gapsUnderBar(leaning, 100).largest.gapM, level.gapM, ROUNDING);
  });

  it('are nought on a crest, and the depth of a groove with its place', () => {
    const crest = Float64Array.from({ length: 30 }, (_, i) => -((i - 15) ** 2) * 1e-4);
    expectWithin(gapsUnderBar(crest, 10).largest.gapM, 0, ROUNDING);
    const groove = new Float64Array(50);
    groove[20] = -0.003;
    const { largest } = gapsUnderBar(groove, 10);
    expectWithin(largest.gapM, 0.003, ROUNDING);
    expect(largest.lowest).toBe(20);
  });

  it('are half of the curvature under a bar of two steps', () => {
    // Closed form at w = 2: q is normal with the sd 2 pi n0 sqrt(Gd d), so 95 % of the gaps max(0, q / 2) stay within 1.645 / 2 of it.
    const spacing = 40;
    const gaps = [1, 2, 3, 4].map((seed) => {
      const { left } = madeUpFloor(seed, 60, 1e-6);
      const points = Float64Array.from(
        { length: Math.floor(left.length / spacing) },
        (_, i) => left[i * spacing],
      );
      return quantile(gapsUnderBar(points, 2).byPlaceM, 0.95);
    });
    const expected = 1.645 * Math.PI * 0.1 * Math.sqrt(1e-6 * spacing * SPACING_M);
    const chance = { rel: 0.06, why: 'a quantile of 6000 gaps, 3 %' };
    expectWithin(gaps.reduce((sum, gap) => sum + gap, 0) / 4, expected, chance);
  });

  it('grow as the square root of the length of the bar on a w = 2 floor', () => {
    const gaps95 = (spacing: number): number => {
      const all = [1, 2, 3, 4].map((seed) => {
        const { left } = madeUpFloor(seed, 60, 1e-6);
        const points = Float64Array.from(
          { length: Math.floor(left.length / spacing) },
          (_, i) => left[i * spacing],
        );
        return quantile(gapsUnderBar(points, 20).byPlaceM, 0.95);
      });
      return all.reduce((sum, gap) => sum + gap, 0) / all.length;
    };
    const chance = { rel: 0.1, why: 'four floors of 60 m hold 150 bars of 1.6 m' };
    expectWithin(gaps95(80) / gaps95(20), 2, chance);
  });

  it('refuse a bar longer than the profile or of one step', () => {
    expect(() => gapsUnderBar(new Float64Array(5), 5)).toThrow(RangeError);
    expect(() => gapsUnderBar(new Float64Array(5), 1)).toThrow(/at least 2/);
  });
});

describe('straightedges on a run', () => {
  it('are laid only where the band holds the waves that they need, and say why not', () => {
    const { profile, bandM } = gradedRun(1, 0.25, 8, 1e-6);
    const edges = straightedges(profile, bandM);
    expect(edges.map(({ lengthM }) => lengthM)).toEqual([0.1, 1, 2, 4]);
    expect(bar(edges, 0.1).reason).toBeNull();
    for (const lengthM of [1, 2, 4]) {
      expect(bar(edges, lengthM).gapM).toBeNull();
      expect(bar(edges, lengthM).reason).toMatch(/roll faster/);
    }
    const fast = gradedRun(1, 0.5, 8, 1e-6);
    const edgesFast = straightedges(fast.profile, fast.bandM);
    expect(bar(edgesFast, 0.1).reason).toMatch(/roll slower/);
    expect(bar(edgesFast, 0.3).reason).toBeNull();
    expect(straightedges(lineProfile(new Float64Array(20), 0.02, 1e-6), [0.04, 3])[2].reason).toMatch(
      /shorter than/,
    );
  });

  it('lose little of the true gap inside the band: at most a quarter, on average a tenth', () => {
    const kept = [1, 2, 3, 4, 5, 6].map((seed) => {
      const { profile, bandM, trueM } = gradedRun(seed, 0.5, 20, 1e-6);
      const steps = Math.round(0.3 / (bandM[0] / 2));
      const truth = Math.max(...trueM.map((heightM) => gapsUnderBar(heightM, steps).largest.gapM));
      return (bar(straightedges(profile, bandM), 0.3).gapM ?? NaN) / truth;
    });
    kept.forEach((share) => expect(share).toBeGreaterThan(0.75));
    const mean = kept.reduce((sum, share) => sum + share, 0) / kept.length;
    expect(mean).toBeGreaterThan(0.87);
    expect(mean).toBeLessThan(1.05);
  });

  it('pass a smooth floor at the strictest row although its error alone makes gaps', () => {
    const edge = bar(straightedges(lineProfile(new Float64Array(400), 0.01, 1.5e-4), [0.02, 0.31]), 0.1);
    expect(edge.noiseGapM).toBeGreaterThan(4 * 1.5e-4);
    expect(edge.gapM).toBeLessThanOrEqual(edge.noiseGapM ?? NaN);
    expect(edge.dinRow).toBe(4);
    expect(edge.dinLimitMm).toBe(1);
  });

  it('lift the gaps of a profile that is smoother than the floor by its error', () => {
    // The floor splits into what a pass sees and what it does not; only the latter's size is known.
    const gaussian = gaussianRandom(seededRandom(9));
    const ratios = [1, 2, 3, 4, 5, 6].map(() => {
      const seen = Float64Array.from({ length: 800 }, () => 4e-5 * gaussian());
      const floor = seen.map((height) => height + 3e-5 * gaussian());
      const edge = bar(straightedges(lineProfile(seen, 0.01, 3e-5), [0.02, 0.31]), 0.1);
      const truth = gapsUnderBar(floor, 10).largest.gapM;
      expect(Math.abs((edge.gapM ?? NaN) - truth)).toBeLessThan(edge.gapRangeM ?? NaN);
      return (edge.gapM ?? NaN) / truth;
    });
    const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / ratios.length;
    expectWithin(mean, 1, { abs: 0.1, why: 'largest gaps of six runs, each by chance within 10 %' });
  });

  it('say nothing where the error of the profile could hide a gap beyond the strictest limit', () => {
    const unsure = lineProfile(new Float64Array(400), 0.01, 3e-4);
    const edge = bar(straightedges(unsure, [0.02, 0.31]), 0.1);
    expect(edge.gapM).toBeNull();
    expect(edge.dinRow).toBeNull();
    expect(edge.reason).toMatch(/error of the profile alone/);
  });

  it('find a groove under the bar with its place, error and rows', () => {
    const heightM = new Float64Array(400);
    heightM[123] = -0.0015;
    const edge = bar(straightedges(lineProfile(heightM, 0.01, 3e-5), [0.02, 0.31]), 0.1);
    const raised = { abs: 1e-4, why: 'the bar rests on the highest of its points: up to 2 sd of 0.03 mm' };
    expectWithin(edge.gapM ?? NaN, 0.0015, raised);
    expectWithin(edge.atM ?? NaN, 1.23, ROUNDING);
    expect(edge.gapRangeM).toBeGreaterThan(1.96 * 0.15 * 0.0015);
    expect(edge.gapRangeM).toBeLessThan(1.96 * (0.15 * 0.0016 + 5e-5));
    expect(edge.dinRow).toBe(3);
    expect(edge.dinLimitMm).toBe(2);
    expect(edge.surfaceRegularity).toBeNull();
  });

  it('hold a gap to the limit at the distance of its rests, not at the length of the bar', () => {
    // Posts 0.3 m apart, 3 mm proud: row 3 allows 2 mm at 0.3 m, though 4 mm at the 1 m of the bar.
    const heightM = Float64Array.from({ length: 800 }, (_, i) => (i === 400 || i === 415 ? 0.003 : 0));
    const edge = bar(straightedges(lineProfile(heightM, 0.02, 1e-6), [0.04, 2.5]), 1);
    expectWithin(edge.gapM ?? NaN, 0.003, { abs: 5e-6, why: 'the error of 1 um' });
    expectWithin(edge.spanM ?? NaN, 0.3, ROUNDING);
    expect(edge.dinRow).toBe(2);
  });

  it('give the class of BS 8204 under 2 m alone', () => {
    const wave = Float64Array.from({ length: 900 }, (_, i) => 0.002 * Math.sin((2 * Math.PI * i) / 50));
    const edges = straightedges(lineProfile(wave, 0.02, 1e-6), [0.04, 4]);
    expect(bar(edges, 2).surfaceRegularity).toBe('SR2');
    expect(bar(edges, 1).surfaceRegularity).toBeNull();
  });

  it('take the worse of both wheel lines', () => {
    const { profile, bandM } = gradedRun(3, 0.25, 8, 1e-6);
    const sides = profile.sides ?? { leftM: profile.heightM, rightM: profile.heightM, sdM: profile.sdM };
    const dented = sides.rightM.slice();
    dented[400] -= 0.004;
    const edge = bar(straightedges({ ...profile, sides: { ...sides, rightM: dented } }, bandM), 0.1);
    expect(edge.gapM).toBeGreaterThan(0.003);
    expectWithin(edge.atM ?? NaN, 4, ROUNDING);
    expect(edge.dinRow).toBe(2);
  });
});
