import { describe, expect, it } from 'vitest';
import { readPass } from '../../../src/surface/deck/pass.js';
import { rolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import {
  machineShakeRad,
  withNoiseOf,
  withShakeAsNoise,
} from '../../../src/surface/roughness/machine-shake.js';
import { fitPass } from '../../../src/surface/roughness/pass-fit.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpPass, madeUpRig, type PassOptions } from '../support/made-up-pass.js';

const MDEG = Math.PI / 180e3;

function deckOf(options: PassOptions) {
  const motion = madeUpPass(options);
  return rolledDeck(readPass(motion, madeUpRig(options.speedMps ?? 0.2)).pass!, motion);
}

describe('shake of a machine in the pitch', () => {
  it('is read where a floor makes none', () => {
    for (const speedMps of [0.2, 0.5]) {
      const shaken = fitPass(deckOf({ seed: 1, gdM3: 1e-6, speedMps, shakeMdeg: 10 }));
      // The floor that was fitted takes a part of the shake for its own.
      expectWithin(machineShakeRad(shaken) / MDEG, 10, {
        rel: 0.2,
        why: 'own trials: 7.9 to 8.8 in the notches',
      });
    }
  });

  it('is next to nothing, the noise of the measurement and less, on a floor without machines', () => {
    for (const speedMps of [0.2, 0.5])
      expect(machineShakeRad(fitPass(deckOf({ seed: 1, gdM3: 1e-6, speedMps })))).toBeLessThan(1.2 * MDEG);
  });

  it('adds to the noise of the pitch by its square, and is taken off again', () => {
    const deck = deckOf({ seed: 1, gdM3: 1e-6, durationS: 6 });
    const shaken = withShakeAsNoise(deck, 10 * MDEG);
    expectWithin(shaken.pitchRad!.noiseSd, Math.hypot(10 * MDEG, deck.pitchRad!.noiseSd), { rel: 1e-12 });
    expect(shaken.pitchRad!.values).toBe(deck.pitchRad!.values);
    expect(withNoiseOf(shaken, deck)).toEqual(deck);
    expect(withShakeAsNoise(deck, 0)).toBe(deck);
    expect(withShakeAsNoise({ ...deck, pitchRad: null }, 1).pitchRad).toBeNull();
  });
});
