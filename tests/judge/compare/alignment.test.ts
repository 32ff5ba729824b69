import { describe, expect, it } from 'vitest';
import { alignPasses } from '../../../src/judge/compare/alignment.js';
import { commonBand, preparePass, type PreparedPass } from '../../../src/judge/compare/prepared-pass.js';
import { madeUpComparedPass, type MadeUpPass } from '../../support/made-up-runs.js';

const SHORT = { durationS: 8, ownShare: 0.1 } as const;

function prepared(options: MadeUpPass): PreparedPass {
  const compared = madeUpComparedPass({ ...SHORT, ...options });
  return preparePass(compared, commonBand([compared]));
}

const here = prepared({ passSeed: 1 });

/** Starts the clip later: the first frames are cut off. */
function startedLater(pass: PreparedPass, frames: number): PreparedPass {
  const cut = (column: Float64Array): Float64Array => column.slice(frames);
  const series = Object.fromEntries(
    Object.entries(pass.series).map(([axis, column]) => [axis, cut(column)]),
  ) as PreparedPass['series'];
  const whole = pass.placeM ?? new Float64Array(0);
  // Places count from the first frame of the clip.
  return { ...pass, series, placeM: cut(whole).map((atM) => atM - (whole[frames] - whole[0])) };
}

describe('two passes laid over each other by place', () => {
  it('shake alike on one lane', () => {
    const aligned = alignPasses(here, prepared({ passSeed: 2 }));
    expect(aligned?.correlation.tilt).toBeGreaterThan(0.75);
    expect(aligned?.correlation.roll).toBeGreaterThan(0.75);
  });

  it('are found again when one clip was started a moment later', () => {
    const late = startedLater(prepared({ passSeed: 2 }), 20);
    expect(alignPasses(here, late)?.correlation.tilt).toBeGreaterThan(0.75);
  });

  it('share nothing on different lanes', () => {
    expect(alignPasses(here, prepared({ passSeed: 2, lane: '2' }))).toBeNull();
  });

  it('are turned round when one was rolled back', () => {
    const back = prepared({ passSeed: 2, direction: 'back' });
    expect(alignPasses(prepared({ passSeed: 1, direction: 'out' }), back)?.correlation.tilt).toBeGreaterThan(
      0.6,
    );
    expect(alignPasses(here, { ...back, compared: { ...back.compared, direction: 'out' } })).toBeNull();
  });

  it('are not compared at other speeds, nor where the speed is not known', () => {
    expect(alignPasses(here, prepared({ passSeed: 2, speedMps: 0.28 }))).toBeNull();
    expect(alignPasses(here, { ...prepared({ passSeed: 2 }), speedMps: null })).toBeNull();
    expect(alignPasses(here, { ...prepared({ passSeed: 2 }), placeM: null })).toBeNull();
  });

  it('cohere in a band of enough cells and count nothing in one of too few', () => {
    const aligned = alignPasses(here, prepared({ passSeed: 2 }));
    expect(aligned?.coherenceIn('tilt', 1, 5)).toBeGreaterThan(0.5);
    expect(aligned?.coherenceIn('tilt', 2, 2.2)).toBe(0);
  });

  it('are wholly alike when they are one', () => {
    expect(alignPasses(here, here)?.correlation.tilt).toBeCloseTo(1, 9);
  });
});
