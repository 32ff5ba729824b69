/** Compares tracks with the known motion of the texture they were taken from. */
import type { TrackTable } from '../../../src/tracking/index.js';
import type { AnalyticTexture, Placement } from './analytic-texture.js';

/** Errors of the positions against the motion of each track's first position, px. */
export interface TrackErrors {
  /** RMS per axis over all observations after the first of each track. */
  readonly rmsPx: number;
  /** RMS over frames and axes of the mean error of all tracks: what they share and no averaging removes. */
  readonly sharedPx: number;
  readonly worstPx: number;
}

/** Errors of a table whose frame k shows the texture at place(k). */
export function trackErrors(
  table: TrackTable,
  texture: AnalyticTexture,
  place: (frame: number) => Placement,
): TrackErrors {
  const sumX = new Float64Array(table.frameCount);
  const sumY = new Float64Array(table.frameCount);
  const seen = new Float64Array(table.frameCount);
  let squares = 0;
  let count = 0;
  let worstPx = 0;
  for (let track = 0; track < table.trackCount; track++) {
    const first = table.trackStart[track];
    const from = place(table.obsFrame[first]);
    for (let i = first + 1; i < table.trackStart[track + 1]; i++) {
      const frame = table.obsFrame[i];
      const [x, y] = texture.follow(from, place(frame), table.xPx[first], table.yPx[first]);
      const [ex, ey] = [table.xPx[i] - x, table.yPx[i] - y];
      squares += ex * ex + ey * ey;
      count += 2;
      worstPx = Math.max(worstPx, Math.hypot(ex, ey));
      sumX[frame] += ex;
      sumY[frame] += ey;
      seen[frame] += 1;
    }
  }
  let shared = 0;
  let frames = 0;
  for (let k = 0; k < table.frameCount; k++) {
    if (seen[k] === 0) continue;
    shared += (sumX[k] / seen[k]) ** 2 + (sumY[k] / seen[k]) ** 2;
    frames += 2;
  }
  return { rmsPx: Math.sqrt(squares / count), sharedPx: Math.sqrt(shared / frames), worstPx };
}
