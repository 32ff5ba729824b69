/** How well a profile holds a floor wave of one length, foretold from levels and noise, and which waves it cannot hold; metres. */
import { figure } from '../../run/index.js';
import { flatnessTexts } from '../../texts/index.js';
import { deckPowerGain, type DeckChannel } from '../deck/deck-transfer.js';
import type { NoisySeries } from '../deck/lens-path.js';
import type { RolledDeck } from '../deck/rolled-deck.js';
import { displacementPsd } from '../roughness/road-profile.js';
import { frameStepM } from './stretches.js';
import type { FloorLevels } from './types.js';

/**
 * Error over size of a wave of the mean track, 0 (known exactly) .. 1 (drowned): sqrt(E / G) with
 * E = 1 / (1 / G + |T_p|^2 / N_p + |T_u|^2 / N_u), G the floor's density at that wave, T the gains of pitch and heave, N = 2 sigma^2
 * v / rate their noise. Above sqrt(1/2) more of the wave is unknown than known.
 *
 * For planning a pass, not for a result: the formula takes the run as endless and frames as dense, and is a lower bound. In
 * simulated passes the true error was 1.0 to 1.9 times as large where it is above 0.1, and more below that, since waves shorter than
 * two frames' way fold in like noise; on smooth floors it is near the truth. `SurfaceProfile.sdM` knows all that. Waves outside the
 * band of the pass (`observable-band.ts`) are not shown at all, whatever this says. Own derivation.
 *
 * @param wavelengthM > 0; on a notch of one series (pitch at L / k, heave at L / (k - 1/2)) the other alone counts
 * @returns null when neither pitch nor heave, or no level of the mean track, is known
 */
export function relativeErrorOfWave(
  deck: RolledDeck,
  { meanTrackM3 }: FloorLevels,
  wavelengthM: number,
): number | null {
  const { pitchRad, heaveM, wheelbaseM, trackWidthM, frontAheadM } = deck;
  if (meanTrackM3 === null || (pitchRad === null && heaveM === null)) return null;
  const cyclesPerM = 1 / wavelengthM;
  const seen = (channel: DeckChannel, series: NoisySeries | null): number => {
    if (series === null) return 0;
    const gain = deckPowerGain(channel, cyclesPerM, { wheelbaseM, trackWidthM }, frontAheadM / wheelbaseM);
    return gain / (2 * series.noiseSd ** 2 * frameStepM(deck));
  };
  const density = displacementPsd(meanTrackM3, cyclesPerM);
  return 1 / Math.sqrt(1 + density * (seen('pitch', pitchRad) + seen('heave', heaveM)));
}

/**
 * The sentence that belongs beside every profile.
 *
 * @param wavelengthsM shortest and longest wavelength that the pass shows
 * @example wavesNotInProfile([0.022, 0.25]) // "Waves shorter than 22 mm and longer than 250 mm are not in this profile."
 */
export function wavesNotInProfile([shortestM, longestM]: readonly [number, number]): string {
  return flatnessTexts.wavesNotInProfile(figure(1000 * shortestM), figure(1000 * longestM));
}
