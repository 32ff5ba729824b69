/** What is left between a measured spectrum and its model, as a slow factor: a running median between the peaks, without unit. */
import { gammaQuantile, median } from '../../numerics/index.js';
import { steadyRatio, widened } from './background.js';
import { STEADY_TAPERS, type TaperSpectra } from './taper-spectra.js';

/** The window spans one octave, and never fewer bins than this. */
const LEAST_BINS = 25;
/** A bin higher than chance allows this often is part of a peak; it and its neighbours are left out. */
const PEAK_TAIL = 1e-4;
const SPREAD_BINS = 3;
/** The model counts for this share of itself even where the spectrum lies below it. */
const LEAST_LEVEL = 0.5;

/**
 * Mean level of measured over expected around each bin of the steady spectrum.
 *
 * At the ends of the band the window is one-sided. With too few bins between the peaks all of them count.
 *
 * @param ratio measured over expected, one for each bin
 */
export function runningLevel(spectra: TaperSpectra, ratio: Readonly<Float64Array>): Float64Array {
  const { freqHz } = spectra.steady;
  const shape = STEADY_TAPERS * spectra.parts;
  const medianFactor = gammaQuantile(0.5, shape) / shape;
  const limit = steadyRatio(spectra, PEAK_TAIL);
  const peaks = widened(
    Uint8Array.from(ratio, (r) => (r > limit ? 1 : 0)),
    SPREAD_BINS,
  );
  const between = [...peaks.keys()].filter((i) => peaks[i] === 0);
  const bins = between.length >= LEAST_BINS ? between : [...peaks.keys()];
  const firstAbove = (f: number): number => {
    let [low, high] = [0, bins.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (freqHz[bins[middle]] < f) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  return freqHz.map((f) => {
    let from = firstAbove(f / Math.SQRT2);
    let to = firstAbove(f * Math.SQRT2);
    if (to - from < LEAST_BINS) {
      from = Math.max(0, firstAbove(f) - (LEAST_BINS >> 1));
      to = Math.min(bins.length, from + LEAST_BINS);
      from = Math.max(0, to - LEAST_BINS);
    }
    const inside = bins.slice(from, to).map((i) => ratio[i]);
    return Math.max(median(inside) / medianFactor, LEAST_LEVEL);
  });
}
