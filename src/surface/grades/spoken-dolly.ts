/**
 * Tilt shake in radians of a reference dolly and camera on a floor of a given Gd(n0), m^3: what the spoken grades are tied to.
 *
 * The dolly: wheelbase 0.5 m, hard wheels, 0.3 m/s. The camera looks ahead on a locked head, 25 frames/s at 180 degrees of shutter,
 * 1920 x 1080 px on a 36 mm wide sensor. Vibration is what is faster than 0.8 Hz. Both wheel tracks are taken as alike, the worst case.
 */
import { exposureGain } from '../../optics/index.js';
import { contactPowerGain, deckPowerGain } from '../deck/deck-transfer.js';
import { displacementPsd } from '../roughness/road-profile.js';

/** The reference that the spoken grades are stated for. */
export const REFERENCE_DOLLY = {
  wheelbaseM: 0.5,
  speedMps: 0.3,
  /** Half-power wavenumber of a hard wheel's contact. */
  contactCyclesPerM: 120,
  rateHz: 25,
  exposureS: 0.02,
  cutoffHz: 0.8,
  widthPx: 1920,
  heightPx: 1080,
  sensorWidthMm: 36,
  takeS: 10,
  cropPercent: 5,
} as const;

/** Raw shake that counts as steady, px RMS. */
export const STEADY_PX = 1;

/** Room that a centred crop leaves above and below, px. */
export const CROP_MARGIN_PX = (REFERENCE_DOLLY.heightPx * REFERENCE_DOLLY.cropPercent) / 100 / 2;

/** Share of takes whose largest tilt stays within the peak. */
const TAKES_COVERED = 0.95;

/** Midpoint rule over wavenumbers, cycles/m: far past the contact's cut, steps far below the notches' 1 / wheelbase. */
const HIGHEST = 500;
const STEP = 0.005;

/** Tilt of the reference camera, radians. */
export interface ReferenceShake {
  readonly rmsRad: number;
  /** Largest in a take of 10 s, that 19 takes of 20 stay within. */
  readonly peakRad: number;
}

let onUnitFloor: ReferenceShake | null = null;

/**
 * Tilt shake of the reference camera on a floor of w = 2; it grows as the square root of the roughness.
 *
 * The integral of density times gains of deck, contact and exposure, as the fit of a pass uses them, over all waves that pass faster
 * than 0.8 Hz; what lies beyond half the frame rate is folded, so it counts as well. Peaks are those of a normal series of the same
 * correlation between frames: it crosses zero upwards fps acos(rho) / (2 pi) times a second, and Rice's count of crossings gives the
 * peak (Rice 1945, known from memory). Own derivation otherwise.
 *
 * @param gdM3 single-track Gd(n0), m^3
 * @example referenceShake(2e-6).rmsRad // 0.000251
 */
export function referenceShake(gdM3: number): ReferenceShake {
  onUnitFloor ??= unitShake();
  const scale = Math.sqrt(gdM3);
  return { rmsRad: onUnitFloor.rmsRad * scale, peakRad: onUnitFloor.peakRad * scale };
}

/**
 * The longest focal length in mm at which an angle stays within so many px on the reference camera.
 * @example longestFocalMm(1, 0.0005) // 37.5
 */
export function longestFocalMm(shiftPx: number, angleRad: number): number {
  return ((shiftPx / angleRad) * REFERENCE_DOLLY.sensorWidthMm) / REFERENCE_DOLLY.widthPx;
}

function unitShake(): ReferenceShake {
  const { wheelbaseM, speedMps, contactCyclesPerM, rateHz, exposureS, cutoffHz, takeS } = REFERENCE_DOLLY;
  const dolly = { wheelbaseM, trackWidthM: null };
  const lowest = cutoffHz / speedMps;
  let power = 0;
  let alike = 0;
  const steps = Math.round((HIGHEST - lowest) / STEP);
  for (let i = 0; i < steps; i++) {
    const n = lowest + (i + 0.5) * STEP;
    const share =
      displacementPsd(1, n) *
      deckPowerGain('pitch', n, dolly) *
      contactPowerGain(n, contactCyclesPerM) *
      exposureGain(n * speedMps, exposureS) ** 2 *
      STEP;
    power += share;
    alike += share * Math.cos((2 * Math.PI * n * speedMps) / rateHz);
  }
  const rmsRad = Math.sqrt(power);
  const crossings = (takeS * rateHz * Math.acos(alike / power)) / (2 * Math.PI);
  // Peaks to either side: no crossing of +-u has the chance exp(-2 crossings exp(-u^2 / 2)).
  const peakPerRms = Math.sqrt(2 * Math.log((2 * crossings) / -Math.log(TAKES_COVERED)));
  return { rmsRad, peakRad: rmsRad * peakPerRms };
}
