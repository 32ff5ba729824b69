/** Random noise of a band with unit RMS, even samples. */
import { gaussianRandom, seededRandom } from '../../numerics/index.js';

/** Share by which a low-pass of first order moves to its input with each sample. */
function paceOf(cornerHz: number, rateHz: number): number {
  return 1 - Math.exp((-2 * Math.PI * cornerHz) / rateHz);
}

/**
 * Noise between two corners, each of first order.
 *
 * @returns length `count`, RMS 1
 */
export function colouredNoise(
  count: number,
  rateHz: number,
  [fromHz, toHz]: readonly [number, number],
  seed: number,
): Float64Array {
  const normal = gaussianRandom(seededRandom(seed));
  const [slow, fast] = [paceOf(fromHz, rateHz), paceOf(toHz, rateHz)];
  const noise = new Float64Array(count);
  let below = 0;
  let low = 0;
  let power = 0;
  for (let i = 0; i < count; i++) {
    low += fast * (normal() - low);
    below += slow * (low - below);
    noise[i] = low - below;
    power += noise[i] * noise[i];
  }
  const scale = power > 0 ? 1 / Math.sqrt(power / count) : 0;
  return noise.map((v) => v * scale);
}
