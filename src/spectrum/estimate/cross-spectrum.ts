/**
 * What two even series of one rate have in common, frequency by frequency: cross-spectrum in (unit of x)(unit of y) per Hz,
 * coherence from 0 to 1, and how much coherence chance alone makes.
 */
import { overlapCorrelation, type WindowName } from './windows.js';
import { segmentTransforms } from './segments.js';
import { chooseSegment, WELCH_DEFAULTS, welchDegreesOfFreedom, type WelchOptions } from './welch.js';

/** Columns of equal length from 0 Hz to Nyquist, one-sided. */
export interface CrossSpectrum {
  readonly freqHz: Float64Array;
  /** Mean of conj(X) Y: real part, and imaginary part, positive where y leads x. */
  readonly re: Float64Array;
  readonly im: Float64Array;
  /** Densities of the two series, as {@link welch} makes them. */
  readonly psdX: Float64Array;
  readonly psdY: Float64Array;
  /** Magnitude-squared coherence |Pxy|^2 / (Pxx Pyy), 0..1; 0 where a series holds no power. */
  readonly coherence: Float64Array;
  readonly segments: number;
  readonly segmentSamples: number;
  /** Averages that count as independent: fewer than the segments, which overlap. */
  readonly independentSegments: number;
}

/**
 * Coherence that two series which have nothing in common exceed at one frequency with probability alpha:
 * 1 - alpha^(1 / (K - 1)).
 *
 * @param independentSegments K, above 1, need not be whole
 * @param alpha 0..1
 * @throws RangeError outside these bounds
 * @remarks Source: Carter, Knapp, Nuttall 1973, IEEE Trans. Audio Electroacoust. 21, 337-344 [from memory].
 * @example coherenceThreshold(8, 0.05) // 0.348
 */
export function coherenceThreshold(independentSegments: number, alpha: number): number {
  if (!(independentSegments > 1))
    throw new RangeError(`independentSegments must be above 1, got ${independentSegments}`);
  if (!(alpha > 0 && alpha <= 1)) throw new RangeError(`alpha must lie above 0 and up to 1, got ${alpha}`);
  return 1 - alpha ** (1 / (independentSegments - 1));
}

/**
 * Cross-spectrum and coherence over half-overlapping segments, the mean of each taken off, a periodic window.
 *
 * Segment length unless given: as for {@link welch}; where that would not cut the series, the longest that gives 3. One
 * segment alone has coherence 1 everywhere and is refused.
 *
 * @param x length n, evenly spaced, no gaps, any unit, not changed
 * @param y length n, at the same times, any unit, not changed
 * @param rateHz samples per second, > 0
 * @throws RangeError on unequal lengths, fewer than two segments, or a rate or segment outside these bounds
 * @remarks Source: Welch 1967; independent averages by its variance formula.
 */
export function crossSpectrum(
  x: Readonly<Float64Array>,
  y: Readonly<Float64Array>,
  rateHz: number,
  options: WelchOptions = {},
): CrossSpectrum {
  if (x.length !== y.length)
    throw new RangeError(`x and y must have the same length, got ${x.length} and ${y.length}`);
  const window: WindowName = options.window ?? 'hann';
  const segmentSamples =
    options.segmentSamples ??
    chooseSegment(x.length, rateHz) ??
    2 * Math.floor(x.length / (WELCH_DEFAULTS.segmentsShort + 1));
  const plan = { segmentSamples, window, removeMean: options.removeMean ?? true };
  const ofX = segmentTransforms(x, rateHz, plan);
  const ofY = segmentTransforms(y, rateHz, plan);
  const segments = ofX.transforms.length;
  if (segments < 2) throw new RangeError(`the series must hold at least 2 segments, got ${segments}`);

  const bins = ofX.density.length;
  const [re, im, psdX, psdY] = Array.from({ length: 4 }, () => new Float64Array(bins));
  ofX.transforms.forEach((a, s) => {
    const b = ofY.transforms[s];
    for (let k = 0; k < bins; k++) {
      const scale = ofX.density[k] / segments;
      re[k] += scale * (a.re[k] * b.re[k] + a.im[k] * b.im[k]);
      im[k] += scale * (a.re[k] * b.im[k] - a.im[k] * b.re[k]);
      psdX[k] += scale * (a.re[k] ** 2 + a.im[k] ** 2);
      psdY[k] += scale * (b.re[k] ** 2 + b.im[k] ** 2);
    }
  });
  const coherence = re.map((real, k) => {
    const power = psdX[k] * psdY[k];
    return power > 0 ? (real ** 2 + im[k] ** 2) / power : 0;
  });
  return {
    freqHz: re.map((_, k) => (k * rateHz) / segmentSamples),
    re,
    im,
    psdX,
    psdY,
    coherence,
    segments,
    segmentSamples,
    independentSegments: welchDegreesOfFreedom(segments, overlapCorrelation(ofX.window, 0.5)) / 2,
  };
}
