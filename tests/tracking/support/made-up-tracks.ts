/** Track tables made from a formula instead of pictures. */
import type { TrackTable } from '../../../src/tracking/index.js';
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';

/** How made-up tracks move: displacement in px at a frame of the track that starts at (x, y). */
export type Motion = (frame: number, xPx: number, yPx: number, track: number) => readonly [number, number];

export interface MadeUpOptions {
  readonly tracks?: number;
  readonly frames?: number;
  readonly noisePx: number;
  readonly seed?: number;
  readonly motion?: Motion;
  readonly timeS?: (frame: number) => number;
}

/** A table of tracks that all live through all frames, with white noise of the given standard deviation per axis. */
export function madeUpTracks(options: MadeUpOptions): TrackTable {
  const {
    tracks = 200,
    frames = 40,
    noisePx,
    seed = 1,
    motion = () => [0, 0],
    timeS = (k) => k / 25,
  } = options;
  const uniform = seededRandom(seed);
  const normal = gaussianRandom(uniform);
  const total = tracks * frames;
  const xPx = new Float64Array(total);
  const yPx = new Float64Array(total);
  const obsFrame = new Int32Array(total);
  for (let track = 0; track < tracks; track++) {
    const x = 30 + 900 * uniform();
    const y = 30 + 480 * uniform();
    for (let k = 0; k < frames; k++) {
      const i = track * frames + k;
      const [dx, dy] = motion(k, x, y, track);
      obsFrame[i] = k;
      xPx[i] = x + dx + noisePx * normal();
      yPx[i] = y + dy + noisePx * normal();
    }
  }
  return {
    widthPx: 960,
    heightPx: 540,
    frameCount: frames,
    timeS: Float64Array.from({ length: frames }, (_, k) => timeS(k)),
    trackCount: tracks,
    trackStart: Int32Array.from({ length: tracks + 1 }, (_, i) => i * frames),
    obsFrame,
    xPx,
    yPx,
  };
}
