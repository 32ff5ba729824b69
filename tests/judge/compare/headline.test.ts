/** The headline of two setups, and the answer of many, from ratios that are made up. */
import { describe, expect, it } from 'vitest';
import { headline } from '../../../src/judge/compare/headline.js';
import { manyPairsSentence } from '../../../src/judge/compare/many-pairs.js';
import type { AxisAnswer } from '../../../src/judge/compare/axis-answer.js';
import { ratioEntry, type PairWords } from '../../../src/judge/compare/ratio-entry.js';
import { CLEAR, axisRatio, pair } from '../../report/support/made-up-comparison.js';

const WORDS: PairWords = {
  ...{ a: '"A"', b: '"B"', design: 'oneLane', claim: 'thisLane', counts: '3 passes each', places: null },
  ...{ onePassEach: false, passesFrom: 'assumed', sameClip: false },
};

const HIDDEN = { aRms: null, bRms: null, ratio: null, ci95: null, p: null, says: 'notCompared' } as const;
/** Wholly on one side, and not clear among all that was asked. */
const LEANING = { ratio: 0.4, ci95: [0.23, 0.72], p: 0.03, pHolm: 0.2, aSmoother: 0.985 } as const;
const leaning = { ...LEANING, ci95: [...LEANING.ci95] as [number, number] };

describe('the headline of two setups', () => {
  it('says nothing of an axis that was not compared', () => {
    const axes = [axisRatio('tilt', CLEAR), axisRatio('pan', HIDDEN), axisRatio('roll')];
    expect(headline(axes, WORDS, [])).toBe(
      '"A" is smoother on this lane: tilt RMS 0.80 (0.66 to 0.96) of "B", 3 passes each. No clear difference in roll.',
    );
    expect(headline([axes[0], axes[1]], WORDS, [])).not.toContain('No clear difference');
  });

  it('tells an axis that only the number of questions leaves open as leaning', () => {
    const axes = [axisRatio('tilt', CLEAR), axisRatio('pan', leaning), axisRatio('roll')];
    expect(headline(axes, WORDS, [])).toMatch(
      / No clear difference in roll\. Leaning to "A" in pan, not sure among so many\.$/,
    );
  });

  it('names the smoother side where noise hides it and leaves a bound, and keeps to what is open beside it', () => {
    const hidden = { ...HIDDEN, bRms: 0.5, says: 'aSmoother' } as const;
    const bounds = new Map([['roll', '0.024']] as const);
    expect(headline([axisRatio('roll', hidden), axisRatio('tilt', HIDDEN)], WORDS, [], bounds)).toBe(
      '"A" is smoother on this lane: roll at most 0.024 of "B", 3 passes each.',
    );
    expect(headline([axisRatio('roll', hidden), axisRatio('tilt')], WORDS, [], bounds)).toMatch(
      /^"A" is smoother on this lane: roll at most 0\.024 of "B", 3 passes each\. No clear difference in tilt\.$/,
    );
  });

  it('calls lanes lanes where something else than them differs too', () => {
    const words = { ...WORDS, claim: 'theseStretches', places: 'lane' } as const;
    expect(headline([axisRatio('tilt', CLEAR)], words, ['The speeds differ.'])).toMatch(
      / Not of the lanes alone: The speeds differ\.$/,
    );
  });
});

describe('an axis that noise hides on one side', () => {
  const answer = {
    question: { axis: 'roll', unit: 'deg' },
    ...{ aRms: null, bRms: 0.5, compared: null, untold: null },
    belowNoise: { a: 0.01, b: null, bound: 0.0236, p: 0.01 },
  } as unknown as AxisAnswer;

  it('is clear only where its bound stands up to all that was asked', () => {
    const sure = ratioEntry(answer, 'roll', 0.03, 3, WORDS);
    expect(sure.says).toBe('aSmoother');
    expect(sure.sentence).toBe(
      '"A" is smoother on this lane: its roll lies under the noise, below 0.01°, at most 0.024 of "B" (0.5°), 3 passes each.',
    );
    const open = ratioEntry(answer, 'roll', 0.06, 6, WORDS);
    expect(open.says).toBe('notCompared');
    expect(open.sentence).toMatch(/^Not compared: roll of "A" lies under the noise, below 0\.01°/);
    expect(ratioEntry(answer, 'roll', 0.03, 3, { ...WORDS, claim: 'nothing' }).says).toBe('notCompared');
  });
});

describe('the answer of many setups', () => {
  const even = (a: string, b: string) => pair({ a, b, axes: [axisRatio('tilt'), axisRatio('roll')] });
  const leaningPair = (a: string, b: string) =>
    pair({ a, b, axes: [axisRatio('tilt', leaning), axisRatio('roll')] });
  const clear = pair({ a: 'A', b: 'C' });

  it('denies a difference only where no range lies wholly on one side', () => {
    expect(manyPairsSentence([even('A', 'B'), even('A', 'C'), even('B', 'C')], 3, 'setup')).toBe(
      'No clear difference between any of the 3 setups.',
    );
    expect(manyPairsSentence([leaningPair('A', 'B'), even('A', 'C'), even('B', 'C')], 3, 'setup')).toBe(
      'No difference between the 3 setups is sure. Leaning, not sure among so many: to "A" against "B" in tilt. No clear difference in the other 2 pairs.',
    );
  });

  it('keeps what is clear, what leans and the rest apart', () => {
    expect(manyPairsSentence([leaningPair('A', 'B'), clear, even('B', 'C')], 3, 'setup')).toBe(
      `${clear.sentence} Leaning, not sure among so many: to "A" against "B" in tilt. No clear difference in the other pair.`,
    );
  });

  it('lets nothing lean to a setup that cannot be told from its floor', () => {
    const apart = { ...leaningPair('A', 'B'), claim: 'nothing' as const };
    expect(manyPairsSentence([apart, even('A', 'C'), even('B', 'C')], 3, 'lane')).toBe(
      'No clear difference between any of the 3 lanes.',
    );
  });
});
