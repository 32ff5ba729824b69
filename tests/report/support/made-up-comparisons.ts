/** The cases a comparison can be in, made up: every figure is invented, none comes from a measurement. */
import { ANGULAR_AXES, type ComparedPair, type Comparison } from '../../../src/run/index.js';
import { CLEAR, axisRatio, madeUpComparison, pair, passes } from './made-up-comparison.js';
import { madeUpLanePlan } from './made-up-lane-plan.js';

/** One pass of each on one lane: no winner can be named. */
export function onePassEach(): Comparison {
  return madeUpComparison((draft) => {
    for (const group of draft.groups) group.runs.splice(1);
    const sentence =
      'One pass each: soft wheels/hard wheels 0.77 (0.47 to 1.27) on tilt, leaning to soft wheels. Only differences above x1.7 show. Repeat each once: x1.34.';
    draft.sentence = sentence;
    draft.pairs = [
      pair({
        passes: { a: 1, b: 1 },
        sentence,
        axes: [
          axisRatio('tilt', {
            ratio: 0.769,
            ci95: [0.467, 1.267],
            aSmoother: 0.89,
            degrees: 4,
            needed: { of: 'passes', count: 4 },
          }),
          axisRatio('pan', { ratio: 1.1, ci95: [0.67, 1.82], aSmoother: 0.31, degrees: 4 }),
          axisRatio('roll', { ratio: 0.95, ci95: [0.58, 1.57], aSmoother: 0.59, degrees: 4 }),
        ],
      }),
    ];
    draft.warnings.push({
      code: 'order',
      text: 'All passes of one setup were made before all of the other: warm-up and dirt cannot be told from the setup. Next time: A B B A.',
      atS: null,
    });
  });
}

/** One pass on a lane of its own for each setup: floor and setup cannot be told apart. */
export function ownLanes(): Comparison {
  return madeUpComparison((draft) => {
    for (const group of draft.groups) group.runs.splice(1);
    draft.groups[1].runs[0].lane = 'lane 2';
    const sentence =
      'Floor and setup cannot be told apart; below x4 nothing can be said. Run both setups on one lane.';
    draft.sentence = sentence;
    draft.pairs = [
      pair({
        design: 'ownLanes',
        lanes: ['lane 1', 'lane 2'],
        passes: { a: 1, b: 1 },
        claim: 'nothing',
        sentence,
        alike: {},
        axes: ANGULAR_AXES.map((axis) =>
          axisRatio(axis, {
            ratio: 0.7,
            ci95: [0.17, 2.9],
            degrees: 4,
            aSmoother: 0.76,
            needed: { of: 'lanes', count: 9 },
          }),
        ),
      }),
    ];
  });
}

