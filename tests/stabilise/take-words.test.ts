import { describe, expect, it } from 'vitest';
import { againSentence, hitsSentence, takeSentence } from '../../src/stabilise/index.js';
import type { LongerTake } from '../../src/stabilise/index.js';

const take: LongerTake = {
  takeS: 60,
  chanceExceeds: 6 / 7,
  medianPercent: 3.678,
  upper95Percent: 5.97,
  atLeast: false,
  refused: null,
  unseenHitsAtMost: 18,
};
const chance = '86 in 100 such takes need more than the test of 10 s did.';
const sentence = (more: Partial<LongerTake>, testPercent = 3.14): string =>
  takeSentence(10, testPercent, { ...take, ...more });

describe('the sentence on a longer take', () => {
  it('names test, typical value, bound and chance, in digits that can be meant', () => {
    expect(sentence({})).toBe(
      `The test needed 3.1 %; a 60 s take about 3.7 %, 19 in 20 below 6 %. ${chance}`,
    );
    expect(sentence({ takeS: 45, medianPercent: 12.4, upper95Percent: 19.2 }, 10.6)).toBe(
      `The test needed 10.6 %; a 45 s take about 12.4 %, 19 in 20 below 19.2 %. ${chance}`,
    );
  });

  it('rounds a bound up, so that it still holds', () => {
    expect(sentence({ upper95Percent: 6.01 })).toContain('19 in 20 below 6.1 %');
    expect(sentence({ upper95Percent: 10.01 })).toContain('19 in 20 below 10.1 %');
    expect(sentence({ medianPercent: 0.0312, upper95Percent: 0.0421 })).toContain(
      'about 0.031 %, 19 in 20 below 0.043 %',
    );
    expect(sentence({ upper95Percent: 3 * 1.4 })).toContain('below 4.2 %');
  });

  it('calls a bound where hits are rare "at least"', () => {
    expect(sentence({ atLeast: true })).toBe(
      `The test needed 3.1 %; a 60 s take about 3.7 %, allow at least 6 % for 19 in 20, since the test holds few hits. ${chance}`,
    );
  });

  it('says why there is no bound, and where nothing can be said', () => {
    const refused = { code: 'shortTest', why: 'the test is shorter than 5 s' } as const;
    expect(sentence({ upper95Percent: null, refused })).toBe(
      `The test needed 3.1 %; a 60 s take about 3.7 %; no bound, because the test is shorter than 5 s. ${chance}`,
    );
    expect(sentence({ medianPercent: null, upper95Percent: null, refused })).toBe(
      `The test needed 3.1 %; nothing can be said of a 60 s take, because the test is shorter than 5 s. ${chance}`,
    );
    expect(sentence({ medianPercent: null })).toContain('; a 60 s take: 19 in 20 below 6 %.');
  });

  it('says where more than half of the picture would be lost', () => {
    expect(sentence({}, 51)).toBe(
      'The test needed 51 %, more than half of the picture: not usable, and a longer take no better.',
    );
    expect(sentence({ medianPercent: 55, upper95Percent: 90 }, 40)).toContain(
      'a 60 s take more than half of the picture: not usable.',
    );
    expect(sentence({ medianPercent: 40, upper95Percent: 90, atLeast: true }, 30)).toContain(
      'a 60 s take about 40 %, more than 1 in 20 over half of the picture: not usable.',
    );
    expect(sentence({ upper95Percent: 50 })).toContain('19 in 20 below 50 %');
  });
});

describe('the sentence on the same stretch again', () => {
  const again = { medianPercent: 3.14, upper95Percent: 4.239, longer: [take] };

  it('stands for a repeat, and for a take that goes on beyond it', () => {
    expect(againSentence(again)).toBe('The same stretch again needs about 3.1 %, 19 in 20 below 4.3 %.');
    expect(againSentence(again, take)).toBe(
      'Over the stretch of the test and on: a 60 s take about 3.7 %, 19 in 20 below 6 %.',
    );
    expect(againSentence({ ...again, medianPercent: 60, upper95Percent: 81 })).toBe(
      'The same stretch again needs more than half of the picture: not usable.',
    );
  });
});

describe('the sentence on hits', () => {
  it('counts those seen, or bounds those that were not', () => {
    expect(hitsSentence({ seen: 0 }, take)).toBe(
      'No hit was seen in the test; up to 18 may come in a 60 s take, and how hard is not known.',
    );
    expect(hitsSentence({ seen: 1 }, take)).toMatch(/^1 hit \(a joint, .*\) was seen in the test/);
    expect(hitsSentence({ seen: 4 }, take)).toMatch(/^4 hits \(joints, .*\) were seen in the test/);
  });
});
