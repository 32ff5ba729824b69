/** What is asked stands beside what was measured: words and figures of an answer, and none where nothing is different. */
import { describe, expect, it } from 'vitest';
import { LiveAsker } from '../../../../src/judge/index.js';
import { glued, headline, keyFigures } from '../../../../src/report/in-browser.js';
import { askedWords, figurePairs, measuredWords } from '../../../../src/web/page/run/as-asked.js';
import { rolledPass } from '../../../judge/advice/support/rolled-pass.js';
import { filesOf } from '../../../judge/what-if/support/rolled-run.js';

const pass = rolledPass({ seed: 3, durationS: 6 });
const { run } = filesOf(pass);
const asker = new LiveAsker(pass, { verdict: run.verdict });

describe('a run with something asked of it', () => {
  it('says the verdict of the run word for word while nothing is asked', () => {
    const { word, sentence } = headline(run);
    expect(measuredWords(run)).toEqual({ word, sentence: glued(sentence), grade: run.verdict.grade });
    expect(askedWords(run, null)).toBeNull();
    expect(askedWords(run, asker.answer({}))).toBeNull();
    expect(figurePairs(run, asker.answer({})).every(({ asked }) => asked === null)).toBe(true);
  });

  it('has the figures of the report, with the shake left after the crop', () => {
    const names = figurePairs(run, null).map(({ measured }) => measured.name);
    const [crop, ...others] = keyFigures(run).map(({ name }) => name);
    expect(names).toEqual([crop, 'Shake left', ...others]);
  });

  it('tells the verdict on a longer lens with that lens, and what crop and shake left were', () => {
    const answer = asker.answer({ focalLengthMm: 85 });
    const words = askedWords(run, answer);
    expect(words?.grade).toBe(answer.grade);
    expect(words?.sentence).toContain(glued('85 mm'));
    const [crop, left, ...others] = figurePairs(run, answer);
    expect(Number(crop.asked?.value)).toBeGreaterThan(Number(crop.measured.value));
    expect(Number(left.asked?.value)).toBeGreaterThan(Number(left.measured.value));
    // What was measured of the shake stays, whatever is asked.
    expect(others.map(({ asked }) => asked)).toEqual(others.map(() => null));
  });

  it('tells the limits of another delivery beside its figures', () => {
    const answer = asker.answer({ delivery: { maxCropPercent: 1.25 } });
    expect(figurePairs(run, answer)[0].asked?.remark).toContain(glued('limit 1.25 %'));
  });

  it('leaves the run as it is where a question is refused', () => {
    const refused = { ...asker.answer({ focalLengthMm: 85 }), refused: 'It cannot be told.' };
    expect(askedWords(run, refused)).toBeNull();
    expect(figurePairs(run, refused).every(({ asked }) => asked === null)).toBe(true);
  });

  it('writes lengths in the units of the run', () => {
    const imperial = { ...run, units: 'imperial' as const };
    expect(measuredWords(imperial).sentence).not.toMatch(/\d\sm\/s/);
  });
});