/** Three setups on two lanes. */
export function threeSetups(): Comparison {
  return madeUpComparison((draft) => {
    draft.groups = [
      {
        name: 'soft wheels',
        runs: [
          ...passes('soft wheels', 'lane 1', [0.94, 1.05]),
          ...passes('soft wheels', 'lane 2', [1.35], 3),
        ],
      },
      {
        name: 'hard wheels',
        runs: [...passes('hard wheels', 'lane 1', [1.24], 4), ...passes('hard wheels', 'lane 2', [1.72], 5)],
      },
      {
        name: 'aluminium rail, four bogies with soft tyres',
        runs: [...passes('rail', 'lane 1', [0.52, 0.49], 6), ...passes('rail', 'lane 2', [0.61], 8)],
      },
    ];
    const rail = draft.groups[2].name;
    const paired: Partial<ComparedPair> = {
      design: 'pairedLanes',
      lanes: ['lane 1', 'lane 2'],
      claim: 'floorsLikeThese',
      passes: { a: 3, b: 2 },
    };
    draft.sentence = `On floors like these ${rail} is smoother than the others; soft wheels against hard wheels is not clear.`;
    draft.pairs = [
      pair({
        ...paired,
        sentence:
          'No clear difference: soft wheels may be anywhere from 40 % smoother to 6 % rougher than hard wheels.',
        axes: [axisRatio('tilt', { ratio: 0.8, ci95: [0.6, 1.06] }), axisRatio('pan'), axisRatio('roll')],
      }),
      pair({
        ...paired,
        b: rail,
        sentence: `${rail} is smoother on floors like these: tilt RMS of soft wheels 1.95 of it (1.4 to 2.7).`,
        axes: [
          axisRatio('tilt', {
            ratio: 1.95,
            ci95: [1.4, 2.7],
            says: 'bSmoother',
            aSmoother: 0.002,
            needed: null,
          }),
          axisRatio('pan', {
            ratio: 1.02,
            ci95: [0.95, 1.08],
            says: 'sameWithin10',
            aSmoother: 0.3,
            needed: null,
          }),
          axisRatio('roll', {
            ratio: 1.6,
            ci95: [1.2, 2.1],
            says: 'bSmoother',
            aSmoother: 0.004,
            needed: null,
          }),
        ],
      }),
      pair({
        ...paired,
        a: 'hard wheels',
        b: rail,
        passes: { a: 2, b: 3 },
        sentence: `${rail} is smoother on floors like these: tilt RMS of hard wheels 2.4 of it (1.7 to 3.4).`,
        axes: [
          axisRatio('tilt', {
            ratio: 2.4,
            ci95: [1.7, 3.4],
            says: 'bSmoother',
            aSmoother: 0.001,
            needed: null,
          }),
          axisRatio('pan'),
          axisRatio('roll', {
            ratio: 2.1,
            ci95: [1.5, 2.9],
            says: 'bSmoother',
            aSmoother: 0.002,
            needed: null,
          }),
        ],
      }),
    ];
  });
}

/** Unequal speeds, told by wavelength too; other light as well, so not fair. */
export function unequalSpeeds(): Comparison {
  return madeUpComparison((draft) => {
    for (const r of draft.groups[1].runs) r.speedMps = 0.5;
    draft.pairs[0] = pair({
      conditions: [
        { what: 'speed', a: '0.3 m/s', b: '0.5 m/s', matters: 'faster passes shake more on the same floor' },
        { what: 'operator', a: 'Ada', b: 'Ben', matters: null },
        { what: 'shutter', a: '180 deg', b: '90 deg', matters: 'a shorter shutter shows more fast shake' },
      ],
      fair: false,
      unfair: [
        'The speeds differ: 0.3 m/s against 0.5 m/s. Look at the common wavelengths for the setup alone.',
        'The shutters differ: 180 deg against 90 deg.',
      ],
      wavelength: {
        bandM: [0.05, 0.3],
        refused: null,
        axes: [
          axisRatio('tilt', { ratio: 0.9, ci95: [0.74, 1.1] }),
          axisRatio('pan', { ratio: 1.1, ci95: [0.9, 1.34] }),
          axisRatio('roll', { ratio: 0.96, ci95: [0.8, 1.16] }),
        ],
      },
    });
  });
}

/** The same where no band of wavelengths is common to both. */
export function refusedWavelengths(): Comparison {
  const comparison = unequalSpeeds();
  comparison.pairs[0].wavelength = {
    bandM: null,
    refused: 'The speeds are too far apart: the common band of wavelengths spans less than x1.5.',
    axes: [],
  };
  return comparison;
}

/** Three passes each with bands; one of them stands up to the correction for all. */
export function withBands(): Comparison {
  const bands = [
    ['0.8 to 2 Hz', 0.8, 2],
    ['2 to 4 Hz', 2, 4],
    ['4 to 8 Hz', 4, 8],
    ['8 to 12.5 Hz', 8, 12.5],
  ] as const;
  return madeUpComparison((draft) => {
    draft.pairs[0].bands = ANGULAR_AXES.flatMap((axis) =>
      bands.map(([label, fromHz, toHz], i) => ({
        ...axisRatio(
          axis,
          axis === 'tilt' && i === 1
            ? { ...CLEAR, ratio: 0.55, ci95: [0.42, 0.72], p: 0.0006, pHolm: 0.0072 }
            : { ratio: 0.85 + 0.1 * i, ci95: [0.6 + 0.1 * i, 1.2 + 0.12 * i], p: 0.2, pHolm: 1 },
        ),
        label,
        fromHz,
        toHz,
      })),
    );
  });
}

