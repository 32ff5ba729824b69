/**
 * How much one pass shakes on one axis within a band, as a level to compare: ln RMS with the noise taken off, and the variance that
 * ln RMS has from the run being short. From a vibration series without its ends (rad, m or median depths) and its noise.
 *
 * Three sine tapers over the whole pass (Riedel & Sidorenko 1995 [from memory]); the variance from the spectrum is raised by 1.15^2, as
 * measured on simulated floors of 5 to 30 s: own derivation.
 */
import { multitaperSpectrum, rms } from '../../numerics/index.js';

const TAPERS = 3;
/** Independent spectra that three sine tapers are worth, over their number: 1 / (4/3) of the plain count. */
const TAPER_OVERLAP = 4 / 3;
const AS_MEASURED = 1.15 ** 2;
/** A pass whose noise swallows it still has a level, so that its setup can be judged by all its passes. */
const LEAST_SHARE = 0.05;
/** A spectrum of fewer samples says nothing. */
const LEAST_SAMPLES = 16;

/** White noise of the measurement, one-sided density, (unit)^2 / Hz. */
export interface NoiseDensity {
  /** What is taken off the measured power. */
  readonly plain: number;
  /** With the error that coded pictures share: what a level has to stand clear of. */
  readonly wide: number;
}

/** One axis of one pass in one band. */
export interface PassLevel {
  /** Mean square as measured, noise included. */
  readonly power: number;
  /** Noise in the band: taken off, and stood clear of. */
  readonly noise: number;
  readonly wideNoise: number;
  /** Power without noise, never below a twentieth of the power. */
  readonly freed: number;
  /** ln of the RMS without noise. */
  readonly lnRms: number;
  /** Variance of ln RMS within the run. */
  readonly withinVariance: number;
  /** Upper bound of the RMS where the noise hides it. */
  readonly below: number;
}

/** A spectrum with what it was made from. */
export interface PassSpectrum {
  readonly freqHz: Float64Array;
  readonly psd: Float64Array;
  readonly noise: NoiseDensity;
}

/** The three-taper spectrum of a series; null when it is too short for one. */
export function passSpectrum(
  series: Readonly<Float64Array>,
  rateHz: number,
  noise: NoiseDensity,
): PassSpectrum | null {
  if (series.length < LEAST_SAMPLES) return null;
  return { ...multitaperSpectrum(series, rateHz, TAPERS), noise };
}

/**
 * The level of a whole series.
 *
 * @param bandHz that the series holds: what of the noise it holds
 * @returns null for a series that is too short or does not move at all
 */
export function wholeLevel(
  series: Readonly<Float64Array>,
  spectrum: PassSpectrum,
  bandHz: readonly [number, number],
): PassLevel | null {
  const shares = spectrum.psd.map((_, bin) => (bin === 0 ? 0 : 1));
  return levelOf(rms(series) ** 2, spectrum, shares, bandHz[1] - bandHz[0]);
}

/**
 * The level in a band of a spectrum; cells that an edge cuts count with their share.
 *
 * @returns null when the band holds no power
 */
export function bandLevel(spectrum: PassSpectrum, fromHz: number, toHz: number): PassLevel | null {
  const shares = cellShares(spectrum.freqHz, fromHz, toHz);
  const cellHz = spectrum.freqHz[1] - spectrum.freqHz[0];
  const power = cellHz * shares.reduce((sum, share, bin) => sum + share * spectrum.psd[bin], 0);
  return levelOf(power, spectrum, shares, toHz - fromHz);
}

/** Share of each cell of a spectrum that lies in the band, 0..1. */
export function cellShares(freqHz: Readonly<Float64Array>, fromHz: number, toHz: number): Float64Array {
  const half = (freqHz[1] - freqHz[0]) / 2;
  return Float64Array.from(freqHz, (middle) =>
    Math.max(0, (Math.min(toHz, middle + half) - Math.max(fromHz, middle - half)) / (2 * half)),
  );
}

function levelOf(
  power: number,
  { psd, noise }: PassSpectrum,
  shares: Readonly<Float64Array>,
  widthHz: number,
): PassLevel | null {
  if (!(power > 0)) return null;
  const plain = noise.plain * widthHz;
  const wide = noise.wide * widthHz;
  const freed = Math.max(power - plain, LEAST_SHARE * power);
  let sum = 0;
  let squares = 0;
  for (let bin = 0; bin < psd.length; bin++) {
    sum += shares[bin] * psd[bin];
    squares += shares[bin] * psd[bin] ** 2;
  }
  const spread = sum > 0 ? squares / TAPER_OVERLAP / sum ** 2 : 1;
  return {
    power,
    noise: plain,
    wideNoise: wide,
    freed,
    lnRms: Math.log(freed) / 2,
    withinVariance: AS_MEASURED * 0.25 * spread * (power / freed) ** 2,
    below: Math.sqrt(Math.max(0, power - plain) + wide),
  };
}
