/**
 * What a motion log shows above half the frame rate, where pictures cannot look: the shake there (rad RMS), where it is
 * strongest, and what becomes of it in the pictures.
 */
import { chiSquareQuantile } from '../../numerics/index.js';
import { exposureGain } from '../../optics/index.js';
import type { RateSpectrum } from './spectrum.js';

/** Shake of one axis above the pictures' band, radians. */
export interface BeyondAxis {
  /** RMS in the band, the log's noise taken off; null when it cannot be told from that noise. */
  readonly rms: number | null;
  /** Upper bound of the RMS, always given: "below X" prints it. */
  readonly below: number;
  /** Part that survives the exposure and shows in the pictures at a false, lower frequency, RMS; null with rms. */
  readonly folded: number | null;
  /** Part that blurs within the exposure, RMS; null with rms. */
  readonly blurred: number | null;
  /** Where it is strongest, Hz; null when noise alone could look like it. */
  readonly dominantHz: number | null;
  readonly freqHz: Float64Array;
  /** Angle, one-sided, rad^2/Hz, the log's noise included. */
  readonly psd: Float64Array;
}

/** Upper end of the band: share of the log's rate, and a bound. */
const TOP_SHARE = 0.45;
const MOST_HZ = 200;
/** The noise level itself is known to about this share. */
const NOISE_DOUBT = 0.1;
/** Three deviations: three axes are asked. */
const CLEAR = 1.5;
/** Chance that noise alone shows a strongest frequency. */
const FALSE_ALARM = 0.001;

/** The band above the pictures' that the log shows, Hz; null when the log is too slow for one. */
export function beyondBand(frameNyquistHz: number, logRateHz: number): readonly [number, number] | null {
  const top = Math.min(TOP_SHARE * logRateHz, MOST_HZ);
  return top > 1.1 * frameNyquistHz ? [frameNyquistHz, top] : null;
}

/**
 * The shake of one axis in a band, from the spectrum of its rates: density over (2 pi f)^2.
 *
 * A sine of frequency f keeps the share g = |sinc(f T)| of its amplitude in the mean over an exposure T, so g^2 of its power
 * folds into the pictures and the rest blurs within them.
 */
export function shakeBeyond(
  spectrum: RateSpectrum,
  bandHz: readonly [number, number],
  exposureS: number,
): BeyondAxis {
  const inBand = Array.from(spectrum.freqHz.keys()).filter(
    (b) => spectrum.freqHz[b] >= bandHz[0] && spectrum.freqHz[b] <= bandHz[1],
  );
  const freqHz = Float64Array.from(inBand, (b) => spectrum.freqHz[b]);
  const psd = freqHz.map((f, k) => spectrum.psd[inBand[k]] / (2 * Math.PI * f) ** 2);
  const stepHz = spectrum.freqHz[1];
  let power = 0;
  let noise = 0;
  let noiseSquares = 0;
  let folded = 0;
  let strongest = 0;
  let dominantHz: number | null = null;
  const dof = spectrum.degreesOfFreedom;
  const clear = chiSquareQuantile((1 - FALSE_ALARM) ** (1 / Math.max(inBand.length, 1)), dof) / dof;
  freqHz.forEach((f, k) => {
    const rate = spectrum.psd[inBand[k]];
    const alone = (spectrum.noisePsd / (2 * Math.PI * f) ** 2) * stepHz;
    const freed = psd[k] * stepHz - alone;
    power += freed;
    noise += alone;
    noiseSquares += alone * alone;
    folded += freed * exposureGain(f, exposureS) ** 2;
    if (rate > clear * spectrum.noisePsd && psd[k] > strongest) {
      strongest = psd[k];
      dominantHz = f;
    }
  });
  // Neighbouring ordinates share their noise, but its sum scatters as that of plain ordinates, whose deviation is their mean.
  const doubt =
    2 * Math.hypot(Math.sqrt(noiseSquares / spectrum.parts), NOISE_DOUBT * noise) +
    leakedPower(spectrum, bandHz[0]);
  const stands = power > CLEAR * doubt;
  const kept = Math.min(Math.max(0, folded), power);
  return {
    rms: stands ? Math.sqrt(power) : null,
    below: Math.sqrt(Math.max(0, power) + doubt),
    folded: stands ? Math.sqrt(kept) : null,
    blurred: stands ? Math.sqrt(power - kept) : null,
    dominantHz: stands ? dominantHz : null,
    freqHz,
    psd,
  };
}

/**
 * Most of what can leak into the band from the shake below it, rad^2.
 *
 * Beyond x bins a line leaves the share 0.0084 j^2 / x^3 of its power in the spectrum of sine taper j (own integral of its
 * transform), 0.039 / x^3 in the mean of three; lines nearer than 1 Hz count as 1 Hz away.
 */
function leakedPower({ freqHz, psd }: RateSpectrum, fromHz: number): number {
  const stepHz = freqHz[1];
  let leaked = 0;
  for (let b = 0; freqHz[b] < fromHz; b++) {
    const bins = Math.max(1, fromHz - freqHz[b]) / stepHz;
    leaked += (psd[b] * stepHz * 0.039) / bins ** 3;
  }
  return leaked / (2 * Math.PI * fromHz) ** 2;
}
