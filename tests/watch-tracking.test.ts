/** What can be watched while a clip is tracked. */
import { describe, expect, it, vi } from 'vitest';
import type { RoughAngles, TrackedLook } from '../src/measure-request.js';
import type { FollowedFrame } from '../src/tracking/index.js';
import { watchTracking } from '../src/watch-tracking.js';
import { expectWithin } from './support/expect-within.js';

const SIZE = { widthPx: 8, heightPx: 4 };
const CAMERA = { ...SIZE, focalPx: 1000, centreXPx: 3.5, centreYPx: 1.5, distortion: null };
/** Nine points on a square grid. */
const GRID = {
  xPx: Float32Array.from({ length: 9 }, (_, k) => 3 * (k % 3)),
  yPx: Float32Array.from({ length: 9 }, (_, k) => 2 * Math.floor(k / 3)),
};
const NONE = { xPx: new Float32Array(0), yPx: new Float32Array(0) };

/** A frame into which the picture moved to the left by so many px. */
function frame(k: number, leftPx: number | null): FollowedFrame {
  return {
    ...{ timeS: k / 25, ...SIZE, grey: new Uint8Array(32).fill(k) },
    before: leftPx === null ? NONE : GRID,
    after: leftPx === null ? NONE : { ...GRID, xPx: GRID.xPx.map((x) => x - leftPx) },
  };
}

describe('watching the tracker', () => {
  it('asks nothing of the tracker when nobody watches', () => {
    expect(watchTracking({}, () => CAMERA)).toEqual({});
  });

  it('sums the turns from the first frame on, and holds them where none can be told', () => {
    const told: RoughAngles[] = [];
    const { onFollowed } = watchTracking({ onAngles: (angles) => told.push(angles) }, () => CAMERA);
    for (const [k, leftPx] of [null, 1, 1, null, 2].entries()) onFollowed?.(frame(k, leftPx));
    expect(told.map(({ timeS }) => timeS)).toEqual([0, 0.04, 0.08, 0.12, 0.16]);
    [0, 1, 2, 2, 4].forEach((leftPx, k) =>
      expectWithin(told[k].panRad, leftPx / 1000, { abs: 1e-6, why: 'single precision of the points' }),
    );
  });

  it('shows four frames a second at most, each a copy', () => {
    vi.useFakeTimers({ toFake: ['performance'] });
    try {
      const looks: TrackedLook[] = [];
      const { onFollowed } = watchTracking({ onLook: (look) => looks.push(look) }, () => CAMERA);
      const lent = frame(0, 1);
      for (let k = 0; k < 50; k++) {
        onFollowed?.(lent);
        vi.advanceTimersByTime(20);
      }
      expect(looks).toHaveLength(4);
      lent.grey.fill(99);
      expect(looks[0]).toMatchObject({ ...SIZE, grey: new Uint8Array(32), xPx: lent.after.xPx });
    } finally {
      vi.useRealTimers();
    }
  });
});
