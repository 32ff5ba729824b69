/** Causes of up to nine peaks at once, at three speeds, with speed and wheelbase told wrong as crews tell them. Simulated. */
import { beforeAll, describe, expect, it } from 'vitest';
import { nameCauses } from '../../../src/spectrum/causes/name-causes.js';
import { NAMING_RULES, type NamingRules } from '../../../src/spectrum/causes/naming-rules.js';
import type { ShakeSource, Sighting } from '../../../src/spectrum/causes/types.js';
import { findPeaks } from '../../../src/spectrum/peaks/find-peaks.js';
import { lineAmplitudes } from '../support/line-strength.js';
import { mixedPass, trueCauseAt, type MixedPass } from '../support/mixed-pass.js';
import { simulatedPass } from '../support/simulated-pass.js';

const DURATION_S = 10;
const SPEEDS_MPS = [0.1, 0.2, 0.5];
const PASSES = 40;

interface Searched extends MixedPass {
  readonly sightings: readonly Sighting[];
  readonly speedMps: number;
}

interface Tally {
  right: number;
  wrong: number;
  all: number;
  readonly sure: { said: number; right: number };
  readonly speedErrors: number[];
}

function nameAll(passes: readonly Searched[], rules: NamingRules): Tally {
  const tally: Tally = { right: 0, wrong: 0, all: 0, sure: { said: 0, right: 0 }, speedErrors: [] };
  for (const { sightings, known, band, truth, speedMps } of passes) {
    const { sources, speed } = nameCauses(sightings, known, band, rules);
    if (
      speed !== null &&
      speedMps >= 0.2 &&
      truth.some(({ cause }) => cause === 'wheel' || cause === 'joint')
    )
      tally.speedErrors.push(Math.abs(speed.speedMps / speedMps - 1));
    for (const source of sources) count(source, trueCauseAt(source, truth, band.durationS), tally);
  }
  return tally;
}

function count(source: ShakeSource, truth: ReturnType<typeof trueCauseAt>, tally: Tally): void {
  if (truth === null || truth === 'none') return;
  tally.all++;
  if (source.cause === truth) tally.right++;
  else if (source.cause !== 'unknown') tally.wrong++;
  if (source.probability === null || source.probability < 0.8 || source.probability >= 0.95) return;
  tally.sure.said++;
  if (source.cause === truth) tally.sure.right++;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[values.length >> 1];
}

describe('causes of mixed passes of 10 s', () => {
  let passes: Searched[];
  let tally: Tally;
  beforeAll(() => {
    passes = SPEEDS_MPS.flatMap((speedMps) => {
      const amplitude = lineAmplitudes('tilt', { speedMps, durationS: DURATION_S });
      return Array.from({ length: PASSES }, (_, seed) => {
        const mixed = mixedPass(seed, speedMps, DURATION_S, amplitude);
        const { peaks } = findPeaks(mixed.pass.searched('tilt'));
        return { ...mixed, speedMps, sightings: peaks.map((peak): Sighting => ({ axis: 'tilt', peak })) };
      });
    });
    tally = nameAll(passes, NAMING_RULES);
  }, 60_000);

  it('are named wrong for at most 6 in 100 of the peaks that are there, and right for most', () => {
    expect(tally.all).toBeGreaterThan(250);
    expect(tally.wrong / tally.all).toBeLessThanOrEqual(0.06);
    expect(tally.right / tally.all).toBeGreaterThan(0.6);
  });

  it('are right in 85 of 100 where 80 to 95 per cent are claimed', () => {
    expect(tally.sure.said).toBeGreaterThan(60);
    expect(tally.sure.right / tally.sure.said).toBeGreaterThanOrEqual(0.85);
  });

  it('tell the speed to 0.6 per cent, in the middle, from 0.2 m/s on', () => {
    expect(tally.speedErrors.length).toBeGreaterThan(30);
    expect(median(tally.speedErrors)).toBeLessThanOrEqual(0.006);
  });

  it('would be named less often if every peak had an error of the speed of its own', () => {
    const alone = nameAll(passes, { ...NAMING_RULES, sharedSpeed: false });
    expect(alone.right).toBeLessThan(0.93 * tally.right);
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
        { durationS: 10, rateHz: 25, bandHz: [1, 12], exposureS: 0.02 },
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
