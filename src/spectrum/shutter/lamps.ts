/** Lamps on the mains: at which frequencies they flicker, and where frames show that, in hertz. */
import { aliasedFrequencyHz, exposureGain } from '../../optics/index.js';

/** Frequencies of mains, Hz. */
export type MainsHz = 50 | 60;

/** How far the mains may be off, as a share: wide grids keep within a tenth of that, sets of their own rarely hold more. */
export const MAINS_TOLERANCE = 0.002;

/** How far a given exposure time may be off, as a share: shutters are set in steps. */
const EXPOSURE_TOLERANCE = 0.03;

/** A frequency at which lamps may flicker, and how frames show it. */
export interface Lamp {
  readonly lampHz: number;
  /** 0 .. rate / 2. */
  readonly seenHz: number;
  /** -1 where frames show the flicker run backwards (they are a little too slow for it), else 1. */
  readonly direction: -1 | 1;
  /** How far from `seenHz` it may lie, as the mains may be off. */
  readonly toleranceHz: number;
}

/**
 * Where frames show lamps on the mains: at twice the mains frequency, and at the mains frequency itself (a lamp that takes only
 * one half of the wave). Twice the mains comes first: where two fall together, it is the likelier.
 *
 * The light of a lamp follows the power, the square of a sine, so it has twice the frequency of the mains. Frequencies of
 * electronic dimmers (kHz) are not in the list: frames fold them to anywhere.
 *
 * @param rateHz frames per second as the camera took them
 * @param mainsHz both 50 and 60 Hz when not known
 */
export function lampsOnMains(rateHz: number, mainsHz: MainsHz | null): Lamp[] {
  const mains = mainsHz === null ? [50, 60] : [mainsHz];
  return [2, 1].flatMap((multiple) =>
    mains.map((hz): Lamp => {
      const lampHz = multiple * hz;
      const beats = Math.round(lampHz / rateHz);
      return {
        lampHz,
        seenHz: aliasedFrequencyHz(lampHz, rateHz),
        direction: lampHz < beats * rateHz ? -1 : 1,
        toleranceHz: MAINS_TOLERANCE * lampHz,
      };
    }),
  );
}

/**
 * Largest relative change of light that an exposure lets through of a lamp that goes fully dark: its gain, where the exposure time
 * may be a little off; 1 when it is not known.
 */
export function largestDepth(lampHz: number, exposureS: number | null): number {
  if (exposureS === null) return 1;
  const at = [1 - EXPOSURE_TOLERANCE, 1, 1 + EXPOSURE_TOLERANCE];
  return Math.max(...at.map((share) => exposureGain(lampHz, exposureS * share)));
}
