/**
 * How much a machine shakes the deck in pitch beside what the floor does, radians RMS per frame, and the deck with that as noise: joints
 * and bumps are then looked for above it.
 *
 * In the notches of the wheelbase a floor makes no pitch, so what is there beyond the floor and the noise that were fitted is shake of
 * another kind. It is taken as equal at all frequencies. Own method.
 */
import { median } from '../../numerics/index.js';
import type { RolledDeck } from '../deck/rolled-deck.js';
import { fittedSpectrum } from './floor-fit.js';
import { isInNotch } from './machine-alarm.js';
import type { FittedPass } from './pass-fit.js';

/** Notches are narrow, and the floor's own power beside them hides a part of the shake. */
const HIDDEN = 1.2;

/** White shake in pitch beside floor and noise, radians RMS; 0 without pitch or without notches in the band. */
export function machineShakeRad(pass: FittedPass): number {
  const pitch = pass.channels.find(({ channel }) => channel === 'pitch');
  if (pitch === undefined) return 0;
  const expected = fittedSpectrum(pitch, pass.table, pass.masked.fit);
  const notch = Array.from(pass.freqHz.keys()).filter(
    (i) => pass.band[i] === 1 && isInNotch(pass, pass.freqHz[i]),
  );
  if (notch.length === 0) return 0;
  const beyond = median(Float64Array.from(notch, (i) => pitch.psd[i] - expected[i]));
  return HIDDEN * Math.sqrt((Math.max(0, beyond) * pass.settings.rateHz) / 2);
}

/** The deck with so much more noise in its pitch; the same deck for none. */
export function withShakeAsNoise(deck: RolledDeck, shakeRad: number): RolledDeck {
  const { pitchRad } = deck;
  if (pitchRad === null || shakeRad === 0) return deck;
  const { noiseSd, leastNoiseSd } = pitchRad;
  return {
    ...deck,
    pitchRad: {
      ...pitchRad,
      noiseSd: Math.hypot(noiseSd, shakeRad),
      leastNoiseSd: Math.hypot(leastNoiseSd, shakeRad),
    },
  };
}

/** The deck with the noise of another in its pitch. */
export function withNoiseOf(deck: RolledDeck, { pitchRad: other }: RolledDeck): RolledDeck {
  const { pitchRad } = deck;
  if (pitchRad === null || other === null) return deck;
  return { ...deck, pitchRad: { ...pitchRad, noiseSd: other.noiseSd, leastNoiseSd: other.leastNoiseSd } };
}
