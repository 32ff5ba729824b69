/** What a comparison is worth, by trials whose truth is known: false alarms, finds, and that lanes and not passes are the unit. */
import { describe, expect, it } from 'vitest';
import { holm } from '../../../src/judge/compare/holm.js';
import { ratioOf, setupDifference } from '../../../src/judge/compare/setup-difference.js';
import { gaussianRandom, mean, seededRandom, studentQuantile } from '../../../src/numerics/index.js';
import { levelTrial, percentFound, seriesTrial, type Layout } from './support/simulated-setups.js';

/** At a nominal 5 %; the standard error of a cell is about 1 %. */
const MOST_ALARMS_PERCENT = 6;
const TRIALS = 400;

const ROWS: readonly (readonly [string, Layout])[] = [
  ['one lane, one pass each', { lanes: 1, passes: 1, shared: true }],
  ['one lane, two passes each', { lanes: 1, passes: 2, shared: true }],
  ['one lane, three passes each', { lanes: 1, passes: 3, shared: true }],
  ['one lane, five passes each', { lanes: 1, passes: 5, shared: true }],
  ['two lanes with both', { lanes: 2, passes: 1, shared: true }],
  ['three lanes with both', { lanes: 3, passes: 1, shared: true }],
  ['five lanes with both', { lanes: 5, passes: 1, shared: true }],
  ['two lanes with both, two passes each', { lanes: 2, passes: 2, shared: true }],
  ['three lanes with both, two passes each', { lanes: 3, passes: 2, shared: true }],
  ['a lane each', { lanes: 1, passes: 1, shared: false }],
  ['two lanes each', { lanes: 2, passes: 1, shared: false }],
  ['three lanes each', { lanes: 3, passes: 1, shared: false }],
  ['five lanes each', { lanes: 5, passes: 1, shared: false }],
  ['ten lanes each', { lanes: 10, passes: 1, shared: false }],
  ['one pass against four', { lanes: 1, passes: 1, passesB: 4, shared: true }],
  ['two passes against five', { lanes: 1, passes: 2, passesB: 5, shared: true }],
  ['two lanes against five', { lanes: 2, lanesB: 5, passes: 1, shared: false }],
];

function levels(layout: Layout, seed: number, trials = TRIALS): number {
  const gaussian = gaussianRandom(seededRandom(seed));
  return percentFound(trials, () => ratioOf(setupDifference(levelTrial(layout, gaussian))));
}

function series(layout: Layout, seed: number, trials = TRIALS): number {
  const random = seededRandom(seed);
  const gaussian = gaussianRandom(random);
  return percentFound(trials, () => seriesTrial(layout, random, gaussian));
}

describe('like setups', () => {
  it.each(ROWS)('are rarely called different: %s', (_, layout) => {
    expect(levels(layout, 11)).toBeLessThanOrEqual(MOST_ALARMS_PERCENT);
  });

  it.each([ROWS[0], ROWS[2], ROWS[4], ROWS[10]])(
    'are rarely called different from series either: %s',
    (_, layout) => {
      expect(series(layout, 12)).toBeLessThanOrEqual(MOST_ALARMS_PERCENT);
    },
  );

  it('stay so where noise is as strong as the shake', () => {
    expect(series({ lanes: 1, passes: 1, shared: true, noise: 1 }, 13)).toBeLessThanOrEqual(
      MOST_ALARMS_PERCENT,
    );
  });

  it('are not called different for their lanes, though five passes on a lane each seem to show it', () => {
    const layout: Layout = { lanes: 1, passes: 5, shared: false };
    expect(levels(layout, 14)).toBeLessThanOrEqual(MOST_ALARMS_PERCENT);
    // The same passes taken for independent, Student's t: what the lane means are for.
    const gaussian = gaussianRandom(seededRandom(14));
    let alarms = 0;
    for (let i = 0; i < TRIALS; i++) {
      const { lanes } = levelTrial(layout, gaussian);
      const [a, b] = [lanes[0].a, lanes[1].b];
      const squares = [a, b].reduce((sum, x) => sum + x.reduce((s, v) => s + (v - mean(x)) ** 2, 0), 0);
      const t = (mean(a) - mean(b)) / Math.sqrt((squares / 8) * (2 / 5));
      if (Math.abs(t) > studentQuantile(0.975, 8)) alarms++;
    }
    expect((100 * alarms) / TRIALS).toBeGreaterThan(50);
  });

  it('rarely show any false band among twelve once the family is counted', () => {
    const gaussian = gaussianRandom(seededRandom(15));
    let alone = 0;
    let counted = 0;
    for (let i = 0; i < TRIALS; i++) {
      const p = Array.from(
        { length: 12 },
        () => ratioOf(setupDifference(levelTrial({ lanes: 1, passes: 5, shared: true }, gaussian))).p,
      );
      if (p.some((one) => one < 0.05)) alone++;
      if (holm(p).some((one) => (one ?? 1) < 0.05)) counted++;
    }
    expect((100 * alone) / TRIALS).toBeGreaterThan(MOST_ALARMS_PERCENT);
    expect((100 * counted) / TRIALS).toBeLessThanOrEqual(MOST_ALARMS_PERCENT);
  });
});

describe('setups that differ', () => {
  it('by x1.5 are found on one lane with three passes each', () => {
    expect(series({ lanes: 1, passes: 3, shared: true, ratio: 1.5 }, 16)).toBeGreaterThan(88);
  });

  it('are found more often with more passes on one lane, and more often again with more lanes', () => {
    const at = (lanes: number, passes: number): number =>
      levels({ lanes, passes, shared: true, ratio: 1.2 }, 17);
    expect(at(1, 5)).toBeGreaterThan(at(1, 2) + 20);
    expect(at(5, 1)).toBeGreaterThan(at(2, 1) + 20);
  });
});
