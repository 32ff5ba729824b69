/** A comparison made up for tests of how it is read, and its parts: every figure is invented, none comes from a measurement. */
import {
  COMPARISON_SCHEMA,
  type ComparedPair,
  type ComparedRatio,
  type ComparedRun,
  type Comparison,
} from '../../../src/run/index.js';

type AxisRatio = ComparedPair['axes'][number];

/** A ratio of which little is said: nothing clear. */
function ratio(change: Partial<ComparedRatio> = {}): ComparedRatio {
  return {
    aRms: 0.0305,
    bRms: 0.0331,
    unit: 'deg',
    ratio: 0.92,
    ci95: [0.76, 1.11],
    degrees: 8,
    p: 0.34,
    pHolm: 0.68,
    aSmoother: 0.83,
    says: 'noClearDifference',
    sentence: 'No clear difference: A may be anywhere from 24 % smoother to 11 % rougher than B.',
    needed: { of: 'passes', count: 6 },
    ...change,
  };
}

/** The first side and the chance follow from the ratio where they are not given. */
export function axisRatio(axis: AxisRatio['axis'], change: Partial<ComparedRatio> = {}): AxisRatio {
  const { ratio: of, bRms } = ratio(change);
  const follows =
    of === null || bRms === null
      ? {}
      : { aRms: of * bRms, aSmoother: Math.min(0.999, Math.max(0.001, 0.5 - 2 * Math.log(of))) };
  return { ...ratio({ ...(change.ratio === undefined ? {} : follows), ...change }), axis };
}

/** Tilt of three passes each: the first side is clearly smoother. */
export const CLEAR: Partial<ComparedRatio> = {
  aRms: 0.0412,
  bRms: 0.0516,
  ratio: 0.798,
  ci95: [0.664, 0.958],
  p: 0.0217,
  pHolm: 0.0435,
  aSmoother: 0.9891,
  says: 'aSmoother',
  sentence:
    'Soft wheels is smoother on this lane: tilt RMS 0.8 of hard wheels (0.66 to 0.96), 3 passes each.',
  needed: null,
};

function run(change: Partial<ComparedRun> = {}): ComparedRun {
  return {
    place: 'reports/hall-1',
    clip: 'hall-1.mp4',
    createdAt: '2026-03-02T09:10:00.000Z',
    lane: 'lane 1',
    direction: 'out',
    passNumber: 1,
    speedMps: 0.3,
    travelM: 3.6,
    durationS: 12,
    rmsDeg: { pan: 0.0118, tilt: 0.0412, roll: 0.0305 },
    cropPercent: 3.1,
    leftOut: false,
    grade: 'pass',
    ...change,
  };
}

/** Passes of one setup on one lane whose shake differs by the factors given. */
export function passes(name: string, lane: string, factors: readonly number[], first = 1): ComparedRun[] {
  return factors.map((factor, i) => {
    const number = first + i;
    const slug = `${name.replace(/\W+/g, '-')}-${number}`;
    return run({
      place: `reports/${slug}`,
      clip: `${slug}.mp4`,
      createdAt: `2026-03-02T09:${String(10 + 4 * number)}:00.000Z`,
      lane,
      direction: i % 2 === 0 ? 'out' : 'back',
      passNumber: number,
      rmsDeg: { pan: 0.0118 * factor, tilt: 0.0412 * factor, roll: 0.0305 * factor },
      cropPercent: 3.1 * factor,
      grade: factor > 1.6 ? 'fail' : factor > 1.25 ? 'marginal' : 'pass',
    });
  });
}

/** Two setups on one lane, three passes each. */
export function pair(change: Partial<ComparedPair> = {}): ComparedPair {
  return {
    a: 'soft wheels',
    b: 'hard wheels',
    design: 'oneLane',
    lanes: ['lane 1'],
    passes: { a: 3, b: 3 },
    claim: 'thisLane',
    sentence:
      'Soft wheels is smoother on this lane: tilt RMS 0.8 of hard wheels (0.66 to 0.96), 3 passes each.',
    conditions: [],
    fair: true,
    unfair: [],
    alike: { tilt: 0.71, roll: 0.64, pan: 0.35 },
    axes: [
      axisRatio('tilt', CLEAR),
      axisRatio('pan', {
        aRms: 0.0118,
        bRms: 0.0109,
        ratio: 1.08,
        ci95: [0.9, 1.3],
        aSmoother: 0.2,
        needed: { of: 'passes', count: 5 },
      }),
      axisRatio('roll'),
    ],
    wavelength: null,
    bands: [],
    crop: {
      takeS: 60,
      a: { medianPercent: 3.7, upper95Percent: 6 },
      b: { medianPercent: 4.5, upper95Percent: 7.4 },
      ratio: 0.82,
      ci95: [0.58, 1.16],
      sentence:
        'A take of 60 s: about 3.7 % with soft wheels, 19 in 20 below 6 %; about 4.5 % with hard wheels.',
    },
    ...change,
  };
}

const PRIORS: Comparison['priors'] = {
  betweenPasses: 0.1,
  betweenLanes: 0.3,
  setupByLane: 0.08,
  degrees: 4,
  betweenPassesFrom: 'assumed',
  betweenLanesFrom: 'assumed',
  words:
    'The ranges assume that passes of one setup differ by about 10 %, lanes by 30 %, and setups from lane to lane by 8 %.',
};

/** One lane, three passes of each setup: tilt is clear. */
export function madeUpComparison(change: (draft: Comparison) => unknown = () => {}): Comparison {
  const comparison: Comparison = {
    schema: COMPARISON_SCHEMA,
    tool: { version: '0.1.0', commit: null },
    createdAt: '2026-03-02T11:00:00.000Z',
    by: 'setup',
    groups: [
      { name: 'soft wheels', runs: passes('soft wheels', 'lane 1', [0.94, 1.05, 1.01]) },
      { name: 'hard wheels', runs: passes('hard wheels', 'lane 1', [1.24, 1.19, 1.33], 4) },
    ],
    common: {
      focalLengthMm: 35,
      sensorWidthMm: 24.9,
      words:
        'Crops are for a 35 mm lens on a 24.9 mm wide sensor, as all passes were filmed, delivered at 1920 x 1080.',
      delivery: { widthPx: 1920, heightPx: 1080 },
    },
    priors: { ...PRIORS },
    pairs: [pair()],
    sentence:
      'Soft wheels is smoother on this lane: tilt RMS 0.8 of hard wheels (0.66 to 0.96), 3 passes each.',
    lanePlan: null,
    warnings: [],
  };
  change(comparison);
  return comparison;
}
