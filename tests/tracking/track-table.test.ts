import { describe, expect, it } from 'vitest';
import { buildTrackTable, coverageOf, liveCounts } from '../../src/tracking/track-table.js';

/** A log in which track t lives from frame `from[t]` for `length[t]` frames, at x = 100 t + frame. */
function logOf(from: number[], length: number[]): Parameters<typeof buildTrackTable>[0] {
  const log = { track: [] as number[], frame: [] as number[], xPx: [] as number[], yPx: [] as number[] };
  for (let frame = 0; frame < 20; frame++) {
    for (let track = 0; track < from.length; track++) {
      if (frame < from[track] || frame >= from[track] + length[track]) continue;
      log.track.push(track);
      log.frame.push(frame);
      log.xPx.push(100 * track + frame);
      log.yPx.push(10 * track);
    }
  }
  return log;
}

const timeS = Array.from({ length: 20 }, (_, k) => 2 + k / 25);
const every = Array.from({ length: 20 }, (_, k) => k);

describe('the track table', () => {
  it('holds each track of six frames or more, sorted by track and frame, and no shorter one', () => {
    const log = logOf([0, 3, 5], [10, 5, 6]);
    const table = buildTrackTable(log, { widthPx: 960, heightPx: 540, frames: every, timeS });
    expect(table.trackCount).toBe(2);
    expect([...table.trackStart]).toEqual([0, 10, 16]);
    expect([...table.obsFrame]).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 5, 6, 7, 8, 9, 10]);
    expect([...table.xPx.slice(10)]).toEqual([205, 206, 207, 208, 209, 210]);
    expect(table.frameCount).toBe(20);
  });

  it('leaves out frames with their time stamps, numbers the rest anew and counts only what is left of a track', () => {
    const log = logOf([0, 4], [12, 6]);
    const frames = every.filter((k) => k >= 2 && k !== 5);
    const table = buildTrackTable(log, { widthPx: 960, heightPx: 540, frames, timeS });
    expect(table.trackCount).toBe(1);
    expect([...table.obsFrame]).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8]);
    expect([...table.xPx]).toEqual([2, 3, 4, 6, 7, 8, 9, 10, 11]);
    expect(table.timeS[3]).toBe(2 + 6 / 25);
    expect(table.frameCount).toBe(17);
    expect([...liveCounts(table)]).toEqual([1, 1, 1, 1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0]);
  });

  it('gives the coverage as the mean share of filled buckets', () => {
    // Two tracks in two buckets for half of the frames: 2 of 144 buckets, half of the time.
    const table = buildTrackTable(logOf([0, 0], [10, 10]), {
      widthPx: 960,
      heightPx: 540,
      frames: every,
      timeS,
    });
    expect(coverageOf(table)).toBeCloseTo(1 / 144, 12);
  });

  it('is empty but whole without observations', () => {
    const table = buildTrackTable(logOf([], []), { widthPx: 960, heightPx: 540, frames: every, timeS });
    expect(table.trackCount).toBe(0);
    expect([...table.trackStart]).toEqual([0]);
    expect(coverageOf(table)).toBe(0);
    expect(liveCounts(table)).toHaveLength(20);
  });
});
