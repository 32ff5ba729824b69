/** Which motions frames can show as one and the same peak: frequencies in hertz, gains as shares of the amplitude. */
import { exposureGain } from '../../optics/index.js';

/** How folded frequencies are listed. */
export const FOLDED_DEFAULTS = {
  /** Highest frequency asked for, Hz: what motors, rollers and hard wheels on tiles shake a camera at. */
  topHz: 200,
  /** Motions of which the shutter leaves less are not listed: they would have to be more than 20 times as large as seen. */
  leastGain: 0.05,
} as const;

/** A motion that frames show at the frequency of a peak. */
export interface PossibleOrigin {
  readonly trueHz: number;
  /** Share of its amplitude that the shutter lets through. */
  readonly exposureGain: number;
  /** How many times larger than seen it would have to be: 1 / gain. */
  readonly timesSeen: number;
}

/**
 * Every frequency from 0 to `topHz` that frames fold onto a peak, lowest first: n * rate - seen and n * rate + seen.
 *
 * The pair about n * rate (or about half the rate) is given as one, in its middle, when it lies closer than two standard
 * deviations of the peak to each side. What the shutter leaves next to nothing of is dropped.
 *
 * The rows of a sensor that is read row by row are exposed at different times, so within a frame they show the true frequency.
 * That is no evidence here: the tracks of one frame give its mean over the rows, and what bends within it is modelled from the
 * folded path.
 *
 * @param seen place of the peak and its standard deviation, 0 .. rate / 2
 * @param shutter frames per second and exposure time
 * @param options see {@link FOLDED_DEFAULTS}
 * @throws RangeError unless the rate is positive and the peak lies within 0 .. rate / 2 (and a millionth)
 * @remarks Source: sampling theorem.
 * @example couldBe({ freqHz: 4, freqSdHz: 0.02 }, { rateHz: 24, exposureS: 1 / 48 }) // 4, 20, 28, 44, 52, 68 ... Hz
 */
export function couldBe(
  seen: { readonly freqHz: number; readonly freqSdHz: number },
  shutter: { readonly rateHz: number; readonly exposureS: number },
  options: { readonly topHz?: number; readonly leastGain?: number } = {},
): PossibleOrigin[] {
  const { freqHz, freqSdHz } = seen;
  const { rateHz, exposureS } = shutter;
  const { topHz, leastGain } = { ...FOLDED_DEFAULTS, ...options };
  if (!(rateHz > 0)) throw new RangeError(`rateHz must be positive, got ${rateHz}`);
  if (!(freqHz >= 0 && freqHz <= (rateHz / 2) * (1 + 1e-6)))
    throw new RangeError(`freqHz must lie in 0..${rateHz / 2}, got ${freqHz}`);
  const nearMultiple = freqHz <= 2 * freqSdHz;
  const nearHalf = rateHz / 2 - freqHz <= 2 * freqSdHz;
  const origins: PossibleOrigin[] = [];
  const add = (trueHz: number): void => {
    if (trueHz > topHz) return;
    const gain = exposureGain(trueHz, exposureS);
    if (gain >= leastGain) origins.push({ trueHz, exposureGain: gain, timesSeen: 1 / gain });
  };
  for (let n = 0; n * rateHz <= topHz + rateHz; n++) {
    if (nearHalf) add((n + 0.5) * rateHz);
    else if (nearMultiple) add(n === 0 ? freqHz : n * rateHz);
    else {
      if (n > 0) add(n * rateHz - freqHz);
      add(n * rateHz + freqHz);
    }
  }
  return origins;
}
