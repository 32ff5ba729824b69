/** The strongest line near the place where frames show a lamp, in the mean of the bands under the lamp's phase, and what it stands out of. */
import { gammaQuantile, median } from '../../numerics/index.js';
import type { Lamp } from './lamps.js';
import { LIGHT_CUTOFF_HZ } from './light-series.js';
import { bandPower, lineHz, steppedPower, stretchS, type LightSpectrum } from './light-spectrum.js';

/** A line in the light that stands out by more than chance. */
export interface LampLine {
  readonly lamp: Lamp;
  readonly bin: number;
  /** Phase from band to band, radians. */
  readonly stepRad: number;
  /** Of each band in the mean; sum 1. */
  readonly weights: Float64Array;
  readonly power: number;
  /** Power at this place without a line, in the same mean. */
  readonly noise: number;
  /** Power of the line in the bands by themselves, whatever their phase: weighted mean, noise taken off. */
  readonly powerInBands: number;
}

/** How far around a lamp the light is looked at: at least so many hertz and so many 1 / T. */
const AROUND = { hz: 2, cells: 20 } as const;
/** Fewest independent bins to each side of a lamp: fewer do not tell how steeply the light falls there. */
const FEWEST_BESIDE = 3;
/** Where the high-pass no longer bends the spectrum: times its cut-off. */
const ABOVE_CUTOFF = 1.5;
/** Steps of the phase that are tried for each independent one. */
const STEP_FINENESS = 4;

/** Independent places that are looked at for a lamp: frequencies, times steps of the phase. */
export function placesOf({ toleranceHz }: Lamp, light: LightSpectrum, readoutS: number | null): number {
  const frequencies = Math.max(1, 2 * (2 * toleranceHz + light.binHz) * stretchS(light));
  return frequencies * (readoutS === null ? light.bandCount : 1);
}

/**
 * The strongest line of one lamp, if there is any.
 *
 * Bands weigh by how calm they are around the frequency. Of several steps of the phase that show a line the one is taken that holds
 * most of its power: a drift common to all bands may hide a lamp there and let a part of it stand out in a step beside.
 *
 * @param readoutS time from the first row to one past the last; null tries every step of the phase from band to band
 * @param chance that one place without a line gives one
 * @returns null where none stands out, or too little is around it to tell
 * @remarks Threshold: power over noise of averaged periodograms, gamma law, raised for the noise being estimated from few bins
 *   ((1 + x / m)^-m in place of exp(-x)).
 */
export function strongestLine(
  lamp: Lamp,
  light: LightSpectrum,
  readoutS: number | null,
  chance: number,
): LampLine | null {
  const around = binsAround(lamp, light);
  const centre = Math.round(lamp.seenHz / light.binHz);
  const below = around.filter((bin) => bin < centre).length;
  if (Math.min(below, around.length - below) < FEWEST_BESIDE) return null;
  const threshold = standsOutFrom(chance, light.stretches, around.length);
  const reach = Math.round(lamp.toleranceHz / light.binHz);
  const weights = calmFirst(
    Array.from({ length: light.bandCount }, (_, band) =>
      noiseAt(light, centre, around, (bin) => bandPower(light, band, bin)),
    ),
  );

  let best: Omit<LampLine, 'powerInBands'> | null = null;
  for (const stepRad of stepsOf(lamp, light, readoutS)) {
    const powerAt = (bin: number): number => steppedPower(light, bin, weights, stepRad);
    const noise = noiseAt(light, centre, around, powerAt);
    let bin = centre - reach;
    for (let at = bin + 1; at <= centre + reach; at++) if (powerAt(at) > powerAt(bin)) bin = at;
    const power = powerAt(bin);
    if (power < threshold * noise) continue;
    if (best === null || power - noise > best.power - best.noise)
      best = { lamp, bin, stepRad, weights, power, noise };
  }
  if (best === null) return null;
  const { bin } = best;
  const powerInBands = weights.reduce((sum, weight, band) => {
    const powerAt = (at: number): number => bandPower(light, band, at);
    return sum + weight * Math.max(0, powerAt(bin) - noiseAt(light, bin, around, powerAt));
  }, 0);
  return { ...best, powerInBands };
}

