import fs from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/numerics/index.js';
import { longestFocalMm, referenceShake } from '../../../src/surface/grades/spoken-dolly.js';
import { spokenGrade, spokenScale } from '../../../src/surface/grades/spoken.js';
import { surfaceClass } from '../../../src/surface/roughness/surface-class.js';
import { expectWithin } from '../../support/expect-within.js';

/** Rounded down, so that what is printed is allowed. */
function downToThreeDigits(value: number): number {
  const unit = 10 ** Math.max(0, Math.floor(Math.log10(value)) - 2);
  return Math.floor(value / unit) * unit;
}

const ORDER = ['glass', 'silk', 'linen', 'burlap', 'gravel', 'rubble'];

describe('the word for a floor', () => {
  it('stands in the README with the limits and focal lengths that it has', () => {
    const readme = fs.readFileSync(path.resolve(import.meta.dirname, '../../../README.md'), 'utf8');
    for (const { word, steadyUpToMm, withCropUpToMm } of spokenScale()) {
      const row = readme.split('\n').find((line) => line.startsWith(`| ${word} |`));
      const cells = row?.split('|').map((cell) => cell.trim()) ?? [];
      const printed = (mm: number | null): string => (mm === null ? '–' : `${downToThreeDigits(mm)} mm`);
      expect(cells.slice(4, 6), word).toEqual([printed(steadyUpToMm), printed(withCropUpToMm)]);
    }
  });

  it('never says another thing than the class: floors of one class have one word', () => {
    const random = seededRandom(4);
    const words = new Map<string, string>();
    for (let i = 0; i < 3000; i++) {
      const gd = 10 ** (-9.5 + 7 * random());
      const name = surfaceClass(gd).name;
      const { word } = spokenGrade(gd, false);
      expect(words.get(name) ?? word).toBe(word);
      words.set(name, word);
    }
    expect(words.get('A-7')).toBe('glass');
    expect(words.get('A-4')).toBe('glass');
    expect(words.get('A-3')).toBe('silk');
    expect(words.get('A-2')).toBe('linen');
    expect(words.get('A-1')).toBe('burlap');
    expect(words.get('A')).toBe('gravel');
    expect(words.get('B')).toBe('rubble');
    expect(words.get('D')).toBe('rubble');
  });

  it('gets worse, and allows shorter lenses, with every step of roughness', () => {
    let before = spokenGrade(1e-9, false);
    for (let gd = 1.1e-9; gd < 1e-3; gd *= 1.1) {
      const grade = spokenGrade(gd, false);
      expect(ORDER.indexOf(grade.word)).toBeGreaterThanOrEqual(ORDER.indexOf(before.word));
      expect(grade.steadyUpToMm).toBeLessThan(before.steadyUpToMm);
      expect(grade.withCropUpToMm).toBeLessThan(before.withCropUpToMm);
      before = grade;
    }
  });

  it('is "or better" when the pass says "at most"', () => {
    expect(spokenGrade(1e-6, true)).toEqual({ ...spokenGrade(1e-6, false), orBetter: true });
    expect(spokenGrade(1e-6, false).orBetter).toBe(false);
  });

  it('comes as a table whose limits are those of the classes, open at the rough end', () => {
    const scale = spokenScale();
    expect(scale.map(({ word }) => word)).toEqual(ORDER);
    expect(scale.map(({ roughestClass }) => roughestClass)).toEqual(['A-4', 'A-3', 'A-2', 'A-1', 'A', null]);
    scale.slice(0, -1).forEach(({ word, belowM3, steadyUpToMm, withCropUpToMm }, i) => {
      const limit = belowM3 ?? NaN;
      expectWithin(limit, 32e-6 / 4 ** (4 - i), { rel: 1e-12, why: 'limits of the classes' });
      expect(spokenGrade(limit * 0.999, false).word).toBe(word);
      expect(spokenGrade(limit * 1.001, false).word).toBe(ORDER[i + 1]);
      // Every floor of the word allows at least what the table says.
      expect(spokenGrade(limit * 0.999, false).steadyUpToMm).toBeGreaterThan(steadyUpToMm ?? NaN);
      expect(spokenGrade(limit * 0.999, false).withCropUpToMm).toBeGreaterThan(withCropUpToMm ?? NaN);
    });
    expect(scale[5]).toMatchObject({ belowM3: null, steadyUpToMm: null, withCropUpToMm: null });
  });

  it('refuses a roughness that is none', () => {
    expect(() => spokenGrade(0, false)).toThrow(RangeError);
  });
});

describe('the reference dolly behind the words', () => {
  it('shakes as the closed form says, but for contact and exposure', () => {
    // Pitch of waves above n1 with sin^2 taken as 1/2: n0^2 Gd 2 / (L^2 n1); own derivation.
    const closed = Math.sqrt((0.01 * 1e-6 * 2) / (0.25 * (0.8 / 0.3)));
    const part = {
      rel: 0.04,
      why: 'where the notches fall against 0.8 Hz, and 2 % behind contact and exposure',
    };
    expectWithin(referenceShake(1e-6).rmsRad, closed, part);
  });

  it('shakes twice as much on a floor of four times the roughness', () => {
    const twice = { rel: 1e-12, why: 'square root' };
    expectWithin(referenceShake(4e-6).rmsRad, 2 * referenceShake(1e-6).rmsRad, twice);
    expectWithin(referenceShake(4e-6).peakRad, 2 * referenceShake(1e-6).peakRad, twice);
  });

  it('peaks within ten seconds at between three and a half and four times its RMS', () => {
    const { rmsRad, peakRad } = referenceShake(1e-6);
    expect(peakRad / rmsRad).toBeGreaterThan(3.5);
    // 250 independent frames would reach this in 1 of 20 takes.
    expect(peakRad / rmsRad).toBeLessThan(3.87);
  });

  it('counts lenses on a 36 mm wide sensor at 1920 px', () => {
    expectWithin(longestFocalMm(1, 0.0005), 37.5, { rel: 1e-12, why: '2000 px of focal length' });
  });
});
