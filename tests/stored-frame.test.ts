/** The points of the frame that a report shows. */
import { describe, expect, it } from 'vitest';
import { MOST_POINTS, storedFrame } from '../src/stored-frame.js';
import type { TrackTable } from '../src/tracking/index.js';

/** `perFrame` points in each of three frames at 0, 0.04 and 0.08 s, each track seen in one frame. */
function tableOf(perFrame: number): TrackTable {
  const trackCount = 3 * perFrame;
  const index = Array.from({ length: trackCount }, (_, i) => i);
  return {
    widthPx: 100,
    heightPx: 50,
    frameCount: 3,
    timeS: Float64Array.of(0, 0.04, 0.08),
    trackCount,
    trackStart: Int32Array.from({ length: trackCount + 1 }, (_, i) => i),
    obsFrame: Int32Array.from(index, (i) => Math.floor(i / perFrame)),
    xPx: Float64Array.from(index, (i) => (i % perFrame) * (99 / Math.max(1, perFrame - 1))),
    yPx: Float64Array.from(index, (i) => 10 * Math.floor(i / perFrame) - 0.5),
  };
}

describe('the frame of a report', () => {
  it('holds the points of the frame on screen as fractions, and whether each was kept', () => {
    const frame = storedFrame(tableOf(2), Uint8Array.of(0, 0, 1, 0, 1, 1), 0.05);
    // Pixel centres on whole numbers: column 0 of 100 has its middle at 0.005 of the width, column 99 at 0.995.
    expect(frame).toEqual({ atS: 0.05, pointsX: [0.005, 0.995], pointsY: [0.2, 0.2], kept: [1, 0] });
  });

  it.each([
    [-1, 0],
    [0.0399999, 1],
    [0.0799, 2],
    [5, 2],
  ])(
    'takes at %d s the last frame that is not later, time stamps rounded to the millisecond',
    (atS, frame) => {
      // Row of frame k is 10 k - 0.5, of a height of 50.
      expect(storedFrame(tableOf(1), new Uint8Array(3), atS).pointsY).toEqual([frame / 5]);
    },
  );

  it('chooses evenly where there are too many', () => {
    const { pointsX, kept } = storedFrame(tableOf(1000), new Uint8Array(3000).fill(1), 0);
    expect(pointsX).toHaveLength(MOST_POINTS);
    expect(kept).toHaveLength(MOST_POINTS);
    expect([pointsX[0], pointsX[MOST_POINTS - 1]]).toEqual([0.005, 0.995]);
    const steps = pointsX.slice(1).map((x, i) => x - pointsX[i]);
    // 600 of 1000 left out: neighbours are two or three apart, 0.001 of the width each, rounded to 0.0001.
    expect(Math.max(...steps)).toBeLessThan(0.0032);
  });
});
