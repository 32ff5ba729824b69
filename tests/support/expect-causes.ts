/** What must hold of a filmed pass of known causes. */
import { expect } from 'vitest';
import { isNamedAfter, type CauseAccuracy } from './cause-accuracy.js';
import { expectWithin } from './expect-within.js';

/** No wrong name, the right one for each cause at its frequency, and a suggested speed that is the true one. */
export function expectCauses({ spectrum, truth, wrong, lacking, trueSpeedMps }: CauseAccuracy): void {
  expect(
    wrong.map(({ cause, freqHz }) => `${cause} at ${freqHz.toFixed(2)} Hz`),
    'wrong names',
  ).toEqual([]);
  expect(
    lacking.map(({ cause, freqHz }) => `${cause} at ${freqHz.toFixed(2)} Hz`),
    'causes without their name',
  ).toEqual([]);
  const { suggestedSpeed, sources } = spectrum;
  if (suggestedSpeed && suggestedSpeed.confidence > 0.9)
    expectWithin(suggestedSpeed.mps / trueSpeedMps, 1, {
      abs: 0.006,
      why: 'half the simulated passes at 0.2 m/s and more are better than that; a film of one strong cause is',
    });
  // Beyond half the frame rate: seen where it folds to, told and heard where it is.
  for (const machine of truth.filter(({ cause }) => cause === 'machine')) {
    const source = sources.find((one) => isNamedAfter(one, machine));
    expectWithin(source!.freqHz, machine.seenHz, { abs: 0.02, why: 'a fifth of the resolution of 10 s' });
    expectWithin(source!.sound!.trueHz, machine.freqHz, {
      abs: 0.02,
      why: 'a fifth of the resolution of 10 s',
    });
  }
}
