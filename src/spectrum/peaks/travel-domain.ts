/**
 * A line seen over the way of the dolly in place of time: what turns once per stretch of floor or of wheel is pure there when the speed
 * varies, what turns once per second is not. Power in (unit of the series)^2 per Hz at cycles per second of mean speed.
 *
 * Non-uniform discrete Fourier transform with one sine taper. Own derivation.
 */
import { mean, sineTapers, standardDeviation } from '../../numerics/index.js';
import { vertex } from './search-peaks.js';
import type { TaperSpectra } from './taper-spectra.js';
import type { SearchedSeries } from './types.js';

/** A line in both domains. */
export interface BothDomains {
  /** Highest one-taper power near the peak over time, and over the way, with its frequency at mean speed. */
  readonly timePower: number;
  readonly wayPower: number;
  readonly wayFreqHz: number;
  /** What a line that is pure over the way keeps of its power over time, 0..1: 1 at a steady speed. */
  readonly keptShare: number;
  /** What the line, were it pure over the way, leaves over time at a frequency. */
  readonly traceAt: (freqHz: number) => number;
}

/** Looked at around the peak: as far as the speed varies at its frequency, within these bounds in units of 1 / T; in steps. */
const LEAST_REACH = 0.75;
const MOST_REACH = 6;
const SPEED_SDS = 2;
const STEP = 0.25;

/**
 * Prepares one series for looking at its lines over the way.
 *
 * @returns a function of a line's frequency and the distance to its nearest neighbour, hertz; null without a way, or one that does
 * not rise
 */
export function travelDomain(
  { values, placeM }: Pick<SearchedSeries, 'values' | 'placeM'>,
  { partFrames, parts, rateHz, durationS }: TaperSpectra,
): ((freqHz: number, neighbourHz: number) => BothDomains) | null {
  if (placeM === null) return null;
  const used = partFrames * parts;
  const timeS = Float64Array.from({ length: used }, (_, i) => i / rateHz);
  const speedMps = (placeM[used - 1] - placeM[0]) / timeS[used - 1];
  if (!(speedMps > 0)) return null;
  const wayS = timeS.map((_, i) => (placeM[i] - placeM[0]) / speedMps);
  const speedSd = standardDeviation(
    Float64Array.from({ length: used - 1 }, (_, i) => (wayS[i + 1] - wayS[i]) * rateHz),
  );
  const [taper] = sineTapers(partFrames, 1);
  const tapered = new Float64Array(used);
  for (let p = 0; p < parts; p++) {
    const from = p * partFrames;
    const middle = mean(values.slice(from, from + partFrames));
    for (let i = 0; i < partFrames; i++) tapered[from + i] = (values[from + i] - middle) * taper[i];
  }
  const none = new Float64Array(used);
  const scale = 2 / (rateHz * parts);
  const power = (clockS: Float64Array, f: number, re: Float64Array, im: Float64Array): number => {
    let sum = 0;
    for (let p = 0; p < parts; p++) sum += transformPower(clockS, f, re, im, p * partFrames, partFrames);
    return scale * sum;
  };
  return (freqHz, neighbourHz) => {
    const widest = Math.min(MOST_REACH / durationS, neighbourHz / 2);
    const reachHz = Math.max(LEAST_REACH / durationS, Math.min(widest, SPEED_SDS * speedSd * freqHz));
    const stepHz = STEP / durationS;
    const overTime = highestNear(freqHz, reachHz, stepHz, (f) => power(timeS, f, tapered, none));
    const overWay = highestNear(freqHz, reachHz, stepHz, (f) => power(wayS, f, tapered, none));
    const turn = 2 * Math.PI * overWay.freqHz;
    const pureRe = wayS.map((s, i) => taper[i % partFrames] * Math.cos(turn * s));
    const pureIm = wayS.map((s, i) => taper[i % partFrames] * Math.sin(turn * s));
    const onWay = power(wayS, overWay.freqHz, pureRe, pureIm);
    const pure = highestNear(freqHz, reachHz, stepHz, (f) => power(timeS, f, pureRe, pureIm));
    return {
      timePower: overTime.power,
      wayPower: overWay.power,
      wayFreqHz: overWay.freqHz,
      keptShare: Math.min(1, pure.power / onWay),
      traceAt: (f) => (overWay.power * power(timeS, f, pureRe, pureIm)) / onWay,
    };
  };
}

/** |sum (re + i im) exp(-2 pi i f t)|^2 over a part. */
function transformPower(
  clockS: Float64Array,
  f: number,
  re: Float64Array,
  im: Float64Array,
  from: number,
  count: number,
): number {
  let real = 0;
  let imaginary = 0;
  for (let i = from; i < from + count; i++) {
    const angle = 2 * Math.PI * f * clockS[i];
    const c = Math.cos(angle);
    const s = Math.sin(angle);
    real += re[i] * c + im[i] * s;
    imaginary += im[i] * c - re[i] * s;
  }
  return real * real + imaginary * imaginary;
}

/** Highest power on a grid around a frequency, by a parabola through ln power. */
function highestNear(
  freqHz: number,
  reachHz: number,
  stepHz: number,
  powerAt: (f: number) => number,
): { freqHz: number; power: number } {
  const steps = Math.ceil(reachHz / stepHz);
  const grid = Float64Array.from({ length: 2 * steps + 1 }, (_, k) => freqHz + (k - steps) * stepHz);
  const powers = grid.map(powerAt);
  const top = powers.indexOf(powers.reduce((a, b) => Math.max(a, b)));
  const { offset, height } = vertex(powers, top);
  return { freqHz: grid[top] + offset * stepHz, power: height };
}
