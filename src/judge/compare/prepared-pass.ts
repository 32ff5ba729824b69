/**
 * Passes made ready to be compared: the vibration of each in the band that all have in common, without its ends, with spectrum, level
 * and place along the lane. Radians, metres or median depths; hertz; metres of travel.
 */
import { inverseRealFft, realFft } from '../../numerics/index.js';
import { AXES, sixAxes, type Axis, type SixAxes } from '../../run/index.js';
import { vibrationAt, withoutEnds } from '../../stabilise/index.js';
import {
  passSpectrum,
  wholeLevel,
  type NoiseDensity,
  type PassLevel,
  type PassSpectrum,
} from './pass-level.js';
import { speedOf } from './pass-identity.js';
import type { ComparedPass } from './types.js';

/** One axis of one pass; missing where the clip cannot tell. */
export interface PreparedAxis {
  readonly spectrum: PassSpectrum;
  readonly level: PassLevel;
}

/** A pass in the band in which it is compared, with its levels. */
export interface PreparedPass {
  readonly compared: ComparedPass;
  readonly rateHz: number;
  readonly bandHz: readonly [number, number];
  /** Vibration in the band, ends left out, length n. */
  readonly series: SixAxes;
  readonly axes: Readonly<Partial<Record<Axis, PreparedAxis>>>;
  readonly speedMps: number | null;
  /** Travel of the dolly at each sample of the series, never falling; null when nothing is known of it. */
  readonly placeM: Float64Array | null;
}

/** Edges closer than this, as a share, are the same. */
const SAME_EDGE = 1e-6;

/** The band that all passes were measured in, hertz. */
export function commonBand(passes: readonly ComparedPass[]): [number, number] {
  const bands = passes.map(({ pass }) => pass.motion.bandHz);
  return [Math.max(...bands.map(([from]) => from)), Math.min(...bands.map(([, to]) => to))];
}

/** A pass in a band that lies within its own: split anew above a higher cut-off, and cut off at a lower top. */
export function preparePass(compared: ComparedPass, bandHz: readonly [number, number]): PreparedPass {
  const { motion } = compared.pass;
  const { rateHz, trimFrames } = motion;
  const split = vibrationAt(motion, 1 / bandHz[0]);
  const cut = motion.bandHz[1] > bandHz[1] * (1 + SAME_EDGE);
  const series = sixAxes((axis) => {
    const inner = withoutEnds(split.series[axis], trimFrames);
    return cut ? cutAbove(inner, rateHz, bandHz[1]) : inner;
  });
  const axes: Partial<Record<Axis, PreparedAxis>> = {};
  for (const axis of AXES) {
    if (motion.axes[axis].status === 'notObservable') continue;
    const spectrum = passSpectrum(series[axis], rateHz, noiseOf(compared, axis));
    const level = spectrum && wholeLevel(series[axis], spectrum, bandHz);
    if (level) axes[axis] = { spectrum, level };
  }
  return { compared, rateHz, bandHz, series, axes, speedMps: speedOf(compared), placeM: placesOf(compared) };
}

/** The floors of the split hold for its band, and noise is white there. */
function noiseOf({ pass }: ComparedPass, axis: Axis): NoiseDensity {
  const { bandHz, rateHz, axes } = pass.motion;
  const widthHz = rateHz / 2 - bandHz[0];
  const { plainFloor, floor } = axes[axis];
  return { plain: plainFloor ** 2 / widthHz, wide: floor ** 2 / widthHz };
}

function cutAbove(series: Readonly<Float64Array>, rateHz: number, topHz: number): Float64Array {
  const n = series.length;
  if (n === 0) return new Float64Array(0);
  const { re, im } = realFft(series);
  for (let bin = 0; bin < re.length; bin++) {
    if ((bin * rateHz) / n <= topHz) continue;
    re[bin] = 0;
    im[bin] = 0;
  }
  return inverseRealFft(re, im, n);
}

/** Place of the rear axle as the floor shows it, else speed times time. */
function placesOf(compared: ComparedPass): Float64Array | null {
  const { motion, floor } = compared.pass;
  const speedMps = speedOf(compared);
  if (floor === null && speedMps === null) return null;
  const whole = motion.timeS.map((timeS, frame) => {
    if (floor === null) return (speedMps ?? 0) * (timeS - motion.timeS[0]);
    const { rearM, fromFrame } = floor;
    return rearM[Math.min(rearM.length - 1, Math.max(0, frame - fromFrame))] ?? 0;
  });
  const places = withoutEnds(whole, motion.trimFrames);
  for (let t = 1; t < places.length; t++) places[t] = Math.max(places[t], places[t - 1]);
  return places;
}
