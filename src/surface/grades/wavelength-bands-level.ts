/** From the power of a band to its level in dB re 1 um with a standard deviation, or to a bound on it; and what the contact leaves open. */
import { contactPowerGain } from '../deck/deck-transfer.js';
import { CONTACT_TRIES, fitFloor, weightedMoments } from '../roughness/floor-fit.js';
import type { FittedPass } from '../roughness/pass-fit.js';
import type { BandPower } from './wavelength-bands-power.js';

/** 1 um, squared: the reference of the levels. */
const REFERENCE_M2 = 1e-12;
/** dB of one e-fold of power. */
const DB_PER_LN = 10 / Math.LN10;
/** A level known worse than this, one sd, is only a bound. */
const LARGEST_SD_DB = 3;
const BOUND_SDS = 2;

/** A level, or what it is below. */
export interface BandLevel {
  readonly db: number;
  readonly sdDb: number;
  readonly below: boolean;
}

/** What multiplies a power, and how well it is known. */
export interface PowerFactor {
  readonly factor: number;
  /** Standard deviation of its logarithm. */
  readonly sdLn: number;
}

/** The level of a power, or a bound of two standard deviations where one of them is more than 3 dB. */
export function bandLevel(
  { powerM2, sdM2, noiseSdM2, floorSdM2 }: BandPower,
  { factor, sdLn }: PowerFactor,
): BandLevel {
  const decibels = (m2: number): number => 10 * Math.log10((factor * m2) / REFERENCE_M2);
  // A power that does not rise above its own sd is known to a factor of e at best.
  const seenM2 = Math.max(powerM2, sdM2);
  const sdDb = DB_PER_LN * Math.hypot(sdM2 / seenM2, sdLn);
  if (sdDb <= LARGEST_SD_DB) return { db: decibels(powerM2), sdDb, below: false };
  // Noise adds to the power; few bins and the contact multiply it.
  const withNoiseM2 = Math.max(0, powerM2) + BOUND_SDS * noiseSdM2;
  const widened = Math.exp(BOUND_SDS * Math.hypot(floorSdM2 / seenM2, sdLn));
  return { db: decibels(withNoiseM2 * widened), sdDb, below: true };
}

/**
 * What the fit leaves open of the wheel's contact, at a wavenumber: the factor from the likeliest contact to the mean over all of
 * them, weighted by likelihood, and its sd.
 */
export function contactFactor({ channels, table, masked }: FittedPass): (cyclesPerM: number) => PowerFactor {
  const costs = table.floors.map(
    (floor) => fitFloor(channels, { ...table, floors: [floor] }, masked.kept).cost,
  );
  const none = costs.map(() => 0);
  const lostLn = (cyclesPerM: number, contact: number): number =>
    -Math.log(contactPowerGain(cyclesPerM, contact));
  return (cyclesPerM) => {
    const { mean, sd } = weightedMoments(
      costs,
      CONTACT_TRIES.map((contact) => lostLn(cyclesPerM, contact)),
      none,
    );
    return {
      factor: Math.exp(mean - lostLn(cyclesPerM, masked.fit.contactCyclesPerM)),
      sdLn: sd,
    };
  };
}
