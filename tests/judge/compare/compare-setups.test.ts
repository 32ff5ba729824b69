/** Whole comparisons of made-up passes over made-up lanes, from series to sentences. */
import { describe, expect, it } from 'vitest';
import {
  ASSUMED_SPREADS,
  compareSetups,
  type ComparedPass,
  type SetupComparison,
} from '../../../src/judge/index.js';
import { comparisonSchema, type ComparedPair } from '../../../src/run/index.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpComparedPass, type MadeUpPass } from '../../support/made-up-runs.js';

const SHAPE = comparisonSchema.pick({
  groups: true,
  common: true,
  priors: true,
  pairs: true,
  sentence: true,
  warnings: true,
});

function passesOf(setup: string, count: number, more: MadeUpPass = {}): ComparedPass[] {
  return Array.from({ length: count }, (_, i) =>
    madeUpComparedPass({
      ...{ setup, passSeed: i + 1, durationS: 8, passSd: 0.05, ownShare: 0.1, floorSeed: 3 },
      ...more,
    }),
  );
}

function compared(passes: readonly ComparedPass[], by = 'setup'): SetupComparison {
  const comparison = compareSetups(passes, { by });
  SHAPE.parse(comparison);
  return comparison;
}

const axisOf = (pair: ComparedPair, axis: string): ComparedPair['axes'][number] => {
  const found = pair.axes.find((one) => one.axis === axis);
  if (!found) throw new Error(`no ${axis}`);
  return found;
};

const SOFT = passesOf('soft wheels', 3, { factor: 0.5 });
const HARD = passesOf('hard wheels', 3);
const THREE_EACH = compared([...SOFT, ...HARD]);

describe('three passes each on one lane', () => {
  const [pair] = THREE_EACH.pairs;

  it('show who is smoother, on this lane', () => {
    expect(pair).toMatchObject({ design: 'oneLane', claim: 'thisLane', passes: { a: 3, b: 3 }, fair: true });
    const tilt = axisOf(pair, 'tilt');
    expect(tilt.says).toBe('aSmoother');
    expect(tilt.ci95?.[0]).toBeLessThan(0.5);
    expect(tilt.ci95?.[1]).toBeGreaterThan(0.5);
    expect(THREE_EACH.sentence).toMatch(
      /^"soft wheels" is smoother on this lane: .*tilt RMS 0\.\d\d \(0\.\d\d to 0\.\d\d\).* of "hard wheels", 3 passes each\./,
    );
  });

  it('find the passes alike by place, and compare octaves', () => {
    expect(pair.alike.tilt).toBeGreaterThan(0.7);
    expect(new Set(pair.bands.map(({ label }) => label))).toEqual(new Set(['1 Hz', '2 Hz', '4 Hz', '8 Hz']));
    for (const band of pair.bands) if (band.p !== null) expect(band.pHolm).toBeGreaterThanOrEqual(band.p);
  });

  it('warn of the order in which they were rolled', () => {
    const at = (pass: ComparedPass, minute: number): ComparedPass => ({
      ...pass,
      createdAt: `2031-03-14T09:0${minute}:00.000Z`,
    });
    const { warnings } = compared([at(SOFT[0], 1), at(SOFT[1], 2), at(HARD[0], 3), at(HARD[1], 4)]);
    expect(warnings.map(({ code }) => code)).toContain('all-of-one-first');
  });

  it('list every run with its shake and its crop on one lens', () => {
    expect(THREE_EACH.groups.map(({ name, runs }) => [name, runs.length])).toEqual([
      ['soft wheels', 3],
      ['hard wheels', 3],
    ]);
    const [soft] = THREE_EACH.groups[0].runs;
    expectWithin(soft.rmsDeg.tilt ?? NaN, ((SOFT[0].pass.motion.axes.tilt.rms ?? 0) * 180) / Math.PI, {
      rel: 1e-9,
    });
    expect(soft).toMatchObject({ speedMps: 0.25, travelM: 2, durationS: 8 });
  });

  it('give crops as a cost for one take', () => {
    const { crop } = pair;
    expect(crop.takeS).toBe(16);
    expect(crop.ratio).toBeGreaterThan(0.3);
    expect(crop.ratio).toBeLessThan(0.8);
    expect(crop.ci95?.[0]).toBeLessThan(crop.ratio ?? 0);
    expect(crop.a.upper95Percent).toBeGreaterThan(crop.a.medianPercent ?? Infinity);
    expect(crop.sentence).toContain('no test');
  });

  it('give the same figures again, and leave the passes as they were', () => {
    const before = Float64Array.from(SOFT[0].pass.motion.vibration.tilt);
    expect(compared([...SOFT, ...HARD])).toEqual(THREE_EACH);
    expect(SOFT[0].pass.motion.vibration.tilt).toEqual(before);
  });

  it('turn round with the order of the setups', () => {
    const [turned] = compared([...HARD, ...SOFT]).pairs;
    const [there, back] = [axisOf(pair, 'tilt'), axisOf(turned, 'tilt')];
    expectWithin((there.ratio ?? NaN) * (back.ratio ?? NaN), 1, { abs: 1e-9 });
    expect(back.says).toBe('bSmoother');
    expect(turned.sentence).toMatch(/^"soft wheels" is smoother on this lane/);
  });
});