/** Pan is under the noise of both, roll under that of one. */
export function belowNoise(): Comparison {
  return madeUpComparison((draft) => {
    for (const group of draft.groups) for (const r of group.runs) r.rmsDeg.pan = null;
    draft.groups[0].runs[1].rmsDeg.roll = null;
    const none = { ratio: null, ci95: null, degrees: null, p: null, pHolm: null, aSmoother: null } as const;
    draft.pairs[0].axes[1] = axisRatio('pan', {
      ...none,
      aRms: null,
      bRms: null,
      says: 'notCompared',
      sentence: 'Pan is below the noise with both: below 0.0021 deg.',
      needed: null,
    });
    draft.pairs[0].axes[2] = axisRatio('roll', {
      ...none,
      aRms: null,
      says: 'notCompared',
      sentence:
        'Roll of soft wheels is below the noise (below 0.0018 deg), that of hard wheels is 0.033 deg.',
      needed: null,
    });
    draft.pairs[0].crop = {
      takeS: 60,
      a: { medianPercent: null, upper95Percent: null },
      b: { medianPercent: 4.5, upper95Percent: null },
      ratio: null,
      ci95: null,
      sentence: 'The test passes are too short to foretell a take of 60 s with soft wheels.',
    };
  });
}

/** Lanes alone: one setup, so no pair to compare. */
export function lanesOnly(): Comparison {
  return madeUpComparison((draft) => {
    draft.by = 'lane';
    draft.groups = [
      { name: 'window side', runs: passes('window side', 'window side', [1.7, 1.6]) },
      { name: 'middle', runs: passes('middle', 'middle', [0.9], 3) },
      { name: 'wall side', runs: passes('wall side', 'wall side', [2.1], 4) },
    ];
    draft.pairs = [];
    draft.lanePlan = madeUpLanePlan();
    draft.sentence = draft.lanePlan.best.sentence;
  });
}

/** Names and sentences that would break a page or steer a terminal. */
export function hostileComparison(): Comparison {
  const hostile = '<script>alert(1)</script>"\u001b[2J & a rather long name of a setup on the plywood loft';
  return madeUpComparison((draft) => {
    draft.groups[0].name = hostile;
    draft.groups[0].runs[0].place = '/home/<img src=x onerror=alert(2)>/run';
    draft.groups[0].runs[0].clip = 'a\u0007b<b>.mp4';
    draft.groups[0].runs[0].lane = '<i>lane</i>\r\n2';
    draft.pairs[0].a = hostile;
    draft.pairs[0].sentence = `${hostile} is smoother.`;
    draft.pairs[0].conditions = [{ what: '<u>', a: hostile, b: 'b', matters: '<s>' }];
    draft.pairs[0].fair = false;
    draft.pairs[0].unfair = [hostile];
    draft.sentence = `${hostile} is smoother.`;
    draft.lanePlan = madeUpLanePlan((plan) => {
      plan.lanes[0].name = hostile;
      plan.floor = hostile;
      plan.best = { lane: hostile, sentence: hostile };
    });
    draft.warnings.push({ code: 'x', text: hostile, atS: null });
  });
}

/** Every case by name. */
export const MADE_UP_COMPARISONS: Readonly<Record<string, () => Comparison>> = {
  clear: () => madeUpComparison(),
  onePassEach,
  ownLanes,
  threeSetups,
  unequalSpeeds,
  refusedWavelengths,
  withBands,
  belowNoise,
  lanesOnly,
  hostile: hostileComparison,
};
