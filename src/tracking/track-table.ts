/** Builds the track table from the log of observations: kept frames only, short tracks dropped, sorted by track then frame. */
import { BUCKETS, bucketOf } from './buckets.js';
import type { ObservationLog } from './live-tracks.js';
import { LEAST_FRAMES } from './options.js';
import type { TrackTable } from './types.js';

/** Size of the analysis picture and which decoded frames the table covers. */
export interface TableFrames {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Decoded frames that are kept, rising. */
  readonly frames: readonly number[];
  /** Time of every decoded frame, s. */
  readonly timeS: readonly number[];
}

/** The table over the frames of `cover`; frames are numbered anew from 0 and tracks under six frames are dropped. */
export function buildTrackTable(log: ObservationLog, cover: TableFrames): TrackTable {
  const tableFrame = new Int32Array(cover.timeS.length).fill(-1);
  cover.frames.forEach((frame, i) => (tableFrame[frame] = i));

  let ids = 0;
  for (const id of log.track) ids = Math.max(ids, id + 1);
  const seen = new Int32Array(ids);
  for (let i = 0; i < log.track.length; i++) if (tableFrame[log.frame[i]] >= 0) seen[log.track[i]] += 1;

  const trackOf = new Int32Array(ids).fill(-1);
  const starts: number[] = [0];
  for (let id = 0; id < ids; id++) {
    if (seen[id] < LEAST_FRAMES) continue;
    trackOf[id] = starts.length - 1;
    starts.push(starts[starts.length - 1] + seen[id]);
  }

  const trackStart = Int32Array.from(starts);
  const total = trackStart[trackStart.length - 1];
  const next = trackStart.slice();
  const obsFrame = new Int32Array(total);
  const xPx = new Float64Array(total);
  const yPx = new Float64Array(total);
  // The log runs frame by frame, so filling in its order leaves each track sorted by frame.
  for (let i = 0; i < log.track.length; i++) {
    const track = trackOf[log.track[i]];
    const frame = tableFrame[log.frame[i]];
    if (track < 0 || frame < 0) continue;
    const at = next[track]++;
    obsFrame[at] = frame;
    xPx[at] = log.xPx[i];
    yPx[at] = log.yPx[i];
  }
  return {
    widthPx: cover.widthPx,
    heightPx: cover.heightPx,
    frameCount: cover.frames.length,
    timeS: Float64Array.from(cover.frames, (frame) => cover.timeS[frame]),
    trackCount: trackStart.length - 1,
    trackStart,
    obsFrame,
    xPx,
    yPx,
  };
}

/** Tracks in each frame of the table. */
export function liveCounts(table: TrackTable): Int32Array {
  const counts = new Int32Array(table.frameCount);
  for (const frame of table.obsFrame) counts[frame] += 1;
  return counts;
}

/** Share of the buckets of the grid that hold a track, mean over the frames, 0..1; 0 for a table without frames. */
export function coverageOf(table: TrackTable): number {
  const filled = new Uint8Array(BUCKETS * table.frameCount);
  for (let i = 0; i < table.obsFrame.length; i++) {
    filled[
      table.obsFrame[i] * BUCKETS + bucketOf(table.xPx[i], table.yPx[i], table.widthPx, table.heightPx)
    ] = 1;
  }
  let sum = 0;
  for (const one of filled) sum += one;
  return filled.length ? sum / filled.length : 0;
}
