/**
 * The observations that the split works on: image points normalised by the focal length, lens distortion removed,
 * as columns sorted by track and then by frame, with a second index sorted by frame.
 */
import { normalisePoints, type Camera } from '../optics/index.js';
import type { TrackTable } from '../tracking/index.js';

/** Tracks seen in fewer frames than this tell too little about their own depth to be worth three unknowns. */
export const SHORTEST_TRACK_FRAMES = 6;

/** Observations above this final weight count as kept. */
export const KEPT_WEIGHT = 0.25;

/** Observations as columns. Track i owns the entries trackStart[i] .. trackStart[i+1]-1. */
export interface Observations {
  readonly frameCount: number;
  readonly trackCount: number;
  readonly count: number;
  /** Length trackCount + 1. */
  readonly trackStart: Int32Array;
  /** Frame and track of each observation, length count. */
  readonly frame: Int32Array;
  readonly track: Int32Array;
  /** Image point over focal length (x right, y down, 0 on the optical axis), length count. */
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** Place of the picture row it was measured in, lens distortion included: 0 at the upper edge, 1 at the lower one. */
  readonly rowShare: Float64Array;
  /** Frame t owns byFrame[frameStart[t]] .. byFrame[frameStart[t+1]-1], observation numbers in order of track. */
  readonly frameStart: Int32Array;
  readonly byFrame: Int32Array;
}

/** A part of a set of observations, and which track of the whole each of its tracks is. */
export interface ObservationWindow {
  readonly observations: Observations;
  /** Track number in the whole set, length observations.trackCount. */
  readonly trackOfWhole: Int32Array;
}

/** The tracks that two frames share, with their normalised image points, all columns of equal length. */
export interface SharedTracks {
  readonly track: Int32Array;
  readonly x1: Float64Array;
  readonly y1: Float64Array;
  readonly x2: Float64Array;
  readonly y2: Float64Array;
}

/**
 * Observations of a track table through a camera; tracks below SHORTEST_TRACK_FRAMES and points that are not finite
 * are left out.
 *
 * @throws RangeError when the columns of the table do not fit one another
 */
export function prepareObservations(table: TrackTable, camera: Camera): ObservationWindow {
  const { trackCount, trackStart, obsFrame, xPx, yPx } = table;
  if (trackStart.length !== trackCount + 1 || obsFrame.length !== xPx.length || xPx.length !== yPx.length) {
    throw new RangeError(
      `track table: ${trackCount} tracks need trackStart of length ${trackCount + 1} and equal columns, ` +
        `got ${trackStart.length}; ${obsFrame.length}, ${xPx.length}, ${yPx.length}`,
    );
  }
  const { x, y } = normalisePoints(camera, xPx, yPx);
  const rowShare = yPx.map((row) => (row + 0.5) / table.heightPx);
  const usable = (o: number): boolean => Number.isFinite(x[o]) && Number.isFinite(y[o]);
  const columns = { trackCount, trackStart, frame: obsFrame, x, y, rowShare };
  return select(columns, table.frameCount, SHORTEST_TRACK_FRAMES, usable, 0);
}

/**
 * What became of each observation of the table.
 *
 * @param prepared observations of that table, as `prepareObservations` gives them
 * @param weights final weight of each prepared observation, 0..1
 * @returns length of the table's columns: 1 where the weight is above KEPT_WEIGHT, 0 elsewhere and where the observation took no part
 */
export function keptObservations(
  { trackStart, obsFrame }: Pick<TrackTable, 'trackStart' | 'obsFrame'>,
  { observations, trackOfWhole }: ObservationWindow,
  weights: Float64Array,
): Uint8Array {
  const kept = new Uint8Array(obsFrame.length);
  trackOfWhole.forEach((whole, i) => {
    // Both are in order of frame; points that are not finite were left out of the prepared ones.
    let at = trackStart[whole];
    for (let o = observations.trackStart[i]; o < observations.trackStart[i + 1]; o++) {
      while (obsFrame[at] < observations.frame[o]) at++;
      if (weights[o] > KEPT_WEIGHT) kept[at] = 1;
    }
  });
  return kept;
}

