import { describe, expect, it } from 'vitest';
import { againstRailLimit, railLimitDb } from '../../../src/surface/grades/rail-limit.js';
import { bandOfIndex } from '../../../src/surface/grades/wavelength-bands-edges.js';
import type { WavelengthBand } from '../../../src/surface/grades/wavelength-bands.js';
import { expectWithin } from '../../support/expect-within.js';

const EXACT = { abs: 1e-9, why: 'sums of the same numbers' };

/** A band so many dB over its limit. */
function band(index: number, excessDb: number, sdDb = 0.5, below = false): WavelengthBand {
  const { centreM, nominalM } = bandOfIndex(index);
  const limitDb = railLimitDb(index);
  return {
    centreM,
    nominalM,
    asRolledDb: (limitDb ?? 0) + excessDb,
    betweenJointsDb: null,
    sdDb,
    below,
    railLimitDb: limitDb,
  };
}

describe('a floor against the limit for rails', () => {
  it('meets it when every band is under it by two sd', () => {
    const found = againstRailLimit([band(-9, -1.1), band(-10, -4), band(-11, -3)]);
    expect(found).toMatchObject({ outcome: 'meets', bandsCompared: 3, bandsUntold: 0 });
    expectWithin(found!.worstExcessDb, -1.1, EXACT);
    expectWithin(found!.worstCentreM, 10 ** -0.9, EXACT);
  });

  it('exceeds it when one band is over it by two sd, and says where', () => {
    const found = againstRailLimit([band(-9, -1.1), band(-10, 1.2), band(-11, -3)]);
    expect(found).toMatchObject({ outcome: 'exceeds', bandsCompared: 3 });
    expectWithin(found!.worstExcessDb, 1.2, EXACT);
    expectWithin(found!.worstCentreM, 0.1, EXACT);
  });

  it('cannot be told when a band lies within two sd of it', () => {
    expect(againstRailLimit([band(-9, -5), band(-10, -0.9)])?.outcome).toBe('cannotTell');
    expect(againstRailLimit([band(-9, -5), band(-10, 0.9)])?.outcome).toBe('cannotTell');
    // A level known to 2.5 dB may be all noise: two sd of its power leave nothing.
    expect(againstRailLimit([band(-10, 9, 2.5)])?.outcome).toBe('cannotTell');
  });

  it('is met by a bound under it, and told nothing by a bound over it', () => {
    const bound = (index: number, excessDb: number): WavelengthBand => band(index, excessDb, 4.2, true);
    const found = againstRailLimit([band(-9, -5), bound(-10, -0.1), bound(-11, 6)]);
    // A band that may be over the limit leaves the question open.
    expect(againstRailLimit([band(-9, -5), bound(-10, -0.1)])?.outcome).toBe('meets');
    expect(found).toMatchObject({ outcome: 'cannotTell', bandsCompared: 2, bandsUntold: 1 });
    expectWithin(found!.worstExcessDb, -0.1, EXACT);
    expect(againstRailLimit([bound(-10, 6)])).toBeNull();
  });

  it('sums floor and limit over the bands compared by power', () => {
    const found = againstRailLimit([band(-10, 3), band(-10, 3), band(-12, 40, 5, true)])!;
    expectWithin(found.limitSumDb, 4.9 + 10 * Math.log10(2), EXACT);
    expectWithin(found.sumDb - found.limitSumDb, 3, EXACT);
  });

  it('leaves out bands that the standard prints no limit for', () => {
    expect(railLimitDb(4)).toBeNull();
    expect(againstRailLimit([band(4, -20)])).toBeNull();
    expect(againstRailLimit([band(4, 90), band(-10, -5)])).toMatchObject({
      outcome: 'meets',
      bandsCompared: 1,
    });
    expect(againstRailLimit([])).toBeNull();
  });
});