/** Steps of the phase from band to band that a lamp can have, radians. */
function stepsOf(
  { lampHz, direction }: Lamp,
  { bandCount }: LightSpectrum,
  readoutS: number | null,
): number[] {
  if (readoutS !== null) return [(direction * 2 * Math.PI * lampHz * readoutS) / bandCount];
  const count = STEP_FINENESS * bandCount;
  return Array.from({ length: count }, (_, i) => (2 * Math.PI * (i <= count / 2 ? i : i - count)) / count);
}

/** Weights of the bands, inverse to their noise. */
function calmFirst(noise: readonly number[]): Float64Array {
  // A band without any change (black, burnt out) would take all the weight.
  const least = 0.05 * median(noise);
  const weights = Float64Array.from(noise, (one) => 1 / Math.max(one, least));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.map((weight) => weight / total);
}

/** Independent bins to both sides of a lamp, none of them under its line. */
function binsAround({ seenHz, toleranceHz }: Lamp, light: LightSpectrum): number[] {
  const stepHz = lineHz(light);
  const reachHz = Math.max(AROUND.hz, AROUND.cells / stretchS(light));
  const bins: number[] = [];
  for (const side of [-1, 1])
    for (let offHz = toleranceHz + 2 * stepHz; offHz <= reachHz; offHz += stepHz) {
      const hz = seenHz + side * offHz;
      if (hz > ABOVE_CUTOFF * LIGHT_CUTOFF_HZ && hz < light.rateHz / 2 - light.binHz)
        bins.push(Math.round(hz / light.binHz));
    }
  return bins;
}

/** Power of 8-bit rounding alone is above this: keeps a picture that never changes from dividing by nothing. */
const LEAST_NOISE = 1e-14;
/** Logarithms that lie so far above the fit belong to other lines. */
const OTHER_LINE = 2;

/**
 * Power without lines at a bin: a straight line through logarithms of power over logarithms of frequency, by least squares, once more
 * without what stands high above it. Light falls steeply with frequency, so a median would be too low at its slow end.
 */
function noiseAt(
  light: LightSpectrum,
  bin: number,
  around: readonly number[],
  powerAt: (bin: number) => number,
): number {
  const points = around.map((at) => ({
    x: Math.log(at / bin),
    y: Math.log(Math.max(powerAt(at), LEAST_NOISE)),
  }));
  const first = fitted(points);
  const calm = points.filter(({ x, y }) => y - first.level - first.slope * x < OTHER_LINE);
  return Math.exp(fitted(calm).level - meanLogarithm(light.stretches));
}

/** Least squares of a straight line; its level at x = 0. */
function fitted(points: readonly { readonly x: number; readonly y: number }[]): {
  readonly level: number;
  readonly slope: number;
} {
  const mx = points.reduce((sum, { x }) => sum + x, 0) / points.length;
  const my = points.reduce((sum, { y }) => sum + y, 0) / points.length;
  let xx = 0;
  let xy = 0;
  for (const { x, y } of points) {
    xx += (x - mx) ** 2;
    xy += (x - mx) * (y - my);
  }
  const slope = xx > 0 ? xy / xx : 0;
  return { level: my - slope * mx, slope };
}

/** Mean of the logarithm of an average of k exponentials of mean 1: digamma(k) - ln k. */
function meanLogarithm(k: number): number {
  const EULER = 0.5772156649015329;
  let digamma = -EULER;
  for (let i = 1; i < k; i++) digamma += 1 / i;
  return digamma - Math.log(k);
}

/** Variance of the logarithm of an exponential over that of its mean: a fit of logarithms is as good as so many times fewer bins. */
const LOGARITHM_COST = Math.PI ** 2 / 6;

/** Power over noise that chance exceeds so rarely, when the noise is estimated from so many bins. */
function standsOutFrom(chance: number, stretches: number, bins: number): number {
  const worth = bins / LOGARITHM_COST;
  const known = -Math.log(chance);
  const estimated = worth * Math.expm1(known / worth);
  return ((gammaQuantile(1 - chance, stretches) / stretches) * estimated) / known;
}
