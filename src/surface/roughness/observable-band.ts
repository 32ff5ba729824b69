/**
 * Which floor wavelengths a pass can show at all, in metres, from speed, frame rate, shutter, contact and noise.
 */
import type { DollySize } from '../deck/deck-transfer.js';
import { REFERENCE_WAVENUMBER } from './road-profile.js';

/** What bounds the band from the pass itself. */
export interface BandInputs {
  readonly speedMps: number;
  readonly rateHz: number;
  readonly exposureS: number;
  readonly cutoffHz: number;
}

/** Longest wavelength: one period of the lower band limit at this speed, metres. */
export function longestWavelengthM({ speedMps, cutoffHz }: BandInputs): number {
  return speedMps / cutoffHz;
}

/**
 * Shortest wavelength in metres: two frames' way, the blur of an exposure (2.2 v te), and the contact of the wheel,
 * whichever is longest.
 */
export function shortestWavelengthM(
  { speedMps, rateHz, exposureS }: BandInputs,
  contactCyclesPerM: number,
): number {
  return Math.max((2 * speedMps) / rateHz, 2.2 * speedMps * exposureS, 1 / contactCyclesPerM);
}

/** What tells floor from noise: levels of the floor, m^3, and noise of each series per frame; null for what is not measured. */
export interface Drowning {
  readonly meanTrackM3: number | null;
  readonly differenceM3: number | null;
  readonly pitchSdRad: number | null;
  readonly heaveSdM: number | null;
  readonly rollSdRad: number | null;
}

/**
 * Wavelength in metres below which a floor drowns in the noise: where the part of a wave that stays unknown reaches half of its
 * power. Of the mean track from pitch and heave, without them of the difference of the tracks from roll. Gains are averaged over
 * the notches: |T_p|^2 = 2 / L^2, |T_u|^2 = 1/2, |T_q|^2 = 1 / (2 B^2).
 */
export function noiseWavelengthM(
  { speedMps, rateHz }: BandInputs,
  { wheelbaseM, trackWidthM }: DollySize,
  { meanTrackM3, differenceM3, pitchSdRad, heaveSdM, rollSdRad }: Drowning,
): number {
  const seen = (gain: number, sd: number | null): number =>
    sd === null ? 0 : gain / ((2 * sd ** 2 * speedMps) / rateHz);
  const power =
    meanTrackM3 !== null
      ? meanTrackM3 * (seen(2 / wheelbaseM ** 2, pitchSdRad) + seen(0.5, heaveSdM))
      : (differenceM3 ?? 0) * seen(0.5 / (trackWidthM ?? Infinity) ** 2, rollSdRad);
  return 1 / (REFERENCE_WAVENUMBER * Math.sqrt(power));
}
