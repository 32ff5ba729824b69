/**
 * The two spectra that peaks are looked for in, one-sided, (unit of the series)^2 per Hz: one sine taper, which shows lines best, and
 * the mean of five, which shows broad rises and steadies the background.
 *
 * Sine tapers: Riedel & Sidorenko 1995, IEEE Trans. Signal Processing 43 (from memory).
 */
import { mean, multitaperSpectrum, type PowerSpectrum } from '../../numerics/index.js';
import type { SearchedSeries } from './types.js';

/** Tapers of the steady spectrum: each of its ordinates has ten degrees of freedom. */
export const STEADY_TAPERS = 5;
/** The line spectrum is read this many times denser than its resolution. */
export const PADDING = 4;

/** Longer series are cut into equal parts whose spectra are averaged: real lines wander. */
const MOST_PART_S = 30;
/** Lower end of the band: well above the high-pass. */
const LOWEST_HZ = 1;
const ABOVE_CUTOFF = 1.25;
/** Upper end as a share of the rate, because the spectrum mirrors at Nyquist. */
const TOP_SHARE = 0.48;

/** Both spectra of a series. */
export interface TaperSpectra {
  readonly rateHz: number;
  /** Frames and duration of one part; independent parts that are averaged. */
  readonly partFrames: number;
  readonly durationS: number;
  readonly parts: number;
  /** Band that is searched, Hz. */
  readonly bandHz: readonly [number, number];
  /** One taper, 0 .. Nyquist in steps of 1 / (4 T). */
  readonly line: PowerSpectrum;
  /** Five tapers, bins 1 / T apart inside the band only; the first is this bin of the whole spectrum. */
  readonly steady: PowerSpectrum;
  readonly firstBin: number;
}

/**
 * Makes both spectra. A series longer than 30 s is cut into equal parts; what is left over at its end is not used.
 *
 * @param series `values` at least 2 long
 */
export function taperSpectra({ values, rateHz, cutoffHz }: SearchedSeries): TaperSpectra {
  const parts = Math.max(1, Math.ceil(values.length / (MOST_PART_S * rateHz)));
  const partFrames = Math.floor(values.length / parts);
  const pieces = Array.from({ length: parts }, (_, p) => {
    const piece = values.slice(p * partFrames, (p + 1) * partFrames);
    const middle = mean(piece);
    return piece.map((v) => v - middle);
  });
  const bandHz = [Math.max(LOWEST_HZ, ABOVE_CUTOFF * cutoffHz), TOP_SHARE * rateHz] as const;
  const whole = average(
    pieces.map((p) => multitaperSpectrum(p, rateHz, Math.min(STEADY_TAPERS, partFrames))),
  );
  const inBand = (f: number): boolean => f > bandHz[0] && f < bandHz[1];
  const firstBin = whole.freqHz.findIndex(inBand);
  return {
    rateHz,
    partFrames,
    durationS: partFrames / rateHz,
    parts,
    bandHz,
    line: average(pieces.map((p) => multitaperSpectrum(p, rateHz, 1, PADDING * partFrames))),
    steady: {
      freqHz: whole.freqHz.filter(inBand),
      psd: whole.psd.filter((_, i) => inBand(whole.freqHz[i])),
    },
    firstBin,
  };
}

function average(spectra: readonly PowerSpectrum[]): PowerSpectrum {
  const [{ freqHz }] = spectra;
  return {
    freqHz,
    psd: freqHz.map((_, i) => spectra.reduce((sum, { psd }) => sum + psd[i], 0) / spectra.length),
  };
}
