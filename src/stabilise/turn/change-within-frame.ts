/**
 * How much a series changes during an exposure or a readout, between frames: y(t + to) - y(t + from) for instants that
 * are not samples, in the unit of the series.
 *
 * The series is carried between its samples by its spectrum: the line from first to last sample is taken off, the rest
 * continued oddly at both ends and shifted in phase. Differences of neighbouring frames would lose the upper half of the band.
 */
import { inverseRealFft, realFft } from '../../numerics/index.js';

/** Above this share of the Nyquist frequency the change is faded out: there a shift is no longer defined. */
const FADE_FROM = 0.85;

/** From and to, seconds before (negative) or after the sample; meant for spans below one sample. */
export type Span = readonly [fromS: number, toS: number];

/**
 * y(t + toS) - y(t + fromS) at every sample.
 *
 * @param series length n, evenly spaced, any unit
 * @param rateHz samples per second
 * @returns length n; series of fewer than 3 samples give the change of their line
 */
export function changeWithinFrame(
  series: Readonly<Float64Array>,
  rateHz: number,
  fromS: number,
  toS: number,
): Float64Array {
  return changesWithinFrame(series, rateHz, [[fromS, toS]])[0];
}

/** `changeWithinFrame` over several spans at once, for one transform of the series: one column per span. */
export function changesWithinFrame(
  series: Readonly<Float64Array>,
  rateHz: number,
  spans: readonly Span[],
): Float64Array[] {
  const n = series.length;
  if (n < 2) return spans.map(() => new Float64Array(n));
  const slope = (series[n - 1] - series[0]) / (n - 1);
  const ofLine = ([fromS, toS]: Span): number => slope * (toS - fromS) * rateHz;
  if (n < 3) return spans.map((span) => new Float64Array(n).fill(ofLine(span)));
  const size = 2 * (n - 1);
  const odd = new Float64Array(size);
  for (let i = 1; i < n - 1; i++) {
    odd[i] = series[i] - series[0] - slope * i;
    odd[size - i] = -odd[i];
  }
  const spectrum = realFft(odd);
  return spans.map((span) => {
    const { re, im } = changed(spectrum, size, rateHz, span);
    const change = inverseRealFft(re, im, size).subarray(0, n);
    return Float64Array.from(change, (v) => v + ofLine(span));
  });
}

/** A spectrum times exp(i w to) - exp(i w from), faded out next to half the rate. */
function changed(
  spectrum: { readonly re: Float64Array; readonly im: Float64Array },
  size: number,
  rateHz: number,
  [fromS, toS]: Span,
): { re: Float64Array; im: Float64Array } {
  const re = new Float64Array(spectrum.re.length);
  const im = new Float64Array(spectrum.re.length);
  for (let k = 0; k < re.length; k++) {
    const omega = (2 * Math.PI * k) / size;
    const share = omega / Math.PI;
    const fade =
      share <= FADE_FROM ? 1 : 0.5 * (1 + Math.cos((Math.PI * (share - FADE_FROM)) / (1 - FADE_FROM)));
    const real = fade * (Math.cos(omega * toS * rateHz) - Math.cos(omega * fromS * rateHz));
    const imaginary = fade * (Math.sin(omega * toS * rateHz) - Math.sin(omega * fromS * rateHz));
    re[k] = spectrum.re[k] * real - spectrum.im[k] * imaginary;
    im[k] = spectrum.re[k] * imaginary + spectrum.im[k] * real;
  }
  return { re, im };
}

/**
 * Variance that white noise of variance 1 per sample has in `changeWithinFrame` over a span: 2 (1 - sinc(span)).
 *
 * Own derivation: the mean over the band of |exp(i w span) - 1|^2; the fade near Nyquist is left out, which errs on the large side.
 */
export function changeNoiseGain(rateHz: number, spanS: number): number {
  const phase = Math.PI * spanS * rateHz;
  return Math.abs(phase) < 1e-6 ? 0 : 2 * (1 - Math.sin(phase) / phase);
}
