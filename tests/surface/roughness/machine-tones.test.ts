import { describe, expect, it } from 'vitest';
import { rms } from '../../../src/numerics/index.js';
import { machineTones, withTones, withoutTones } from '../../../src/surface/roughness/machine-tones.js';
import type { MachineLine } from '../../../src/surface/roughness/machine-lines.js';
import { fitPass } from '../../../src/surface/roughness/pass-fit.js';
import { readPass } from '../../../src/surface/deck/pass.js';
import { rolledDeck, type RolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpPass, madeUpRig, type PassOptions } from '../support/made-up-pass.js';

const SMOOTH: PassOptions = { seed: 1, gdM3: 6e-8, speedMps: 0.2, durationS: 16 };
const RAD_PER_MDEG = Math.PI / 180e3;

function deckOf(options: PassOptions): RolledDeck {
  const motion = madeUpPass(options);
  return rolledDeck(readPass(motion, madeUpRig(0.2)).pass!, motion);
}

function pitchLines(...freqHz: number[]): MachineLine[] {
  return freqHz.map((hz) => ({ channel: 'pitch', freqHz: hz }));
}

describe('tones of machines', () => {
  const still = deckOf(SMOOTH);
  const humming = deckOf({ ...SMOOTH, line: { rmsMdeg: 5, freqHz: 7.31 } });
  const quiet = withoutTones(humming, fitPass(humming));

  it('go out of the series they are in and leave the floor', () => {
    const rest = quiet.deck.pitchRad!.values.map((value, i) => value - still.pitchRad!.values[i]);
    const hum = humming.pitchRad!.values.map((value, i) => value - still.pitchRad!.values[i]);
    expectWithin(rms(hum) / RAD_PER_MDEG, 5, { rel: 0.01, why: 'as made' });
    // Eight numbers of 400 are fitted to 1 mdeg of noise and 1.4 of floor: 0.25 mdeg.
    expect(rms(rest) / RAD_PER_MDEG).toBeLessThan(0.5);
    expect(quiet.deck.rollRad).toBe(humming.rollRad);
    expect(quiet.deck.heaveM).toBe(humming.heaveM);
  });

  it('come back as they were', () => {
    const loud = withTones(quiet.deck, quiet);
    const off = loud.pitchRad!.values.map((value, i) => value - humming.pitchRad!.values[i]);
    expect(rms(off)).toBeLessThan(1e-15);
  });

  it('are none on a pass without lines, which comes back itself', () => {
    expect(withoutTones(still, fitPass(still)).deck).toBe(still);
  });

  it('are told from a row of kicks, which makes lines at many multiples of one frequency', () => {
    const kicks = pitchLines(1.34, 2, 2.68, 3.33, 4.01, 6.67);
    expect(machineTones(kicks, 0.05)).toEqual([]);
    expect(machineTones([...kicks, ...pitchLines(7.05)], 0.05)).toEqual(pitchLines(7.05));
    const motor = pitchLines(3.65, 7.3, 10.95);
    expect(machineTones(motor, 0.05)).toEqual(motor);
  });
});
