import { describe, expect, it } from 'vitest';
import type { PassOptions } from '../support/made-up-pass.js';
import { falsePerTenMetres, gradedPass, share } from './graded-pass.js';

const FLOORS = [
  { gdM3: 1e-6, speedMps: 0.2 },
  { gdM3: 1e-6, speedMps: 0.5 },
  { gdM3: 6e-8, speedMps: 0.2 },
  { gdM3: 6e-8, speedMps: 0.5 },
] as const;

/** At odd distances, so that they make no row. */
const STEPS: NonNullable<PassOptions['steps']> = [
  { atM: 0.7, heightM: 0.5e-3, side: 'both' },
  { atM: 1.25, heightM: -1e-3, side: 'left' },
  { atM: 2.05, heightM: 1e-3, side: 'right' },
  { atM: 2.57, heightM: -0.5e-3, side: 'both' },
  { atM: 3.36, heightM: 0.5e-3, side: 'left' },
  { atM: 3.84, heightM: -0.5e-3, side: 'right' },
];
const BUMPS: NonNullable<PassOptions['bumps']> = [
  { atM: 0.8, heightM: 0.5e-3, lengthM: 0.04, side: 'both' },
  { atM: 1.4, heightM: 1e-3, lengthM: 0.1, side: 'left' },
  { atM: 2.1, heightM: 0.5e-3, lengthM: 0.1, side: 'right' },
  { atM: 2.8, heightM: -0.5e-3, lengthM: 0.1, side: 'both' },
  { atM: 3.4, heightM: 0.3e-3, lengthM: 0.04, side: 'both' },
];

const stepped = FLOORS.map((floor, i) => gradedPass({ ...floor, seed: 21 + i, steps: STEPS }));
const bumpy = [FLOORS[0], FLOORS[3]].map((floor, i) => gradedPass({ ...floor, seed: 31 + i, bumps: BUMPS }));

/** Share of single steps and bumps that must be listed. */
const LISTED = 0.85;
/** A wheel of 40 mm radius climbs a step of 1 mm over 9 mm, and a step down as long behind it; 1 mm for the search. */
const PLACE_M = 0.01;

/** False lines in ten metres. A bump is never quite of the shape that is fitted, and on the smoothest floors what is left shows. */
const STEPS_FALSE = 1.5;
const BUMPS_FALSE = 4;

describe.each([
  { what: 'steps of half a millimetre and more', passes: stepped, mostFalse: STEPS_FALSE },
  { what: 'bumps and hollows of a third of a millimetre and more', passes: bumpy, mostFalse: BUMPS_FALSE },
])('single $what', ({ passes, mostFalse }) => {
  const laid = passes.flatMap(({ singles }) => singles);
  const listed = laid.filter((single) => single.listed !== null);

  it('are listed, 85 of 100, also under one wheel line alone', () => {
    expect(share(laid, (single) => single.listed !== null)).toBeGreaterThanOrEqual(LISTED);
  });

  it('stand where the wheels met them', () => {
    for (const { atM, listed: line } of listed) expect(Math.abs(line!.atM - atM)).toBeLessThan(PLACE_M);
  });

  it('are told under the wheel line that they lie on', () => {
    expect(share(listed, ({ side, listed: line }) => line!.wheelLine === side)).toBeGreaterThanOrEqual(0.9);
  });

  it('have the height that was laid, nineteen times of twenty within what is said of it', () => {
    const within = share(
      listed,
      ({ meanHeightM, listed: line }) => Math.abs(line!.heightM - meanHeightM) <= 1.96 * line!.heightSdM,
    );
    expect(within).toBeGreaterThanOrEqual(0.93);
  });

  it('leave the class of the floor between them as it is', () => {
    for (const { name, lnError, grade } of passes)
      expect(Math.abs(lnError), name).toBeLessThan(Math.max(0.35, 1.96 * grade.sdLn));
    expect(share(passes, ({ classRight }) => classRight)).toBeGreaterThanOrEqual(0.75);
  });

  it('make neither a row of joints nor a list of what is not there', () => {
    expect(passes.filter(({ detail }) => detail.row !== null).map(({ name }) => name)).toEqual([]);
    expect(falsePerTenMetres(passes)).toBeLessThanOrEqual(mostFalse);
  });
});
