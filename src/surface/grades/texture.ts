/**
 * Height parameters of a run's profile after the Gaussian filter of ISO 16610-21: Rq, Ra and Rz in metres.
 *
 * What it is not: surface texture by ISO 4287 or ISO 21920, whose cut-offs are of millimetres; say "Gaussian filter of ISO 16610-21".
 */
import { mean, rms } from '../../numerics/index.js';
import type { SurfaceProfile } from '../profile/types.js';
import { profileExtent, profileLines } from './profile-lines.js';

/** alpha = sqrt(ln 2 / pi): half of a wave's amplitude passes at the cut-off. */
export const GAUSSIAN_ALPHA = Math.sqrt(Math.LN2 / Math.PI);

/** Weights are summed to this many cut-offs on either side; beyond lie 1e-7 of them. */
const REACH_CUTOFFS = 1;

/** Cut-offs to choose from, m, the longest first. */
const CUTOFFS_M = [2, 1, 0.5, 0.2, 0.1, 0.05];

/**
 * A cut-off lies inside the band when its longest wave is this many cut-offs and its shortest this small a part of one: 5 % of the
 * filtered variance of a w = 2 floor then lacks at the long end, 23 % at the short end, at most (own quadrature).
 */
const LONGEST_PER_CUTOFF = 1.5;
const CUTOFF_PER_SHORTEST = 5;

/** Parameters of the waves shorter than the cut-off, metres. */
export interface Texture {
  readonly cutoffM: number;
  /** Shortest wave that the profile holds: the other end of what the figures speak of. */
  readonly shortestM: number;
  readonly rqM: number;
  readonly raM: number;
  /** Mean over section lengths of one cut-off each of highest minus lowest. */
  readonly rzM: number;
  /** Section lengths behind Rz, of all wheel lines; older editions take five. */
  readonly sections: number;
  /** RMS of the error of the profile, which is in the figures: it adds to the variance that the profile shows. */
  readonly noiseRqM: number;
}

/**
 * Weight of the Gaussian profile filter at a distance, 1/m: exp(-pi (x / (alpha lc))^2) / (alpha lc).
 *
 * @example gaussianWeight(0, 1) // 2.12893
 */
export function gaussianWeight(distanceM: number, cutoffM: number): number {
  const scale = GAUSSIAN_ALPHA * cutoffM;
  return Math.exp(-Math.PI * (distanceM / scale) ** 2) / scale;
}

/**
 * Amplitude of a wave that the filter's mean line keeps, 2^-(lc / l)^2; the profile without its mean line keeps the rest.
 *
 * @example gaussianTransmission(2, 1) // 0.8409
 */
export function gaussianTransmission(wavelengthM: number, cutoffM: number): number {
  return 2 ** -((cutoffM / wavelengthM) ** 2);
}

/**
 * Mean line of a profile: weighted means of its neighbours within one cut-off. At the ends the weights that lie on the profile are
 * scaled to sum to 1; within half a cut-off of an end the line is therefore not to be relied on.
 *
 * @param heightM heights at even steps; not changed
 * @returns length n
 */
export function gaussianMeanLine(heightM: Float64Array, stepM: number, cutoffM: number): Float64Array {
  const reach = Math.ceil((REACH_CUTOFFS * cutoffM) / stepM);
  const weights = Float64Array.from({ length: reach + 1 }, (_, k) => gaussianWeight(k * stepM, cutoffM));
  const count = heightM.length;
  return Float64Array.from(heightM, (_, i) => {
    const from = Math.max(0, i - reach);
    const to = Math.min(count - 1, i + reach);
    let sum = 0;
    let total = 0;
    for (let j = from; j <= to; j++) {
      const weight = weights[j < i ? i - j : j - i];
      sum += weight * heightM[j];
      total += weight;
    }
    return sum / total;
  });
}

