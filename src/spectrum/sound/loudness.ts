/** Bands of sound: slowed down without folding, and their loudness over time on a compressed scale; hertz, samples in and out. */
import { median } from '../../numerics/index.js';

/** An evenly spaced series. */
export interface SlowSeries {
  readonly values: Float64Array;
  readonly rateHz: number;
}

/** Transition of a Blackman window's low-pass, in units of rate / taps; beyond it everything is 74 dB down. */
const BLACKMAN_TRANSITION = 5.5;
/** Loudness is told about this often: beats up to 200 Hz. */
const LOUDNESS_RATE_HZ = 500;
/** Share of the median power below which quieter is the same: the logarithm of noise has deep pits that say nothing. */
const QUIET_SHARE = 0.1;

/** Low-pass with unit gain at 0 Hz: sinc within a Blackman window, odd length, half amplitude at the cut-off. */
function lowPass(cutoffHz: number, transitionHz: number, rateHz: number): Float64Array {
  const half = Math.ceil((BLACKMAN_TRANSITION * rateHz) / transitionHz / 2);
  const taps = new Float64Array(2 * half + 1);
  let sum = 0;
  for (let i = 0; i < taps.length; i++) {
    const x = (2 * cutoffHz * (i - half)) / rateHz;
    const sinc = x === 0 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
    const turn = (Math.PI * (i - half)) / (half + 1);
    taps[i] = sinc * (0.42 + 0.5 * Math.cos(turn) + 0.08 * Math.cos(2 * turn));
    sum += taps[i];
  }
  for (let i = 0; i < taps.length; i++) taps[i] /= sum;
  return taps;
}

/** Every `step`-th sample of a filtered series, the filter centred on it; beyond the ends is silence. */
function filtered(x: ArrayLike<number>, taps: Float64Array, step: number): Float64Array {
  const half = (taps.length - 1) / 2;
  const out = new Float64Array(Math.floor((x.length - 1) / step) + 1);
  for (let k = 0; k < out.length; k++) {
    const first = k * step - half;
    const from = Math.max(0, -first);
    const to = Math.min(taps.length, x.length - first);
    let sum = 0;
    for (let i = from; i < to; i++) sum += taps[i] * x[first + i];
    out[k] = sum;
  }
  return out;
}

/**
 * Sound up to `topHz` at the lowest rate that keeps it clean: what lies above does not fold into it.
 *
 * @param topHz below 0.4 of the rate
 * @returns a rate of at least 2.5 times the top, the first sample at the same moment, the mean removed
 * @remarks Window method of filter design; at the ends the filter reaches into silence.
 */
export function slowedSound(samples: Readonly<Float32Array>, rateHz: number, topHz: number): SlowSeries {
  const step = Math.max(1, Math.floor(rateHz / (2.5 * topHz)));
  let sum = 0;
  for (let i = 0; i < samples.length; i++) sum += samples[i];
  const centre = sum / samples.length;
  const level = Float64Array.from(samples, (s) => s - centre);
  if (step === 1) return { values: level, rateHz };
  const slowHz = rateHz / step;
  const values = filtered(level, lowPass(slowHz / 2, slowHz - 2 * topHz, rateHz), step);
  return { values, rateHz: slowHz };
}

/**
 * Loudness of one band over time: natural logarithm of its power, so that one bang counts little more than a beat, with a
 * soft floor; mean and straight trend removed.
 *
 * @param fromHz lower edge of the band, half amplitude there
 * @param toHz upper edge, below half the rate
 * @returns about 500 samples a second, the first at the same moment as the sound's
 * @remarks Complex demodulation: the band is turned down to 0 Hz, low-passed and its squared modulus averaged. The floor,
 * ln(p + 0.1 median p), is our own choice.
 */
export function bandLoudness(
  samples: Readonly<Float32Array>,
  rateHz: number,
  fromHz: number,
  toHz: number,
): SlowSeries {
  const n = samples.length;
  const halfHz = (toHz - fromHz) / 2;
  const turn = (Math.PI * (fromHz + toHz)) / rateHz;
  const re = new Float64Array(n);
  const im = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    re[i] = samples[i] * Math.cos(turn * i);
    im[i] = -samples[i] * Math.sin(turn * i);
  }
  const step = Math.max(
    1,
    Math.min(Math.floor(rateHz / (3 * halfHz)), Math.floor(rateHz / LOUDNESS_RATE_HZ)),
  );
  const taps = lowPass(halfHz, halfHz / 2, rateHz);
  const turnedRe = filtered(re, taps, step);
  const turnedIm = filtered(im, taps, step);
  const joined = Math.max(1, Math.round(rateHz / step / LOUDNESS_RATE_HZ));
  const power = new Float64Array(Math.floor(turnedRe.length / joined));
  for (let k = 0; k < power.length; k++) {
    for (let i = k * joined; i < (k + 1) * joined; i++) power[k] += turnedRe[i] ** 2 + turnedIm[i] ** 2;
  }
  const quiet = Math.max(QUIET_SHARE * median(power), Number.MIN_VALUE);
  const values = power.map((p) => Math.log(p + quiet));
  removeTrend(values);
  return { values, rateHz: rateHz / (step * joined) };
}

/** Takes the straight line of least squares out of a series, in place. */
function removeTrend(values: Float64Array): void {
  const n = values.length;
  const middle = (n - 1) / 2;
  let sum = 0;
  let moment = 0;
  let spread = 0;
  for (let i = 0; i < n; i++) {
    sum += values[i];
    moment += values[i] * (i - middle);
    spread += (i - middle) ** 2;
  }
  const slope = spread > 0 ? moment / spread : 0;
  for (let i = 0; i < n; i++) values[i] -= sum / n + slope * (i - middle);
}
