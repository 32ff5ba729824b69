import { describe, expect, it } from 'vitest';
import { ASSUMED_SPREADS, spreadsFromRepeats, type ComparedPass } from '../../../src/judge/index.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpComparedPass, type MadeUpPass } from '../../support/made-up-runs.js';

function repeats(lanes: number, passes: number, more: MadeUpPass = {}): ComparedPass[] {
  return Array.from({ length: lanes }, (_, lane) =>
    Array.from({ length: passes }, (_unused, i) =>
      madeUpComparedPass({
        ...{ setup: 'hard wheels', lane: `${lane + 1}`, passSeed: i + 1, durationS: 5, ownShare: 0.05 },
        ...more,
      }),
    ),
  ).flat();
}

describe('spreads that a log of repeats shows', () => {
  it('stay the assumed ones below ten degrees of repeats and six lanes', () => {
    expect(spreadsFromRepeats(repeats(3, 4))).toEqual(ASSUMED_SPREADS);
    expect(spreadsFromRepeats([])).toEqual(ASSUMED_SPREADS);
  });

  it('are those of the passes once there are enough', () => {
    const spreads = spreadsFromRepeats(repeats(4, 5, { passSd: 0.25 }));
    expect(spreads).toMatchObject({
      betweenPassesFrom: 'log',
      betweenLanesFrom: 'assumed',
      betweenLanes: 0.3,
    });
    // Sixteen degrees leave a spread sure to 18 %.
    expectWithin(spreads.betweenPasses, 0.25, { rel: 0.4 });
  });

  it('never fall below 4 %', () => {
    expect(spreadsFromRepeats(repeats(4, 4, { passSd: 0, ownShare: 0 })).betweenPasses).toBe(0.04);
  });

  it('count a clip once, however often it is given', () => {
    const few = repeats(2, 3);
    expect(spreadsFromRepeats([...few, ...few, ...few])).toEqual(ASSUMED_SPREADS);
  });

  it('know lanes from six on, what their passes and their length scatter taken off', () => {
    const lanes = Array.from({ length: 8 }, (_, lane) => {
      const factor = Math.exp(0.4 * [-1.4, -0.8, -0.4, -0.1, 0.1, 0.4, 0.8, 1.4][lane]);
      return madeUpComparedPass({ setup: 'hard wheels', lane: `${lane + 1}`, durationS: 5, factor });
    });
    const spreads = spreadsFromRepeats(lanes);
    expect(spreads).toMatchObject({ betweenLanesFrom: 'log', betweenPassesFrom: 'assumed' });
    // sd of the eight factors: 0.36; the heights of the lanes themselves scatter, too.
    expect(spreads.betweenLanes).toBeGreaterThan(0.2);
    expect(spreads.betweenLanes).toBeLessThan(0.6);
  });
});
