/**
 * Random vibration that is known at every instant: a sum of sines per axis, scaled to the RMS that was asked for in the band
 * above 0.8 Hz (0.5 s at each end left out). Radians and metres.
 */
import { fourthDifferenceSmooth, rms, seededRandom } from '../numerics/index.js';
import { AXES, type Axis } from '../run/index.js';
import type { VibrationOptions } from './options.js';

/** Lower end of the vibration band, Hz. */
export const BAND_FROM_HZ = 0.8;
/** Left out at each end of every statistic, seconds. */
export const TRIM_S = 0.5;

const SINES = 40;

interface Sines {
  readonly freqHz: Float64Array;
  readonly amplitude: Float64Array;
  readonly phaseRad: Float64Array;
}

/** Value of each axis at a time. */
export type VibrationAt = (axis: Axis, timeS: number) => number;

/** RMS of the part of an even series above 0.8 Hz, 0.5 s at each end left out; the whole series when it is too short for that. */
export function bandRms(series: Float64Array, rateHz: number): number {
  if (series.length < 8 || rateHz <= 2 * BAND_FROM_HZ) return 0;
  const smooth = fourthDifferenceSmooth(series, rateHz, BAND_FROM_HZ);
  const fast = series.map((value, i) => value - smooth[i]);
  const trim = Math.round(TRIM_S * rateHz);
  return rms(fast.length > 2 * trim + 4 ? fast.subarray(trim, fast.length - trim) : fast);
}

function randomSines(options: VibrationOptions, random: () => number): Sines {
  const [from, to] = options.bandHz;
  const count = SINES + options.peaks.length;
  const freqHz = new Float64Array(count);
  const amplitude = new Float64Array(count);
  const phaseRad = Float64Array.from({ length: count }, () => 2 * Math.PI * random());
  let power = 0;
  for (let i = 0; i < SINES; i++) {
    // One sine in each slice of the band: no gaps, no crowds.
    freqHz[i] = from + ((i + random()) / SINES) * (to - from);
    // Rayleigh amplitudes make Gaussian noise; power falls with frequency as floors and mounts have it.
    amplitude[i] = Math.sqrt((-2 * Math.log(1 - random()) * from) / freqHz[i]);
    power += amplitude[i] ** 2 / 2;
  }
  const shares = options.peaks.reduce((sum, peak) => sum + peak.share, 0);
  for (let i = 0; i < SINES; i++) amplitude[i] *= Math.sqrt((1 - shares) / power);
  options.peaks.forEach((peak, i) => {
    freqHz[SINES + i] = peak.freqHz;
    amplitude[SINES + i] = Math.sqrt(2 * peak.share);
  });
  return { freqHz, amplitude, phaseRad };
}

function valueAt({ freqHz, amplitude, phaseRad }: Sines, timeS: number): number {
  let sum = 0;
  for (let i = 0; i < freqHz.length; i++)
    sum += amplitude[i] * Math.sin(2 * Math.PI * freqHz[i] * timeS + phaseRad[i]);
  return sum;
}

function asked(options: VibrationOptions, axis: Axis): number {
  if (axis === 'pan' || axis === 'tilt' || axis === 'roll')
    return (options.angularDegRms[axis] * Math.PI) / 180;
  return options.translationMmRms[axis] / 1000;
}

/**
 * Makes the vibration of a clip.
 *
 * @param timesS frame times, even; the RMS holds for exactly these
 * @returns radians for angles, metres for translations; 0 on axes without vibration
 */
export function makeVibration(
  options: VibrationOptions,
  seed: number,
  timesS: Float64Array,
  rateHz: number,
): VibrationAt {
  const sines = new Map<Axis, Sines>();
  AXES.forEach((axis, k) => {
    const target = asked(options, axis);
    if (target === 0) return;
    const raw = randomSines(options, seededRandom(seed * 8191 + 17 * k + 5));
    const measured = bandRms(
      timesS.map((t) => valueAt(raw, t)),
      rateHz,
    );
    const scale = measured > 0 ? target / measured : target;
    sines.set(axis, { ...raw, amplitude: raw.amplitude.map((a) => a * scale) });
  });
  return (axis, timeS) => {
    const of = sines.get(axis);
    return of ? valueAt(of, timeS) : 0;
  };
}
