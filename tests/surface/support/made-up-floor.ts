/** Made-up floors of a known spectrum: left and right wheel track in metres, and what a round wheel makes of them. */
import { gaussianRandom, inverseRealFft, seededRandom } from '../../../src/numerics/index.js';
import { displacementPsd } from '../../../src/surface/roughness/road-profile.js';

/** Spacing of the floor's points, m. */
export const SPACING_M = 0.001;
/** Waves longer and shorter than these are left out, cycles/m. */
const LOWEST = 0.05;
const HIGHEST = 200;
/** Tracks are alike for waves much longer than 1 / this, cycles/m. */
const COHERENCE = 3;
/** Points of a floor: a power of two, 65 m. */
const POINTS = 2 ** 16;

export interface FloorTracks {
  readonly left: Float64Array;
  readonly right: Float64Array;
}

/** Two wheel tracks whose densities are Gd(n) = gdM3 (n / 0.1)^-w each, by random Fourier coefficients; 65 m, cut to `lengthM`. */
export function madeUpFloor(seed: number, lengthM: number, gdM3: number, waviness = 2): FloorTracks {
  const gaussian = gaussianRandom(seededRandom(seed));
  const half = POINTS / 2 + 1;
  const columns = Array.from({ length: 4 }, () => new Float64Array(half));
  const [leftRe, leftIm, rightRe, rightIm] = columns;
  for (let k = 1; k < half; k++) {
    const n = k / (POINTS * SPACING_M);
    const draw = [gaussian(), gaussian(), gaussian(), gaussian()];
    if (n < LOWEST || n > HIGHEST) continue;
    // Mean power per bin Gd dn, shared by a real and an imaginary part.
    const amplitude = Math.sqrt((displacementPsd(gdM3, n, waviness) * POINTS) / SPACING_M) / 2;
    const alike = Math.exp(-n / COHERENCE);
    const unlike = Math.sqrt(1 - alike ** 2);
    leftRe[k] = amplitude * draw[0];
    leftIm[k] = amplitude * draw[1];
    rightRe[k] = amplitude * (alike * draw[0] + unlike * draw[2]);
    rightIm[k] = amplitude * (alike * draw[1] + unlike * draw[3]);
  }
  const count = Math.ceil(lengthM / SPACING_M);
  return {
    left: inverseRealFft(leftRe, leftIm, POINTS).slice(0, count),
    right: inverseRealFft(rightRe, rightIm, POINTS).slice(0, count),
  };
}

/** Way of the axle of a hard wheel over a track: the highest circle that touches it, smoothed over a bell-shaped contact patch. */
export function axlePath(track: Float64Array, radiusM: number, patchM: number): Float64Array {
  const reach = Math.floor(Math.min(0.6 * radiusM, Math.sqrt(2 * radiusM * 0.006)) / SPACING_M);
  const count = track.length;
  const at = (values: Float64Array, i: number): number => values[Math.max(0, Math.min(count - 1, i))];
  const cap = Float64Array.from({ length: 2 * reach + 1 }, (_, j) => {
    const x = (j - reach) * SPACING_M;
    return Math.sqrt(radiusM ** 2 - x ** 2) - radiusM;
  });
  const envelope = track.map((_, i) => {
    let highest = -Infinity;
    for (let j = -reach; j <= reach; j++) highest = Math.max(highest, at(track, i + j) + cap[j + reach]);
    return highest;
  });
  const points = Math.round(patchM / SPACING_M / 2);
  const bell = Float64Array.from(
    { length: 2 * points + 1 },
    (_, j) => 1 + Math.cos((Math.PI * (j - points)) / (points + 1)),
  );
  const total = bell.reduce((sum, value) => sum + value, 0);
  return envelope.map((_, i) => {
    let sum = 0;
    for (let j = -points; j <= points; j++) sum += bell[j + points] * at(envelope, i + j);
    return sum / total;
  });
}
