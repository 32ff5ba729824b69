/** The plan of a floor from simulated passes: which lane is best and when that is not said, where to keep off, and places that agree out and back. */
import { describe, expect, it } from 'vitest';
import { ASSUMED_SPREADS } from '../../../src/judge/compare/types.js';
import { lanePlan } from '../../../src/judge/lanes/lane-plan.js';
import { comparisonSchema, type LanePlan } from '../../../src/run/index.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpComparedPass, type MadeUpPass } from '../../support/made-up-runs.js';

const JOINT = { atM: 1.8, heightMm: 1 };

/** A pass as crews make them: its own factor (sd 8 %), and 15 % of the power that no second pass repeats. */
function pass(options: MadeUpPass): ReturnType<typeof madeUpComparedPass> {
  return madeUpComparedPass({ durationS: 12, speedMps: 0.25, passSd: 0.08, ownShare: 0.15, ...options });
}

function plan(...passes: MadeUpPass[]): LanePlan {
  const made = lanePlan(passes.map(pass), ASSUMED_SPREADS, { floor: 'dairy hall' });
  expect(comparisonSchema.shape.lanePlan.parse(made)).toEqual(made);
  return made!;
}

describe('the lanes of a floor', () => {
  it('are ranked, and the best is named where it is clearly better', () => {
    const { lanes, best } = plan(
      { lane: '2', passSeed: 1, factor: 2.5 },
      { lane: '1', passSeed: 2 },
      { lane: '2', passSeed: 3, factor: 2.5 },
      { lane: '1', passSeed: 4 },
    );
    expect(lanes.map(({ name, rank }) => [name, rank])).toEqual([
      ['1', 1],
      ['2', 2],
    ]);
    expect(best.lane).toBe('1');
    expect(best.sentence).toMatch(/^Lane 1 is the steadiest: lane 2 shakes the picture \S+ times as much \(/);
    for (const { shakePx } of lanes) {
      expect(shakePx.low).toBeLessThan(shakePx.value);
      expect(shakePx.high).toBeGreaterThan(shakePx.value);
    }
  });

  it('have no best where one pass each differs by less than passes may', () => {
    // One heights table for both lanes: they differ by the factor alone.
    const one = pass({ lane: '1', passSeed: 1 });
    const two = { ...pass({ lane: '1', passSeed: 2, factor: 1.15 }), lane: '2' };
    const { best } = lanePlan([one, two], ASSUMED_SPREADS)!;
    expect(best.lane).toBeNull();
    expect(best.sentence).toMatch(
      /^No clear difference between lane 1 and lane 2\. Lane [12] may shake anything from /,
    );
  });

  it('need more than a factor of 1.5 from one pass each, and less from three', () => {
    const lane = (name: string, factor: number, count: number) =>
      Array.from({ length: count }, (_, i) => ({
        ...madeUpComparedPass({ lane: '1', passSeed: i + 1, ownShare: 0.02, factor }),
        lane: name,
      }));
    const best = (factor: number, count: number) =>
      lanePlan([...lane('1', 1, count), ...lane('2', factor, count)], ASSUMED_SPREADS)!.best.lane;
    expect([best(1.45, 1), best(1.75, 1), best(1.45, 3)]).toEqual([null, '1', '1']);
  });

  it('say of one lane alone that it has no rival', () => {
    const { best, lanes } = plan({ lane: '1', passSeed: 1 }, { lane: '1', passSeed: 2 });
    expect(lanes).toHaveLength(1);
    expect(best).toMatchObject({
      lane: null,
      sentence: expect.stringContaining('Only lane 1 was run') as string,
    });
  });

  it('are all shown and none is named best where each was run with a setup of its own', () => {
    const { setup, best, lanes } = plan(
      { lane: '1', setup: 'soft tyres', passSeed: 1 },
      { lane: '2', setup: 'hard wheels', passSeed: 2, factor: 4 },
      { lane: '1', setup: 'soft tyres', passSeed: 3 },
    );
    expect(setup).toBeNull();
    expect(lanes.map(({ name, runs }) => [name, runs.length])).toEqual([
      ['1', 2],
      ['2', 1],
    ]);
    expect(best.lane).toBeNull();
    expect(best.sentence).toMatch(
      /^Lanes and setups cannot be told apart here: only lane 1 was run with soft tyres and only lane 2 was run with hard wheels\. .*roll one setup on every lane\./,
    );
    expect(best.sentence).not.toContain('left out');
  });

  it('tell what would rank a lane that the setup of the others was not run on', () => {
    const { best } = plan(
      { lane: '1', setup: 'soft tyres', passSeed: 1 },
      { lane: '2', setup: 'soft tyres', passSeed: 2 },
      { lane: '3', setup: 'hard wheels', passSeed: 3 },
    );
    expect(best.sentence).toContain(
      'Lane 3 was not run with soft tyres and is left out; roll one setup on every lane to rank them all.',
    );
  });

  it('count passes of a second setup after its mean is taken off', () => {
    const { setup, best, lanes } = plan(
      { lane: '1', setup: 'soft tyres', passSeed: 1 },
      { lane: '2', setup: 'soft tyres', passSeed: 2, factor: 2.5 },
      { lane: '1', setup: 'hard wheels', passSeed: 3, factor: 1.6 },
      { lane: '2', setup: 'hard wheels', passSeed: 4, factor: 4 },
      { lane: '3', setup: 'hard wheels', passSeed: 5 },
    );
    expect(setup).toBe('hard wheels');
    expect(lanes.map(({ name }) => name)).toContain('3');
    expect(best.sentence).toContain('Only passes with hard wheels count.');
    const both = plan(
      { lane: '1', setup: 'soft tyres', passSeed: 1 },
      { lane: '2', setup: 'soft tyres', passSeed: 2, factor: 2.5 },
      { lane: '1', setup: 'hard wheels', passSeed: 3, factor: 1.6 },
      { lane: '2', setup: 'hard wheels', passSeed: 4, factor: 4 },
    );
    expect(both.lanes.map(({ runs }) => runs.length)).toEqual([2, 2]);
    expect(both.best.sentence).toContain(
      'passes with soft tyres count after what they shake more or less is taken off',
    );
    // sd of a mean of two passes is 8 % of 1.6 over the root of 2; three of these.
    const ratio = both.lanes[1].shakePx.value / both.lanes[0].shakePx.value;
    const alone =
      lanes.find(({ name }) => name === '2')!.shakePx.value /
      lanes.find(({ name }) => name === '1')!.shakePx.value;
    expectWithin(Math.log(ratio), Math.log(alone), { abs: 0.25, why: 'passes differ by 8 %, one pass each' });
  });

  it('are not compared where nothing, or one pass, was measured', () => {
    expect(lanePlan([], ASSUMED_SPREADS)).toBeNull();
    expect(lanePlan([pass({})], ASSUMED_SPREADS)).toBeNull();
    expect(lanePlan([pass({}), { ...pass({}), grade: 'unmeasurable' }], ASSUMED_SPREADS)).toBeNull();
  });

  it('leave their passes as they were', () => {
    const passes = [pass({ lane: '1' }), pass({ lane: '2', direction: 'back' })];
    const before = structuredClone(passes);
    lanePlan(passes, ASSUMED_SPREADS);
    expect(passes).toEqual(before);
  });
});

describe('a stretch to keep off', () => {
  it('is named with its joint where every pass shows it', () => {
    const { lanes, avoid } = plan(
      { lane: '1', passSeed: 1 },
      { lane: '2', passSeed: 2, bumps: [JOINT] },
      { lane: '2', passSeed: 3, bumps: [JOINT] },
    );
    const two = lanes.find(({ name }) => name === '2')!;
    expect(two.avoid).toHaveLength(1);
    const [{ fromM, toM, timesUsual, joints }] = two.avoid;
    expect(joints).toBe(1);
    expect(timesUsual).toBeGreaterThan(2);
    // The front wheels meet it one wheelbase (0.45 m) before the rear ones.
    expect(fromM).toBeLessThan(JOINT.atM - 0.45);
    expect(toM).toBeGreaterThan(JOINT.atM);
    expect(toM - fromM).toBeLessThan(1.3);
    expect(avoid).toMatch(
      /^Keep off 1\.\d to [12]\.\d m of lane 2: \S+ times the usual shake, joint of 1 mm at 1\.8 m\. Heights are the mean of both wheel lines\.$/,
    );
  });

  it('is the same out and back', () => {
    const [out] = plan(
      { lane: '2', passSeed: 2, bumps: [JOINT], direction: 'out' },
      { lane: '2', passSeed: 3, bumps: [JOINT], direction: 'out' },
    ).lanes;
    const [both] = plan(
      { lane: '2', passSeed: 2, bumps: [JOINT], direction: 'out' },
      { lane: '2', passSeed: 3, bumps: [JOINT], direction: 'back' },
    ).lanes;
    expect(both.directions).toEqual(['out', 'back']);
    expect(both.avoid).toHaveLength(1);
    expect(both.joints).toHaveLength(1);
    expectWithin(both.joints[0].atM, JOINT.atM, { abs: 0.01, why: 'travel of one frame' });
    expectWithin(both.avoid[0].fromM, out.avoid[0].fromM, { abs: 0.1, why: 'one step of the window' });
    expectWithin(both.avoid[0].toM, out.avoid[0].toM, { abs: 0.1, why: 'one step of the window' });
  });

  it('is not named where only one of two passes shows it', () => {
    const { lanes, avoid } = plan({ lane: '2', passSeed: 2, bumps: [JOINT] }, { lane: '2', passSeed: 3 });
    expect(lanes[0].avoid).toEqual([]);
    expect(avoid).toBeNull();
  });

  it('is missing on even floors: at most one lane in 20 by chance', () => {
    const named = Array.from({ length: 10 }, (_, seed) =>
      plan({ floorSeed: 200 + seed, lane: '1' }, { floorSeed: 200 + seed, lane: '2' }).lanes.flatMap(
        ({ avoid }) => avoid,
      ),
    ).flat();
    expect(named.length).toBeLessThanOrEqual(1);
  });
});

describe('places', () => {
  it('are shares of the pass where neither travel nor speed is known', () => {
    const without = (lane: string, passSeed: number) => {
      const made = pass({ lane, passSeed, placed: false, bumps: [JOINT] });
      const motion = { ...made.pass.motion, travelM: null, translationUnit: 'medianDepth' as const };
      return { ...made, pass: { ...made.pass, motion, rig: {} } };
    };
    const made = lanePlan([without('1', 1), without('2', 2)], ASSUMED_SPREADS)!;
    expect(made.metric).toBe(false);
    for (const { places, lengthM, joints } of made.lanes) {
      expect(lengthM).toBe(1);
      expect(joints).toEqual([]);
      expect(Math.min(...places.atM)).toBeGreaterThan(0);
      expect(Math.max(...places.atM)).toBeLessThan(1);
    }
    expect(made.avoid).toMatch(/^Keep off the part from \d+ to \d+ % of lane [12]: /);
  });

  it('come from the measured path where the floor was not graded', () => {
    const graded = plan({ lane: '1', bumps: [JOINT] }, { lane: '1', passSeed: 2, bumps: [JOINT] });
    const other = plan(
      { lane: '1', bumps: [JOINT], placed: false },
      { lane: '1', passSeed: 2, bumps: [JOINT], placed: false },
    );
    expect(other.metric).toBe(true);
    expectWithin(other.lanes[0].avoid[0].fromM, graded.lanes[0].avoid[0].fromM, {
      abs: 0.1,
      why: 'one step of the window',
    });
  });
});