describe('fewer passes', () => {
  it('one each name no winner at a moderate difference, say what the range rests on, and compare no bands', () => {
    const [pair] = compared([...passesOf('A', 1, { factor: 0.8 }), HARD[0]]).pairs;
    expect(axisOf(pair, 'tilt').says).toBe('noClearDifference');
    expect(pair.bands).toEqual([]);
    expect(pair.sentence).toMatch(
      /^No clear difference in (tilt|roll): "A" may be anywhere from \d+ % smoother to \d+ % rougher than "hard wheels"\./,
    );
    expect(pair.sentence).toContain('assumes that passes of one setup differ by about 10 %');
    expect(pair.sentence).toContain('with each repeated once');
  });

  it('on a lane each tell floor and setup apart by nothing', () => {
    const [pair] = compared([
      SOFT[0],
      madeUpComparedPass({ setup: 'hard wheels', lane: '2', durationS: 8 }),
    ]).pairs;
    expect(pair).toMatchObject({ design: 'ownLanes', claim: 'nothing', fair: false });
    expect(pair.sentence).toMatch(/^Floor and setup cannot be told apart/);
    expect(pair.axes.every(({ says }) => says === 'noClearDifference' || says === 'notCompared')).toBe(true);
  });

  it('on two lanes with both speak for floors like these', () => {
    const onTwo = (setup: string, factor: number): ComparedPass[] =>
      ['1', '2'].flatMap((lane) => passesOf(setup, 1, { factor, lane }));
    const [pair] = compared([...onTwo('A', 0.5), ...onTwo('B', 1)]).pairs;
    expect(pair).toMatchObject({ design: 'pairedLanes', claim: 'floorsLikeThese', lanes: ['1', '2'] });
    expect(pair.sentence).toContain('on floors like these');
    expect(pair.sentence).toContain('2 lanes with both, one pass each');
  });
});

describe('a run on a lane that one setup alone saw', () => {
  const on = (setup: string, floor: string, passSeed: number): ComparedPass => ({
    ...passesOf(setup, 1, { lane: '1', passSeed })[0],
    floor,
  });
  const { groups, warnings } = compared([on('A', 'loft', 1), on('B', 'loft', 2), on('B', 'dairy hall', 3)]);

  it('is listed as left out, its lane told apart by its floor', () => {
    const runs = groups.flatMap((group) => group.runs);
    expect(runs.map(({ lane, leftOut }) => [lane, leftOut])).toEqual([
      ['loft, 1', false],
      ['loft, 1', false],
      ['dairy hall, 1', true],
    ]);
  });

  it('is named in the warning', () => {
    const [run] = groups[1].runs.filter(({ leftOut }) => leftOut);
    expect(warnings.find(({ code }) => code === 'lanes-left-out')?.text).toBe(
      `A against B: a lane without both setups was left out: ${run.clip} on lane dairy hall, 1.`,
    );
  });
});

describe('what is not a comparison of setups alone', () => {
  it('a run beside itself gives ratio one and no clear difference, and is told as such', () => {
    const [pair] = compared([HARD[0], { ...HARD[0], setup: 'again' }]).pairs;
    const tilt = axisOf(pair, 'tilt');
    expectWithin(tilt.ratio ?? NaN, 1, { abs: 1e-12 });
    expect(tilt.says).toBe('noClearDifference');
    expect(pair.fair).toBe(false);
    expect(pair.sentence).toBe(
      'The same clip stands on both sides: no clear difference between "hard wheels" and "again".',
    );
  });

  it('a clip given twice counts as one pass', () => {
    const { pairs, warnings } = compared([...SOFT, SOFT[0], ...HARD]);
    expect(pairs[0].passes).toEqual({ a: 3, b: 3 });
    expect(warnings.map(({ code }) => code)).toContain('same-clip-twice');
  });

  it('unequal speeds are compared as observed, and apart from speed in common wavelengths', () => {
    const [pair] = compared([
      ...passesOf('A', 1, { speedMps: 0.2 }),
      ...passesOf('B', 1, { speedMps: 0.3 }),
    ]).pairs;
    expect(pair.fair).toBe(false);
    expect(pair.alike.tilt).toBe(0);
    // 0.3 m/s at 0.4 of 25 fps, 0.2 m/s at 1 Hz.
    expectWithin(pair.wavelength?.bandM?.[0] ?? NaN, 0.03, { rel: 0.01 });
    expectWithin(pair.wavelength?.bandM?.[1] ?? NaN, 0.2, { rel: 0.01 });
    const tilt = pair.wavelength?.axes.find(({ axis }) => axis === 'tilt');
    expect(tilt?.ci95?.[0]).toBeLessThan(1);
    expect(tilt?.ci95?.[1]).toBeGreaterThan(1);
    expect(axisOf(pair, 'tilt').ratio).not.toBeNull();
  });

  it('speeds too far apart share no wavelengths to compare in', () => {
    const [pair] = compared([
      ...passesOf('A', 1, { speedMps: 0.1 }),
      ...passesOf('B', 1, { speedMps: 0.8 }),
    ]).pairs;
    expect(pair.wavelength).toMatchObject({ bandM: null, axes: [] });
    expect(pair.wavelength?.refused).toContain('one speed');
  });

  it('a side under the noise is the smoother one where its bound lies below the other for sure', () => {
    const [pair] = compared([...passesOf('A', 1, { factor: 0.01 }), HARD[0]]).pairs;
    const tilt = axisOf(pair, 'tilt');
    expect(tilt).toMatchObject({ says: 'aSmoother', ratio: null, aRms: null });
    expect(tilt.sentence).toMatch(
      /^"A" is smoother on this lane: its tilt lies under the noise, below [\d.]+°, at most 0\.\d\d of "hard wheels" \([\d.]+°\), one pass each\.$/,
    );
    expect(pair.sentence).toMatch(/^"A" is smoother on this lane: .*tilt at most 0\.\d\d.* of "hard wheels"/);
    const [turned] = compared([HARD[0], ...passesOf('Z', 1, { factor: 0.01 })]).pairs;
    expect(axisOf(turned, 'tilt').says).toBe('bSmoother');
    expect(turned.sentence).toMatch(/^"Z" is smoother/);
  });
});

