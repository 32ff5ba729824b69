/**
 * One-third-octave bands of wavelength: centres and edges in metres and their rounded names, base ten as in IEC 61260-1:2014.
 *
 * Centres lie at 10^(k/10) m, edges at 10^(+-1/20) of them; the same bands counted in wavenumber, cycles/m, have the same edges.
 */

/** Names of the ten bands in a decade, as ISO 266 rounds them. */
const NAMES = [1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8];
const HALF_BAND = 10 ** 0.05;
/** A shade of rounding in the logarithm must not push a band out of its own limits. */
const ROUNDING = 1e-9;

/** One band. */
export interface WavelengthBandEdges {
  /** 0 for the band around 1 m, -10 for the one around 100 mm. */
  readonly index: number;
  /** Exact centre, m. */
  readonly centreM: number;
  /** Name of the band, m: 0.125 for the one around 0.12589 m. */
  readonly nominalM: number;
  /** Longer and shorter edge as wavenumbers, cycles/m: the lower number belongs to the longer waves. */
  readonly fromCyclesPerM: number;
  readonly toCyclesPerM: number;
}

/**
 * The band of an index.
 *
 * @param index whole number
 * @throws RangeError otherwise
 * @example bandOfIndex(-10).toCyclesPerM // 11.22018, the upper edge of the 100 mm band
 */
export function bandOfIndex(index: number): WavelengthBandEdges {
  if (!Number.isInteger(index)) throw new RangeError(`index must be a whole number, got ${index}`);
  const decade = Math.floor(index / 10);
  const centreM = 10 ** (index / 10);
  return {
    index,
    centreM,
    nominalM: Number(`${NAMES[index - 10 * decade]}e${decade}`),
    fromCyclesPerM: 1 / (centreM * HALF_BAND),
    toCyclesPerM: HALF_BAND / centreM,
  };
}

/** Bands that lie wholly between two wavelengths, m, the longest first; none when the two are too close. */
export function bandsBetween(shortestM: number, longestM: number): WavelengthBandEdges[] {
  const first = Math.floor(10 * Math.log10(longestM) - 0.5 + ROUNDING);
  const last = Math.ceil(10 * Math.log10(shortestM) + 0.5 - ROUNDING);
  return Array.from({ length: Math.max(0, first - last + 1) }, (_, i) => bandOfIndex(first - i));
}
