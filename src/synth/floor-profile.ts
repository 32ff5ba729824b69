/**
 * A made-up floor under two wheel tracks: heights in metres every millimetre, from the displacement spectrum
 * G(n) = Gd (n / n0)^-w with n0 = 0.1 cycles per metre (the form of ISO 8608), joints and steps; and the path of a wheel on it.
 */
import { gaussianRandom, inverseRealFft, seededRandom } from '../numerics/index.js';
import { layOnFloor, PROFILE_SPACING_M, type FloorHeights, type LaidOnFloor } from './laid-on-floor.js';
import type { FloorOptions } from './options.js';

const REFERENCE_PER_M = 0.1;
/** Wavenumbers with height in them. */
const LOWEST_PER_M = 0.05;
const HIGHEST_PER_M = 200;
/** The random floor repeats after at least this length, so that its longest waves fit in. */
const PERIOD_SAMPLES_LOG2 = 16;
/** Drop that a wheel can bridge: further than this from the contact the rim is too high to touch. */
const DEEPEST_M = 0.006;

/** A floor: the heights under both tracks, and what was laid on them. */
export interface FloorProfile extends FloorHeights, LaidOnFloor {}

/** Random heights of both tracks; their coherence falls with the wavenumber. */
function randomTracks(floor: FloorOptions, seed: number, samples: number): [Float64Array, Float64Array] {
  let size = 2 ** PERIOD_SAMPLES_LOG2;
  while (size < 2 * samples) size *= 2;
  const normal = gaussianRandom(seededRandom(seed));
  const half = size / 2 + 1;
  const columns = Array.from({ length: 4 }, () => new Float64Array(half));
  const [leftRe, leftIm, rightRe, rightIm] = columns;
  const step = 1 / (size * PROFILE_SPACING_M);
  for (let k = 1; k < half; k++) {
    const n = k * step;
    const [a, b, c, d] = [normal(), normal(), normal(), normal()];
    if (n < LOWEST_PER_M || n > HIGHEST_PER_M) continue;
    const density = floor.gdM3 * (n / REFERENCE_PER_M) ** -floor.waviness;
    // Variance of the bin is density * step; half of it in each of the two parts, size/2 by the inverse's scaling.
    const amplitude = (Math.sqrt(density * step) * size) / 2;
    const likeness = Math.exp(-n / floor.coherencePerM);
    const rest = Math.sqrt(1 - likeness * likeness);
    leftRe[k] = amplitude * a;
    leftIm[k] = amplitude * b;
    rightRe[k] = amplitude * (likeness * a + rest * c);
    rightIm[k] = amplitude * (likeness * b + rest * d);
  }
  return [
    inverseRealFft(leftRe, leftIm, size).slice(0, samples),
    inverseRealFft(rightRe, rightIm, size).slice(0, samples),
  ];
}

/**
 * Makes a floor.
 *
 * @param startM first place, <= 0
 * @param endM last place
 */
export function makeFloor(floor: FloorOptions, seed: number, startM: number, endM: number): FloorProfile {
  const samples = Math.ceil((endM - startM) / PROFILE_SPACING_M) + 1;
  const [left, right] =
    floor.gdM3 > 0
      ? randomTracks(floor, seed * 7919 + 1, samples)
      : [new Float64Array(samples), new Float64Array(samples)];
  const tracks = { startM, left, right };
  return { ...tracks, ...layOnFloor(floor, seed * 7919 + 2, tracks) };
}

/**
 * Height of a wheel's axle above its radius along a track: the highest place at which the round rim touches, averaged over
 * the contact with a raised cosine.
 *
 * @param track heights every millimetre, metres; ends are held
 * @param contactM base of that cosine; below a millimetre nothing is averaged
 * @returns same length, metres
 */
export function wheelPath(track: Readonly<Float64Array>, radiusM: number, contactM: number): Float64Array {
  const reach = Math.floor(Math.min(0.6 * radiusM, Math.sqrt(2 * radiusM * DEEPEST_M)) / PROFILE_SPACING_M);
  const n = track.length;
  const rim = Float64Array.from({ length: 2 * reach + 1 }, (_, i) => {
    const x = (i - reach) * PROFILE_SPACING_M;
    return Math.sqrt(radiusM * radiusM - x * x) - radiusM;
  });
  const touching = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let highest = -Infinity;
    for (let j = -reach; j <= reach; j++) {
      const at = Math.min(n - 1, Math.max(0, i + j));
      highest = Math.max(highest, track[at] + rim[j + reach]);
    }
    touching[i] = highest;
  }
  const width = Math.max(1, Math.round(contactM / PROFILE_SPACING_M));
  const weights = Float64Array.from(
    { length: width },
    (_, k) => 1 - Math.cos((2 * Math.PI * (k + 1)) / (width + 1)),
  );
  const total = weights.reduce((sum, w) => sum + w, 0);
  return touching.map((_, i) => {
    let sum = 0;
    for (let k = 0; k < width; k++) {
      // An even number of weights straddles the place: the mean of two neighbours keeps the path unshifted.
      const at = i + k - (width - 1) / 2;
      const low = Math.min(n - 1, Math.max(0, Math.floor(at)));
      const high = Math.min(n - 1, Math.max(0, Math.ceil(at)));
      sum += (weights[k] * (touching[low] + touching[high])) / 2;
    }
    return sum / total;
  });
}

/** Height at any place, linear between the millimetres, held beyond the ends. */
export function heightAt(path: Readonly<Float64Array>, startM: number, atM: number): number {
  const x = (atM - startM) / PROFILE_SPACING_M;
  const i = Math.min(path.length - 2, Math.max(0, Math.floor(x)));
  const share = Math.min(1, Math.max(0, x - i));
  return path[i] + share * (path[i + 1] - path[i]);
}
