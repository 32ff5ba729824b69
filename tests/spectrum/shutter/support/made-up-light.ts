/** Made-up light of a clip in bands: lamps, drift, noise and lines of motion, seeded. */
import { gaussianRandom, seededRandom } from '../../../../src/numerics/index.js';
import type { FrameLevels } from '../../../../src/tracking/index.js';

export interface MadeUpLight {
  readonly rateHz: number;
  readonly durationS: number;
  readonly seed: number;
  /** Amplitude of the light over its mean as frames show it, before rows average it over a band. */
  readonly lamp?: { readonly hz: number; readonly depth: number };
  readonly readoutS?: number;
  /** Standard deviation of noise by itself in each band and frame. */
  readonly white?: number;
  /** Steps of a drift that falls steeply with frequency, one common to all bands and one of each by itself. */
  readonly drift?: number;
  /** A line that each band shows with a size and phase of its own, as content that moves through the picture does. */
  readonly passing?: { readonly hz: number; readonly depth: number };
  /** A line alike in all bands. */
  readonly common?: { readonly hz: number; readonly depth: number };
}

const BANDS = 9;
const MEAN_GREY = 100;

export function madeUpLight(options: MadeUpLight): FrameLevels {
  const { rateHz, durationS, seed, lamp, readoutS = 0, white = 0.002, drift = 0.004 } = options;
  const { passing, common } = options;
  const count = Math.round(rateHz * durationS);
  const normal = gaussianRandom(seededRandom(seed));
  const size = Array.from({ length: BANDS }, () => normal());
  const phase = Array.from({ length: BANDS }, () => 3 * normal());
  const slow = new Float64Array(BANDS + 1);
  const mean = new Float64Array(count * BANDS);
  for (let k = 0; k < count; k++) {
    for (let i = 0; i <= BANDS; i++) slow[i] = 0.98 * slow[i] + drift * normal();
    for (let b = 0; b < BANDS; b++) {
      let light = 1 + slow[b] + slow[BANDS] + white * normal();
      if (lamp) {
        // Mean over the rows of the band, each exposed at its own time, by many rows.
        const rows = readoutS > 0 ? 40 : 1;
        for (let row = 0; row < rows; row++) {
          const timeS = k / rateHz + (readoutS * (b + (row + 0.5) / rows)) / BANDS;
          light += (lamp.depth / rows) * Math.cos(2 * Math.PI * lamp.hz * timeS + 1);
        }
      }
      const turn = (2 * Math.PI * k) / rateHz;
      if (passing) light += passing.depth * size[b] * Math.cos(turn * passing.hz + phase[b]);
      if (common) light += common.depth * Math.cos(turn * common.hz);
      mean[k * BANDS + b] = MEAN_GREY * light;
    }
  }
  return { timeS: Float64Array.from({ length: count }, (_, k) => k / rateHz), bands: BANDS, mean };
}
