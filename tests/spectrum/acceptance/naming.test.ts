/** Causes of up to nine peaks at once, at three speeds, with speed and wheelbase told wrong as crews tell them. Simulated. */
import { beforeAll, describe, expect, it } from 'vitest';
import { quantile } from '../../../src/numerics/index.js';
import { nameCauses } from '../../../src/spectrum/causes/name-causes.js';
import { NAMING_RULES, type NamingRules } from '../../../src/spectrum/causes/naming-rules.js';
import { findPeaks } from '../../../src/spectrum/peaks/find-peaks.js';
import {
  namingFigures,
  namingTrials,
  type NamingFigures,
  type NamingTrial,
} from '../support/naming-trials.js';
import { simulatedPass } from '../support/simulated-pass.js';

const DURATION_S = 10;
const SPEEDS_MPS = [0.1, 0.2, 0.5];
/** Of each speed: wrong names are near 3 in 100, so that 6 in 100 of 200 peaks is two deviations and a half away. */
const PASSES = 24;

describe.each(['tilt', 'roll', 'vertical'] as const)('causes of mixed passes of 10 s on %s', (axis) => {
  let trials: NamingTrial[];
  let figures: NamingFigures;
  beforeAll(() => {
    trials = namingTrials(axis, SPEEDS_MPS, DURATION_S, PASSES);
    figures = namingFigures(trials);
  }, 60_000);

  it('are named wrong for at most 6 in 100 of the peaks that are there, and right for most', () => {
    expect(figures.peaks).toBeGreaterThan(100);
    expect(figures.wrong / figures.peaks).toBeLessThanOrEqual(0.06);
    expect(figures.right / figures.peaks).toBeGreaterThan(0.65);
  });

  it('are right in 85 of 100 where 80 to 95 per cent are claimed', () => {
    const { made, right } = figures.claims['0.8-0.95'];
    expect(made).toBeGreaterThan(30);
    expect(right / made).toBeGreaterThanOrEqual(0.85);
  });

  it('tell the speed to 0.6 per cent, in the middle, from 0.2 m/s on', () => {
    expect(figures.speedErrors.length).toBeGreaterThan(20);
    expect(quantile(figures.speedErrors, 0.5)).toBeLessThanOrEqual(0.006);
  });

  it('would be named less often if every peak had an error of the speed of its own', () => {
    const alone = namingFigures(trials, { ...NAMING_RULES, sharedSpeed: false });
    expect(alone.right).toBeLessThan(0.95 * figures.right);
  });
});

describe('a row of equal dips every 300 mm at 0.2 m/s', () => {
  const named = (rules: NamingRules): number => {
    let joints = 0;
    for (let seed = 0; seed < 5; seed++) {
      const pass = simulatedPass({ seed, dips: { spacingM: 0.3, depthM: 0.0005, widthM: 0.012 } });
      const { sources } = nameCauses(
        findPeaks(pass.searched('tilt')).peaks.map((peak) => ({ axis: 'tilt', peak })),
        {
          speedMps: 0.2,
          speedSdShare: 0.02,
          wheelDiameterM: 0.08,
          joint: { spacingM: 0.3, sdShare: 0, source: 'given' },
          machinesHz: [],
          mountHz: null,
          lampsHz: [],
        },
        { durationS: DURATION_S, rateHz: 25, bandHz: [1, 12], exposureS: 0.02 },
        rules,
      );
      joints += sources.filter(({ cause }) => cause === 'joint').length;
    }
    return joints;
  };

  it('is named by most of its peaks, and by few of them if only eight multiples of its beat were looked at', () => {
    const all = named(NAMING_RULES);
    expect(all / 5).toBeGreaterThan(3);
    expect(named({ ...NAMING_RULES, jointOrdersUpTo: 8 })).toBeLessThan(0.5 * all);
  });
});
