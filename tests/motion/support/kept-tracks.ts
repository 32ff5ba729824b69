/** Which tracks of a simulated pass the reconstruction trusted, looked up in its own weights. */
import { evenTime } from '../../../src/motion/even-time.js';
import { prepareObservations } from '../../../src/motion/observations.js';
import { resolveSplitOptions } from '../../../src/motion/options.js';
import { reconstruct } from '../../../src/motion/reconstruct.js';
import type { SimulatedPass } from './simulated-tracks.js';

/** How many tracks of two kinds there are and were kept (weight above one half). */
export interface KeptTracks {
  readonly honest: number;
  readonly honestKept: number;
  readonly stray: number;
  readonly strayKept: number;
}

/** Counts the kept tracks of a pass; `isStray` holds 1 for tracks that ought to be thrown out. */
export function keptTracks({ table, camera, travelM }: SimulatedPass, isStray: Uint8Array): KeptTracks {
  const { observations, trackOfWhole } = prepareObservations(table, camera);
  const clip = {
    rateHz: evenTime(table.timeS).rateHz,
    timeS: table.timeS,
    unitPerPx: camera.widthPx / 960 / camera.focalPx,
  };
  const durationS = table.timeS[table.frameCount - 1] - table.timeS[0];
  const settings = resolveSplitOptions({ travelM, interCoded: false }, durationS);
  const { trackWeights } = reconstruct(observations, camera, clip, settings).scene;
  const count = { honest: 0, honestKept: 0, stray: 0, strayKept: 0 };
  trackOfWhole.forEach((i, k) => {
    const kept = trackWeights[k] > 0.5 ? 1 : 0;
    if (isStray[i]) {
      count.stray++;
      count.strayKept += kept;
    } else {
      count.honest++;
      count.honestKept += kept;
    }
  });
  return count;
}