/** Rq, Ra and Rz of heights about zero, metres; `sections` is 0 and Rz null when not one section length fits. */
export interface HeightParameters {
  readonly rqM: number;
  readonly raM: number;
  readonly rzM: number | null;
  readonly sections: number;
}

/**
 * Rq (RMS), Ra (mean of amounts) and Rz (mean of highest minus lowest over section lengths) of a profile that is filtered already.
 *
 * @param heightM heights at even steps, at least one
 * @param sectionM section length; a remainder at the end is left out of Rz
 * @example heightParameters(wholePeriodsOfASine, step, section).raM // 0.6366 of its amplitude
 */
export function heightParameters(heightM: Float64Array, stepM: number, sectionM: number): HeightParameters {
  // A section of whole steps must not lose a point to rounding.
  const steps = Math.max(1, Math.floor(sectionM / stepM + 1e-9));
  const sections = Math.floor((heightM.length - 1) / steps);
  const ranges = Array.from({ length: sections }, (_, k) => {
    const section = heightM.subarray(k * steps, (k + 1) * steps + 1);
    return section.reduce((a, b) => Math.max(a, b)) - section.reduce((a, b) => Math.min(a, b));
  });
  return {
    rqM: rms(heightM),
    raM: mean(heightM.map(Math.abs)),
    rzM: sections > 0 ? mean(ranges) : null,
    sections,
  };
}

/**
 * The longest cut-off of 2, 1, 0.5, 0.2, 0.1, 0.05 m that lies inside a band, m; null when none does.
 *
 * @param bandM shortest and longest wavelength, m
 * @example textureCutoffM([0.02, 0.31]) // 0.2
 */
export function textureCutoffM([shortestM, longestM]: readonly [number, number]): number | null {
  const inside = (cutoffM: number): boolean =>
    longestM >= LONGEST_PER_CUTOFF * cutoffM * (1 - 1e-9) &&
    shortestM <= (cutoffM / CUTOFF_PER_SHORTEST) * (1 + 1e-9);
  return CUTOFFS_M.find(inside) ?? null;
}

/**
 * Texture of a run's wheel lines (of their mean without deck roll), half a cut-off left out at each end.
 *
 * The profile is the likeliest one, smoother than the floor by its error: that variance is added to Rq, and Ra and Rz are raised in
 * the same ratio. On made-up passes Rq was then within 20 % of that of the floor, mostly within 10 %, where the profile alone read 8 to 25 % low.
 *
 * @param profile not changed
 * @param bandM shortest and longest wavelength that it holds, m
 * @returns null when no cut-off lies inside the band or the run is shorter than two cut-offs
 */
export function texture(profile: SurfaceProfile, bandM: readonly [number, number]): Texture | null {
  const cutoffM = textureCutoffM(bandM);
  const { stepM, lengthM } = profileExtent(profile);
  if (cutoffM === null || lengthM < 2 * cutoffM || stepM > cutoffM / 2) return null;
  const margin = Math.ceil(cutoffM / 2 / stepM);
  const lines = profileLines(profile).map(({ heightM }) => {
    const meanLine = gaussianMeanLine(heightM, stepM, cutoffM);
    const filtered = heightM.map((height, i) => height - meanLine[i]).slice(margin, heightM.length - margin);
    return heightParameters(filtered, stepM, cutoffM);
  });
  const ranges = lines.flatMap(({ rzM }) => (rzM === null ? [] : [rzM]));
  if (ranges.length === 0) return null;
  const seenM = rms(lines.map(({ rqM }) => rqM));
  const noiseRqM = rms(profileLines(profile).map(({ sdM }) => rms(sdM)));
  const rqM = Math.hypot(seenM, noiseRqM);
  const raised = seenM > 0 ? rqM / seenM : 1;
  return {
    cutoffM,
    shortestM: bandM[0],
    rqM,
    raM: raised * mean(lines.map(({ raM }) => raM)),
    rzM: raised * mean(ranges),
    sections: lines.reduce((sum, { sections }) => sum + sections, 0),
    noiseRqM,
  };
}
