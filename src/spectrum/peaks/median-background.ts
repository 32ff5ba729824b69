/**
 * The level a spectrum would have without peaks: a bent power law times a running median, one-sided density in, one-sided
 * density out (same unit), for spectra whose ordinates follow a gamma law of known shape.
 */
import { gammaQuantile, median, solveSymmetric } from '../../numerics/index.js';
import { alarmLimits } from './alarm-limits.js';
import type { Background } from './background.js';
import { STEADY_TAPERS, type TaperSpectra } from './taper-spectra.js';

/** A spectrum restricted to the band that is searched; columns of equal length, frequency rising, above 0 Hz. */
export interface BandSpectrum {
  readonly freqHz: Readonly<Float64Array>;
  readonly psd: Readonly<Float64Array>;
}

/** The running median spans one octave, and never fewer bins than this. */
const LEAST_BINS = 25;
/** Median windows are placed this densely; between them the level is interpolated. */
const CENTRES_PER_OCTAVE = 12;
/** A bin higher than the background allows in 1 of 10,000 cases counts as part of a peak and is left out. */
const PEAK_TAIL = 1e-4;
const ROUNDS = 3;
/** Share of the band that must be left for another round. */
const LEAST_SHARE = 0.4;

/**
 * A bent power law, ln psd = a + b x + c x^2 with x = ln f, by least squares over the bins that are kept; every octave
 * counts the same. The bend lets a falling spectrum end in a noise floor.
 */
function fitBentLaw({ freqHz, psd }: BandSpectrum, kept: readonly boolean[]): (freqHz: number) => number {
  // Counted from the middle of the band, the powers of ln f stay well apart.
  const middle = Math.log(freqHz[0] * freqHz[freqHz.length - 1]) / 2;
  const normal = new Float64Array(9);
  const right = new Float64Array(3);
  for (let i = 0; i < freqHz.length; i++) {
    if (!kept[i]) continue;
    const x = Math.log(freqHz[i]) - middle;
    const powers = [1, x, x * x];
    for (let r = 0; r < 3; r++) {
      right[r] += (powers[r] * Math.log(psd[i])) / freqHz[i];
      for (let c = 0; c < 3; c++) normal[3 * r + c] += (powers[r] * powers[c]) / freqHz[i];
    }
  }
  const [a, b, c] = solveSymmetric(normal, right, 3);
  return (f) => {
    const x = Math.log(f) - middle;
    return Math.exp(a + b * x + c * x * x);
  };
}

/** First index in [0, n) with freqHz[index] >= value, or n. */
function firstAtOrAbove(freqHz: Readonly<Float64Array>, value: number): number {
  let low = 0;
  let high = freqHz.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (freqHz[middle] < value) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Median of the kept values in a window of one octave around a frequency, widened to the least number of bins. */
function localMedian(
  freqHz: Readonly<Float64Array>,
  values: Readonly<Float64Array>,
  kept: readonly boolean[],
  centreHz: number,
): number {
  const n = freqHz.length;
  let from = firstAtOrAbove(freqHz, centreHz / Math.SQRT2);
  let to = firstAtOrAbove(freqHz, centreHz * Math.SQRT2);
  const collect = (): number[] => {
    const inside: number[] = [];
    for (let i = from; i < to; i++) if (kept[i]) inside.push(values[i]);
    return inside;
  };
  let inside = collect();
  while (inside.length < LEAST_BINS && (from > 0 || to < n)) {
    from = Math.max(0, from - 1);
    to = Math.min(n, to + 1);
    inside = collect();
  }
  return median(inside.length > 0 ? inside : values);
}

/** Bent law times the running median of what it leaves, over the kept bins: a function of frequency in the band. */
function meanLevel(
  spectrum: BandSpectrum,
  kept: readonly boolean[],
  medianFactor: number,
): (freqHz: number) => number {
  const { freqHz, psd } = spectrum;
  const octaves = Math.log2(freqHz[freqHz.length - 1] / freqHz[0]);
  const steps = Math.max(1, Math.ceil(octaves * CENTRES_PER_OCTAVE));
  const law = fitBentLaw(spectrum, kept);
  const ratio = Float64Array.from(psd, (s, i) => s / law(freqHz[i]));
  const logLevel = Float64Array.from({ length: steps + 1 }, (_, c) => {
    const centreHz = freqHz[0] * 2 ** ((c / steps) * octaves);
    return Math.log((localMedian(freqHz, ratio, kept, centreHz) / medianFactor) * law(centreHz));
  });
  return (f) => {
    const position = Math.min(Math.max((Math.log2(f / freqHz[0]) / octaves) * steps, 0), steps);
    const below = Math.min(Math.floor(position), steps - 1);
    const share = position - below;
    return Math.exp(logLevel[below] * (1 - share) + logLevel[below + 1] * share);
  };
}

/**
 * Robust background of a spectrum.
 *
 * A bent power law takes out the slope that shake spectra have, so that the wide median window does not lean; the
 * running median of what is left (one octave, at least 25 bins) is divided by the median of the gamma law, so that
 * the background is a mean level. Bins that stand out are left out and both steps repeated. At the ends of the band
 * the window is one-sided. A broad rise wider than half an octave becomes part of the background.
 *
 * @param spectrum at least 8 bins, all densities > 0
 * @param shape shape of the gamma law of an ordinate: number of independent averages
 * @returns the background as a function of frequency in hertz, valid in the band
 * @throws RangeError on fewer than 8 bins
 * @remarks Own derivation.
 */
export function robustBackground(spectrum: BandSpectrum, shape: number): (freqHz: number) => number {
  const { freqHz, psd } = spectrum;
  const n = freqHz.length;
  if (n < 8) throw new RangeError(`spectrum must hold at least 8 bins, got ${n}`);
  const medianFactor = gammaQuantile(0.5, shape) / shape;
  const standsOut = gammaQuantile(1 - PEAK_TAIL, shape) / shape;
  let kept: readonly boolean[] = new Array<boolean>(n).fill(true);
  let level = meanLevel(spectrum, kept, medianFactor);
  for (let round = 1; round < ROUNDS; round++) {
    const next = Array.from(psd, (s, i) => s <= standsOut * level(freqHz[i]));
    // With most of the band standing out there is no background to speak of; the last one stands.
    if (next.filter(Boolean).length < LEAST_SHARE * n) break;
    kept = next;
    level = meanLevel(spectrum, kept, medianFactor);
  }
  return level;
}

/**
 * Background of both taper spectra where no model of the floor holds; it knows nothing of the ripples that two axles print.
 *
 * @param noisePsd density of the measurement noise at a frequency, (unit of the series)^2 per Hz: the background is never below it
 */
export function medianBackground(spectra: TaperSpectra, noisePsd: (freqHz: number) => number): Background {
  const { steady, line, bandHz, parts } = spectra;
  const level = robustBackground(steady, STEADY_TAPERS * parts);
  const at = (f: number): number => Math.max(level(f), noisePsd(f));
  const underSteady = steady.freqHz.map(at);
  const underLine = line.freqHz.map((f) => at(Math.min(Math.max(f, bandHz[0]), bandHz[1])));
  const limits = alarmLimits(spectra);
  const alone = Float64Array.of(1);
  return {
    kind: 'median',
    steady: underSteady,
    line: underLine,
    steadyLimit: underSteady.map((b) => limits.steady(Float64Array.of(b), alone)),
    lineLimit: underLine.map((b) => limits.line(Float64Array.of(b), alone)),
    phase: null,
    phaseOffset: null,
  };
}
