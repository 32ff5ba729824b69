import { describe, expect, it } from 'vitest';
import { KEPT_WEIGHT, keptObservations, prepareObservations } from '../../src/motion/observations.js';

const CAMERA = {
  widthPx: 960,
  heightPx: 540,
  focalPx: 1000,
  centreXPx: 479.5,
  centreYPx: 269.5,
  distortion: null,
};

describe('what became of each observation', () => {
  // Track 0: three frames, too short to take part. Track 1: eight frames, of which one point is not finite. Track 2: seven frames.
  const lengths = [3, 8, 7];
  const obsFrame = Int32Array.from(lengths.flatMap((n) => Array.from({ length: n }, (_, t) => t)));
  const table = {
    widthPx: 960,
    heightPx: 540,
    frameCount: 8,
    timeS: Float64Array.from({ length: 8 }, (_, t) => t / 25),
    trackCount: 3,
    trackStart: Int32Array.of(0, 3, 11, 18),
    obsFrame,
    xPx: Float64Array.from(obsFrame, (_, o) => (o === 5 ? NaN : 10 * o)),
    yPx: Float64Array.from(obsFrame, () => 100),
  };

  it('stands at its own place in the table, zero where it took no part', () => {
    const prepared = prepareObservations(table, CAMERA);
    const { count, track, frame } = prepared.observations;
    // The longest track is kept but for its last frame; the other one is not.
    const weights = Float64Array.from({ length: count }, (_, o) =>
      track[o] === 0 && frame[o] < 7 ? 1 : KEPT_WEIGHT,
    );
    expect([...keptObservations(table, prepared, weights)]).toEqual([
      ...[0, 0, 0],
      ...[1, 1, 0, 1, 1, 1, 1, 0],
      ...[0, 0, 0, 0, 0, 0, 0],
    ]);
  });
});
