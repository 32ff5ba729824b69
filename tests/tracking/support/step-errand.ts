/** What the pool of workers is asked for each frame, with everything that a test does not care for left empty. */
import type { StepErrand } from '../../../src/tracking/worker-pool.js';

/** No points at all. */
export const NO_POINTS = { xPx: new Float32Array(), yPx: new Float32Array() };

/** A step into a frame; nothing is followed, cut or refined unless told. */
export function stepInto(grey: Uint8Array, told: Partial<StepErrand> = {}): StepErrand {
  const tracks = told.tracks ?? new Int32Array();
  const nothing = { tracks: new Int32Array(), points: NO_POINTS };
  const points = told.points ?? NO_POINTS;
  return { grey, relight: null, cut: nothing, refine: false, tracks, points, predicted: points, ...told };
}
