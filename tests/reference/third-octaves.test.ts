/**
 * One-third-octave bands: IEC 61260-1:2014, base ten (exact centres and edges 10^(k/10) and 10^((k +- 1/2)/10), as computed in
 * worked.json, case third-octave-bands; centres 630.96, 794.33, 1000, 1258.9, 1584.9 as read in public discussions of the standard), and
 * nominal names as ISO 266 has them (from memory, seen with the former).
 */
import { describe, expect, it } from 'vitest';
import { thirdOctaveBand, thirdOctavesBetween } from '../../src/spectrum/estimate/third-octave-bands.js';
import { expectWithin } from '../support/expect-within.js';
import { workedCase } from '../support/worked-case.js';

interface Band {
  readonly k: number;
  readonly nominal: string;
  readonly exact: number;
  readonly lower: number;
  readonly upper: number;
}

const { expected } = workedCase<Band[]>('third-octave-bands');
const DIGITS = { rel: 1e-7, why: 'eight digits are stored' };

describe('one-third-octave bands', () => {
  it.each(expected)(
    'band $k: $nominal Hz with exact centre and edges',
    ({ k, nominal, exact, lower, upper }) => {
      const band = thirdOctaveBand(k);
      expect(band.label).toBe(String(Number(nominal)));
      expectWithin(band.centreHz, exact, DIGITS);
      expectWithin(band.fromHz, lower, DIGITS);
      expectWithin(band.toHz, upper, DIGITS);
    },
  );

  it.each([
    [28, 630.96],
    [29, 794.33],
    [30, 1000],
    [31, 1258.9],
    [32, 1584.9],
  ])('band %i has its centre at %f Hz, base ten and not base two', (k, centreHz) => {
    expectWithin(thirdOctaveBand(k).centreHz, centreHz, { rel: 5e-5, why: 'digits as printed' });
  });

  it('have a width of 0.230768 of their centre, ten of them a decade', () => {
    const { fromHz, toHz, centreHz } = thirdOctaveBand(7);
    expectWithin((toHz - fromHz) / centreHz, 0.230768, { abs: 1e-6, why: 'digits as stored' });
    expect(thirdOctavesBetween(thirdOctaveBand(0).fromHz, thirdOctaveBand(9).toHz)).toHaveLength(10);
  });
});
