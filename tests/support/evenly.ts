/** Numbers for properties of physical quantities. */
import fc from 'fast-check';

const STEPS = 2 ** 30;

/**
 * Numbers that lie evenly between two ends, with the ends themselves and nought among them. `fc.double` takes every number that a double
 * can be for as likely as any other: nearly all of its angles up to 0.05 are next to nothing or next to 0.05, and hardly ever are there two
 * at once that count.
 */
export function evenly(least: number, most: number): fc.Arbitrary<number> {
  const within = fc
    .noBias(fc.integer({ min: 0, max: STEPS }))
    .map((step) => least + ((most - least) * step) / STEPS);
  const ends = least < 0 && most > 0 ? [least, 0, most] : [least, most];
  return fc.oneof({ weight: 20, arbitrary: within }, { weight: 1, arbitrary: fc.constantFrom(...ends) });
}

/** The same on a scale of ratios: as many between 1 and 10 as between 10 and 100. Both ends are positive. */
export function evenlyByRatio(least: number, most: number): fc.Arbitrary<number> {
  return evenly(Math.log(least), Math.log(most)).map((log) => Math.min(most, Math.max(least, Math.exp(log))));
}
