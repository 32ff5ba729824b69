/**
 * Spectrum of the logged rates over the stretch that belongs to the clip, (rad/s)^2/Hz, and the log's own noise in it: as a
 * rate density and as an angle (rad RMS) in the band of the pictures.
 */
import {
  chiSquareQuantile,
  fourthDifferenceGain,
  mean,
  multitaperSpectrum,
  quantile,
} from '../../numerics/index.js';
import { exposureGain } from '../../optics/index.js';
import type { AngularAxis } from '../../run/index.js';
import { evenTime } from '../even-time.js';
import type { MotionLog } from './parse.js';

/** Averaged one-sided spectrum of the rate of one axis. */
export interface RateSpectrum {
  readonly freqHz: Float64Array;
  /** (rad/s)^2/Hz. */
  readonly psd: Float64Array;
  /** Stretches that were averaged. */
  readonly parts: number;
  /** Degrees of freedom of an ordinate. */
  readonly degreesOfFreedom: number;
  /** One-sided density of the log's own noise, (rad/s)^2/Hz. */
  readonly noisePsd: number;
  /** Half the log's rate. */
  readonly nyquistHz: number;
}

/** Longer stretches are cut into equal parts, whose spectra are averaged. */
const MOST_PART_S = 8;
/** Few tapers: ordinates are half a hertz wide over 8 s, and lines leak little into what lies a hertz away. */
const TAPERS = 3;
/** Noise is read from this part of the log's own band, as share of half its rate. */
const NOISE_BAND = [0.5, 0.9] as const;
/** From the quiet ordinates there, because shake and lines only add. */
const QUIET_SHARE = 0.2;

/** The longest stretch without a gap between two times of the log's clock: first and one past the last sample. */
export function longestRun(
  { timeS, gaps }: MotionLog,
  fromS: number,
  toS: number,
): readonly [number, number] {
  let best: readonly [number, number] = [0, 0];
  let first = timeS.findIndex((s) => s >= fromS);
  if (first < 0) return best;
  const breaks = new Set(gaps.map((gap) => gap.toS));
  for (let i = first; i <= timeS.length; i++) {
    const end = i === timeS.length || timeS[i] > toS;
    if (!end && !breaks.has(timeS[i])) continue;
    if (i - first > best[1] - best[0]) best = [first, i];
    first = i;
    if (end) break;
  }
  return best;
}

/** Spectrum of one axis over some samples of the log; null when there are fewer than 32. */
function rateSpectrum(
  log: MotionLog,
  axis: AngularAxis,
  [first, end]: readonly [number, number],
): RateSpectrum | null {
  const rates = log.ratesRadPerS[axis];
  if (!rates || end - first < 32) return null;
  const even = evenTime(log.timeS.slice(first, end));
  const series = even.resample(rates.slice(first, end));
  const parts = Math.max(1, Math.ceil(series.length / (MOST_PART_S * even.rateHz)));
  const length = Math.floor(series.length / parts);
  let freqHz: Float64Array = new Float64Array(0);
  let psd: Float64Array = new Float64Array(0);
  for (let p = 0; p < parts; p++) {
    const piece = series.slice(p * length, (p + 1) * length);
    const centre = mean(piece);
    const part = multitaperSpectrum(
      piece.map((v) => v - centre),
      even.rateHz,
      TAPERS,
    );
    freqHz = part.freqHz;
    const before = psd;
    psd = part.psd.map((v, b) => (before[b] ?? 0) + v / parts);
  }
  const degreesOfFreedom = 2 * TAPERS * parts;
  return {
    freqHz,
    psd,
    parts,
    degreesOfFreedom,
    noisePsd: quietLevel(freqHz, psd, even.rateHz / 2, degreesOfFreedom),
    nyquistHz: even.rateHz / 2,
  };
}

/**
 * White noise of the rates, from the quiet ordinates in the upper half of the band. Shake that fills all of it reads as
 * noise, which errs to the safe side; a sensor that smooths its own output reads too quiet, which cannot be seen from here.
 */
function quietLevel(freqHz: Float64Array, psd: Float64Array, nyquistHz: number, dof: number): number {
  const upper = psd.filter(
    (_, b) => freqHz[b] >= NOISE_BAND[0] * nyquistHz && freqHz[b] <= NOISE_BAND[1] * nyquistHz,
  );
  return quantile(upper, QUIET_SHARE) / (chiSquareQuantile(QUIET_SHARE, dof) / dof);
}

/** The axes of one sensor are alike in their noise within this factor of its density (2 in amplitude). */
const ALIKE = 4;

/**
 * Spectra of some axes, the noise of each brought down towards the quietest one: shake that fills the upper half of the band
 * on one axis is no noise of the sensor. Axes that hold nothing at all do not count as quiet.
 */
export function rateSpectra(
  log: MotionLog,
  axes: readonly AngularAxis[],
  run: readonly [number, number],
): ReadonlyMap<AngularAxis, RateSpectrum> {
  const spectra = axes.flatMap((axis) => {
    const spectrum = rateSpectrum(log, axis, run);
    return spectrum ? [[axis, spectrum] as const] : [];
  });
  const quietest = spectra.reduce(
    (least, [, { noisePsd }]) => (noisePsd > 0 ? Math.min(least, noisePsd) : least),
    Infinity,
  );
  return new Map(
    spectra.map(([axis, spectrum]) => [
      axis,
      { ...spectrum, noisePsd: Math.min(spectrum.noisePsd, Math.max(quietest, spectrum.noisePsd / ALIKE)) },
    ]),
  );
}

/**
 * The log's noise as an angle in the pictures' band, rad RMS: white rate noise integrated, averaged over the exposure,
 * sampled at the frames (which folds down what lies above) and high-passed.
 */
export function noiseAngle(
  { noisePsd, nyquistHz }: RateSpectrum,
  frameRateHz: number,
  cutoffHz: number,
  exposureS: number,
): number {
  const stepHz = cutoffHz / 16;
  let power = 0;
  for (let f = stepHz / 2; f < nyquistHz; f += stepHz) {
    const folded = Math.abs(f - frameRateHz * Math.round(f / frameRateHz));
    const gain = exposureGain(f, exposureS) * fourthDifferenceGain(folded, frameRateHz, cutoffHz);
    power += ((noisePsd * gain * gain) / (2 * Math.PI * f) ** 2) * stepHz;
  }
  return Math.sqrt(power);
}
