/** The level that a spectrum would have without peaks, on the bins of both taper spectra, (unit of the series)^2 per Hz. */
import { gammaQuantile } from '../../numerics/index.js';
import { STEADY_TAPERS, type TaperSpectra } from './taper-spectra.js';
import type { FittedPhase, PeakFinding } from './types.js';

/** The background of both spectra. */
export interface Background {
  readonly kind: PeakFinding['kind'];
  /** Under the steady spectrum, one for each of its bins. */
  readonly steady: Float64Array;
  /** Under the line spectrum, one for each of its bins; outside the band it goes on as at the end. */
  readonly line: Float64Array;
  /** What both spectra must reach for a peak, on the same bins. */
  readonly steadyLimit: Float64Array;
  readonly lineLimit: Float64Array;
  readonly phase: FittedPhase | null;
  /** Place of the fitted notches in the offsets of the floor's model; null without one. */
  readonly phaseOffset: number | null;
}

/** Value of a column at a frequency, linear between bins, held at both ends. */
export function valueAt(freqHz: Readonly<Float64Array>, values: Readonly<Float64Array>, f: number): number {
  const last = freqHz.length - 1;
  const step = last > 0 ? (freqHz[last] - freqHz[0]) / last : 1;
  const place = Math.min(Math.max((f - freqHz[0]) / step, 0), last);
  const below = Math.min(Math.floor(place), Math.max(0, last - 1));
  const share = place - below;
  return values[below] * (1 - share) + (share > 0 ? values[below + 1] * share : 0);
}

/** Ordinate over expectation that an ordinate of the steady spectrum exceeds by chance with the probability `tail`. */
export function steadyRatio({ parts }: Pick<TaperSpectra, 'parts'>, tail: number): number {
  const shape = STEADY_TAPERS * parts;
  return gammaQuantile(1 - tail, shape) / shape;
}

/** Marks of bins widened by `reach` on both sides. */
export function widened(marks: Readonly<Uint8Array>, reach: number): Uint8Array {
  const out = new Uint8Array(marks.length);
  marks.forEach((mark, at) => {
    if (mark === 1) out.fill(1, Math.max(0, at - reach), at + reach + 1);
  });
  return out;
}
