/**
 * Floors without any cause show no peaks, with speed and wheelbase told wrong as crews tell them: 2 % and 5 mm. Simulated, two of three
 * floors smoother or rougher in the short waves than the classes have it.
 */
import { describe, expect, it } from 'vitest';
import { falseAlarms, floorPass, type FloorCase } from '../support/floor-trials.js';

const TEN_S: readonly FloorCase[] = [
  { rateHz: 25, durationS: 10, speedMps: 0.2 },
  { rateHz: 25, durationS: 10, speedMps: 0.5 },
];
const TWENTY_S: FloorCase = { rateHz: 25, durationS: 20, speedMps: 0.2 };

/** Spectra of all three axes that show a peak. */
function falsePeaks(how: FloorCase, runs: number): number {
  const { tilt, roll, vertical } = falseAlarms((seed) => floorPass(how, seed), runs);
  return tilt + roll + vertical;
}

describe('a floor without a cause', () => {
  it('shows a peak in at most 5 of 100 spectra of tilt, roll and height in 10 s', () => {
    const shown = TEN_S.reduce((sum, how) => sum + falsePeaks(how, 24), 0);
    // 5 in 100 of 144 spectra; `npm run bench:accuracy -- causes` has it near 1, with which more than 7 hardly ever come.
    expect(shown).toBeLessThanOrEqual(7);
  }, 60_000);

  it('shows one in at most 10 of 100 in 20 s', () => {
    // 10 in 100 of 36 spectra.
    expect(falsePeaks(TWENTY_S, 12)).toBeLessThanOrEqual(3);
  }, 60_000);
});