describe('several setups', () => {
  it('are compared two by two, and the family counts all of them', () => {
    const { pairs, sentence } = compared([SOFT[0], HARD[0], ...passesOf('rail', 1, { factor: 0.9 })]);
    expect(pairs.map(({ a, b }) => [a, b])).toEqual([
      ['soft wheels', 'hard wheels'],
      ['soft wheels', 'rail'],
      ['hard wheels', 'rail'],
    ]);
    const all = pairs.flatMap(({ axes }) => axes.filter(({ axis }) => axis === 'tilt' || axis === 'roll'));
    const asked = all.filter(({ p }) => p !== null);
    const least = asked.reduce((one, other) => ((other.p ?? 1) < (one.p ?? 1) ? other : one));
    const angles = pairs
      .flatMap(({ axes }) => axes.filter(({ axis }) => ['pan', 'tilt', 'roll'].includes(axis)))
      .filter(({ p }) => p !== null).length;
    expectWithin(least.pHolm ?? NaN, Math.min(1, angles * (least.p ?? NaN)), { rel: 1e-9 });
    expect(sentence.length).toBeGreaterThan(0);
  });

  it('one alone has nothing to be compared with', () => {
    expect(compared([SOFT[0]])).toMatchObject({ pairs: [] });
    expect(() => compareSetups([], { by: 'setup' })).toThrow(RangeError);
  });
});

describe('what ranges rest on', () => {
  it('is printed as assumed, or as from the log', () => {
    expect(THREE_EACH.priors.words).toContain('10 % (assumed)');
    expect(THREE_EACH.priors.words).toMatch(/; each counts like four repeated passes\.$/);
    const spreads = { ...ASSUMED_SPREADS, betweenPasses: 0.05, betweenPassesFrom: 'log' } as const;
    const fromLog = compareSetups([...SOFT, ...HARD], { by: 'setup', spreads });
    expect(fromLog.priors.words).toContain('5 % (from the log)');
    const width = ({ pairs }: SetupComparison): number => {
      const { ci95 } = axisOf(pairs[0], 'tilt');
      return ci95 ? ci95[1] / ci95[0] : NaN;
    };
    expect(width(fromLog)).toBeLessThan(width(THREE_EACH));
  });
});

describe('clips of other bands and lenses', () => {
  it('are compared in the band that they have in common', () => {
    const { pass } = HARD[1];
    const bandHz: [number, number] = [1.5, 12.5];
    const raised = { ...HARD[1], pass: { ...pass, motion: { ...pass.motion, bandHz } } };
    const { groups, pairs } = compared([SOFT[0], raised]);
    const own = THREE_EACH.groups[0].runs[0].rmsDeg.tilt ?? 0;
    expect(groups[0].runs[0].rmsDeg.tilt).toBeLessThan(own);
    expect(pairs[0].conditions.map(({ what }) => what)).toContain('lower end of the band');
  });

  it('cost crops as on the longest lens of all', () => {
    const longer = HARD.slice(0, 1).map((compared): ComparedPass => {
      const { motion, rig } = compared.pass;
      const camera = { ...motion.camera, focalPx: 2 * motion.camera.focalPx };
      return {
        ...compared,
        pass: { ...compared.pass, motion: { ...motion, camera }, rig: { ...rig, focalLengthMm: 70 } },
      };
    });
    const [soft] = compared([SOFT[0], ...longer]).groups[0].runs;
    const usual = THREE_EACH.groups[0].runs[0].cropPercent;
    // Tilt costs twice as much on twice the lens, roll as much as before.
    expect(soft.cropPercent).toBeGreaterThan(1.2 * usual);
    expect(soft.cropPercent).toBeLessThan(2 * usual);
    expect(compared([SOFT[0], ...longer]).common).toMatchObject({ focalLengthMm: 70 });
  });
});
