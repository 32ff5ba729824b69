/** One-third-octave bands in hertz: exact edges (base ten, IEC 61260-1:2014) and the rounded names of ISO 266. */

/** One band. */
export interface ThirdOctaveEdges {
  /** 0 for the band around 1 Hz, 10 for the one around 10 Hz. */
  readonly index: number;
  /** Nominal name in hertz, "3.15" for the band around 3.1623 Hz. */
  readonly label: string;
  readonly centreHz: number;
  readonly fromHz: number;
  readonly toHz: number;
}

const NAMES = [1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8];
/** A shade of rounding in the logarithm must not push a band out of its own limits. */
const ROUNDING = 1e-9;

/**
 * The band of an index: centre 10^(index / 10) Hz, edges 10^((index +- 1/2) / 10) Hz.
 *
 * @throws RangeError when the index is no whole number
 * @example thirdOctaveBand(5) // 3.15 Hz: 2.8184 to 3.5481 Hz
 */
export function thirdOctaveBand(index: number): ThirdOctaveEdges {
  if (!Number.isInteger(index)) throw new RangeError(`index must be a whole number, got ${index}`);
  const decade = Math.floor(index / 10);
  return {
    index,
    label: String(Number(`${NAMES[index - 10 * decade]}e${decade}`)),
    centreHz: 10 ** (index / 10),
    fromHz: 10 ** ((index - 0.5) / 10),
    toHz: 10 ** ((index + 0.5) / 10),
  };
}

/**
 * The bands that lie wholly between two frequencies, lowest first; none when these are too close.
 *
 * @throws RangeError unless both are positive
 */
export function thirdOctavesBetween(lowHz: number, highHz: number): ThirdOctaveEdges[] {
  if (!(lowHz > 0 && highHz > 0 && Number.isFinite(highHz)))
    throw new RangeError(`lowHz and highHz must be positive, got ${lowHz} and ${highHz}`);
  const first = Math.ceil(10 * Math.log10(lowHz) + 0.5 - ROUNDING);
  const last = Math.floor(10 * Math.log10(highHz) - 0.5 + ROUNDING);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => thirdOctaveBand(first + i));
}
