/**
 * The limit spectrum of EN ISO 3095:2013 for the roughness of railway rails, dB re 1 um in one-third-octave bands of wavelength,
 * and how a floor or rail under a dolly compares with it.
 *
 * The comparison says how fine a track is for a dolly. It is no acoustic measurement after EN 15610: no probe ran along the
 * rail head, no spikes were removed, and nothing is said about noise. A floor need not meet a limit made for rails.
 */
import type { WavelengthBand } from './wavelength-bands.js';

/**
 * Limits in dB re 1 um from the 2000 mm band down to the 0.8 mm band, as tabled for CNOSSOS-EU; 2013 edition.
 *
 * The edition matters: Directive (EU) 2015/996, appendix G, prints 11.0 dB from 1000 to 400 mm, where this one has 17.1.
 */
const LIMITS_DB = [
  17.1, 17.1, 17.1, 17.1, 17.1, 17.1, 17.1, 17.1, 15.0, 13.0, 11.0, 9.0, 7.0, 4.9, 2.9, 0.9, -1.1, -3.2, -5.0,
  -5.6, -6.2, -6.8, -7.4, -8.0, -8.6, -9.2, -9.8, -10.4, -11.0, -11.6, -12.2, -12.8, -13.4, -14.0, -14.0,
];
/** Index of the 2000 mm band, 10 lg of its centre in metres. */
const LONGEST_INDEX = 3;

/** Two standard deviations on either side leave no doubt. */
const SURE_SDS = 2;

/** A floor against the limit. */
export interface RailComparison {
  /** All bands under the limit, at least one over it, or one too near to it or too little known to be told (2 sd). */
  readonly outcome: 'meets' | 'exceeds' | 'cannotTell';
  /** Bands with a limit whose level is known, or is a bound that lies under the limit. */
  readonly bandsCompared: number;
  /** Bands with a limit of which only a bound above the limit is known: they may be over it. */
  readonly bandsUntold: number;
  /** Largest level minus limit, dB, below zero where all are under it, and the exact centre of that band, m. */
  readonly worstExcessDb: number;
  readonly worstCentreM: number;
  /** Sum of the levels and of the limits over the bands compared, dB re 1 um. */
  readonly sumDb: number;
  readonly limitSumDb: number;
}

/**
 * Limit of a band, dB re 1 um; null for a band that the standard does not print. Nothing is interpolated.
 *
 * @param index of the band, see `bandOfIndex`
 * @example railLimitDb(-10) // 4.9, at 100 mm
 */
export function railLimitDb(index: number): number | null {
  const place = LONGEST_INDEX - index;
  return place < 0 ? null : (LIMITS_DB.at(place) ?? null);
}

/** Sum of levels over bands, dB: 10 lg of the sum of 10^(L/10); -Infinity for none. */
export function bandSumDb(levelsDb: readonly number[]): number {
  return 10 * Math.log10(levelsDb.reduce((sum, level) => sum + 10 ** (level / 10), 0));
}

/**
 * Compares levels as rolled with the limit: joints count, since the dolly rolls over them.
 *
 * @returns null when no band can be compared
 */
export function againstRailLimit(bands: readonly WavelengthBand[]): RailComparison | null {
  const limited = bands.flatMap(({ asRolledDb, sdDb, below, centreM, railLimitDb: limitDb }) =>
    limitDb === null ? [] : { asRolledDb, sdDb, below, centreM, limitDb, excessDb: asRolledDb - limitDb },
  );
  const compared = limited.filter(({ below, excessDb }) => !below || excessDb <= 0);
  if (compared.length === 0) return null;
  const untold = limited.length - compared.length;
  const surelyOver = compared.some(({ excessDb, sdDb }) => 10 ** (-excessDb / 10) < lowestShare(sdDb));
  const surelyUnder = compared.every(({ excessDb, sdDb, below }) => below || excessDb + SURE_SDS * sdDb <= 0);
  const worst = compared.reduce((a, b) => (b.excessDb > a.excessDb ? b : a));
  return {
    outcome: surelyOver ? 'exceeds' : surelyUnder && untold === 0 ? 'meets' : 'cannotTell',
    bandsCompared: compared.length,
    bandsUntold: untold,
    worstExcessDb: worst.excessDb,
    worstCentreM: worst.centreM,
    sumDb: bandSumDb(compared.map(({ asRolledDb }) => asRolledDb)),
    limitSumDb: bandSumDb(compared.map(({ limitDb }) => limitDb)),
  };
}

/** What is left of a power less two of its standard deviations, as a share of it: noise that was not taken off adds power, not dB. */
function lowestShare(sdDb: number): number {
  return 1 - (SURE_SDS * sdDb * Math.LN10) / 10;
}
