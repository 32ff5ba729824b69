/**
 * Which floor wavelengths a pass can show at all, in metres, from speed, frame rate, shutter, contact and noise.
 */
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

/**
 * Wavelength in metres below which a mean track of level `meanTrackM3` drowns in the noise of pitch and heave: where the part of
 * a wave that stays unknown reaches half of its power. Gains are averaged over the notches, |T_p|^2 = 2 / L^2, |T_u|^2 = 1/2.
 *
 * @param heaveSdM null when heave is not measured
 */
export function noiseWavelengthM(
  { speedMps, rateHz }: BandInputs,
  meanTrackM3: number,
  wheelbaseM: number,
  pitchSdRad: number,
  heaveSdM: number | null,
): number {
  const density = (sd: number): number => (2 * sd ** 2 * speedMps) / rateHz;
  const pitch = 2 / wheelbaseM ** 2 / density(pitchSdRad);
  const heave = heaveSdM === null ? 0 : 0.5 / density(heaveSdM);
  return 1 / (REFERENCE_WAVENUMBER * Math.sqrt(meanTrackM3 * (pitch + heave)));
}