/** The frames from..to-1 as a set of their own (frame numbers from 0), with the tracks seen at least `atLeast` times in it. */
export function windowOf(whole: Observations, from: number, to: number, atLeast: number): ObservationWindow {
  const inside = (o: number): boolean => whole.frame[o] >= from && whole.frame[o] < to;
  return select(whole, to - from, atLeast, inside, from);
}

/** The tracks that are wanted, numbered anew, over the same frames. */
export function pickTracks(whole: Observations, wanted: (track: number) => boolean): Observations {
  return select(whole, whole.frameCount, 1, (o) => wanted(whole.track[o]), 0).observations;
}

/** The tracks seen in both frames, in order of track. */
export function sharedTracks(obs: Observations, first: number, second: number): SharedTracks {
  const { frameStart, byFrame, track, x, y } = obs;
  const pairs: number[] = [];
  let i = frameStart[first];
  let j = frameStart[second];
  while (i < frameStart[first + 1] && j < frameStart[second + 1]) {
    const difference = track[byFrame[i]] - track[byFrame[j]];
    if (difference === 0) pairs.push(byFrame[i++], byFrame[j++]);
    else if (difference < 0) i++;
    else j++;
  }
  const count = pairs.length / 2;
  const column = (from: Float64Array, side: number): Float64Array =>
    Float64Array.from({ length: count }, (_, k) => from[pairs[2 * k + side]]);
  return {
    track: Int32Array.from({ length: count }, (_, k) => track[pairs[2 * k]]),
    x1: column(x, 0),
    y1: column(y, 0),
    x2: column(x, 1),
    y2: column(y, 1),
  };
}

/** How many tracks frame t sees. */
export function liveTracks(obs: Observations, t: number): number {
  return obs.frameStart[t + 1] - obs.frameStart[t];
}

type Columns = Pick<Observations, 'trackCount' | 'trackStart' | 'frame' | 'x' | 'y' | 'rowShare'>;

function select(
  { trackCount, trackStart, frame, x, y, rowShare }: Columns,
  frameCount: number,
  atLeast: number,
  wanted: (o: number) => boolean,
  firstFrame: number,
): ObservationWindow {
  const kept: number[] = [];
  const starts: number[] = [0];
  const tracks: number[] = [];
  for (let i = 0; i < trackCount; i++) {
    const before = kept.length;
    for (let o = trackStart[i]; o < trackStart[i + 1]; o++) if (wanted(o)) kept.push(o);
    if (kept.length - before < atLeast) {
      kept.length = before;
      continue;
    }
    tracks.push(i);
    starts.push(kept.length);
  }
  const observations = indexed(frameCount, {
    trackCount: tracks.length,
    trackStart: Int32Array.from(starts),
    frame: Int32Array.from(kept, (o) => frame[o] - firstFrame),
    x: Float64Array.from(kept, (o) => x[o]),
    y: Float64Array.from(kept, (o) => y[o]),
    rowShare: Float64Array.from(kept, (o) => rowShare[o]),
  });
  return { observations, trackOfWhole: Int32Array.from(tracks) };
}

/** Adds the track column and the index by frame (a counting sort, so that tracks stay in order within a frame). */
function indexed(frameCount: number, columns: Columns): Observations {
  const { trackCount, trackStart, frame } = columns;
  const count = frame.length;
  const track = new Int32Array(count);
  const frameStart = new Int32Array(frameCount + 1);
  for (let i = 0; i < trackCount; i++) track.fill(i, trackStart[i], trackStart[i + 1]);
  for (let o = 0; o < count; o++) frameStart[frame[o] + 1]++;
  for (let t = 0; t < frameCount; t++) frameStart[t + 1] += frameStart[t];
  const next = frameStart.slice();
  const byFrame = new Int32Array(count);
  for (let o = 0; o < count; o++) byFrame[next[frame[o]]++] = o;
  return { ...columns, frameCount, count, track, frameStart, byFrame };
}
