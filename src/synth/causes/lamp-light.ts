/** Light of flickering lamps as an exposure collects it, as a factor on steady light; each row of a rolling shutter by itself. */
import type { LampOptions } from './options.js';

/**
 * Mean of 1 + depth sin(2 pi f t) over an exposure.
 *
 * @param middleS its middle
 * @param exposureS its length; 0 for an instant
 * @example lampLight({ freqHz: 100, depth: 0.5 }, 0.0025, 0) // 1.5
 */
export function lampLight({ freqHz, depth }: LampOptions, middleS: number, exposureS: number): number {
  const half = Math.PI * freqHz * exposureS;
  const kept = half === 0 ? 1 : Math.sin(half) / half;
  return 1 + depth * kept * Math.sin(2 * Math.PI * freqHz * middleS);
}

/**
 * Multiplies a picture by the light of its exposure, in place.
 *
 * @param luma row by row
 * @param timeS middle of the exposure of the middle row
 * @param readoutS from the top row to the bottom one; 0 for a global shutter
 */
export function lightRows(
  luma: Float32Array,
  widthPx: number,
  lamps: LampOptions,
  timeS: number,
  exposureS: number,
  readoutS: number,
): void {
  const rows = luma.length / widthPx;
  for (let row = 0; row < rows; row++) {
    const light = lampLight(lamps, timeS + ((row - (rows - 1) / 2) / rows) * readoutS, exposureS);
    const end = (row + 1) * widthPx;
    for (let i = row * widthPx; i < end; i++) luma[i] *= light;
  }
}
