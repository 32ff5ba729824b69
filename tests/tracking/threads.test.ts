/** Sameness of results and behaviour of the workers when things end early. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import type { GreyFrame } from '../../src/footage/index.js';
import { TrundleError } from '../../src/run/index.js';
import { trackFrames } from '../../src/tracking/index.js';
import { WorkerPool } from '../../src/tracking/worker-pool.js';
import { AnalyticTexture, clipOf, type Placement } from './support/analytic-texture.js';
import { stepInto } from './support/step-errand.js';

const SIZE = { widthPx: 320, heightPx: 180 };
const texture = new AnalyticTexture({ seed: 5, ...SIZE, finestPx: 5 });

/** A travel with one jerk of 14 px, which no prediction foresees. */
function place(k: number): Placement {
  return { shiftXPx: 1.3 * k + (k >= 9 ? 14 : 0), shiftYPx: Math.sin(k), turnRad: 0.002 * Math.sin(k) };
}

const pictures = Array.from({ length: 18 }, (_, k) => texture.picture(place(k), 2, k + 1));

/** Frames without end; `closed` is called when the reader lets go. */
async function* endless(closed: () => void): AsyncGenerator<GreyFrame> {
  try {
    for (let index = 0; ; index++) {
      await new Promise((resolve) => setTimeout(resolve, 1));
      yield { index, timeS: index / 25, type: '?', ...SIZE, grey: pictures[index % pictures.length] };
    }
  } finally {
    closed();
  }
}

/** A clip that cannot be decoded. */
function failing(failure: Error): AsyncIterable<GreyFrame> {
  return { [Symbol.asyncIterator]: () => ({ next: () => Promise.reject(failure) }) };
}

describe('trackFrames on several threads', () => {
  it('gives the same result bit for bit on one and on two threads, and on repeat', async () => {
    const once = await trackFrames(clipOf(pictures, SIZE), { threads: 1, seed: 3 });
    for (const threads of [1, 2]) {
      expect(await trackFrames(clipOf(pictures, SIZE), { threads, seed: 3 })).toEqual(once);
    }
    // The jerk is followed, not lost: it is longer than the fine levels of the pyramid reach.
    const across = Array.from(once.table.obsFrame).filter((frame) => frame === 9).length;
    expect(across).toBeGreaterThan(100);
  });

  it('places its starts elsewhere with another seed', async () => {
    const [a, b] = await Promise.all(
      [1, 2].map((seed) => trackFrames(clipOf(pictures.slice(0, 8), SIZE), { threads: 1, seed })),
    );
    expect(a.table.xPx[0]).not.toBe(b.table.xPx[0]);
  });

  it('shows each frame once it is done, with the points that were found again, and gives the same result', async () => {
    const shown: { timeS: number; grey: number; before: Float32Array; after: Float32Array }[] = [];
    const watched = await trackFrames(clipOf(pictures.slice(0, 8), SIZE), {
      threads: 1,
      onFollowed: ({ timeS, grey, before, after }) =>
        shown.push({ timeS, grey: grey[1000], before: before.xPx, after: after.xPx }),
    });
    expect(watched).toEqual(await trackFrames(clipOf(pictures.slice(0, 8), SIZE), { threads: 1 }));
    expect(shown.map(({ grey }) => grey)).toEqual(pictures.slice(0, 8).map((picture) => picture[1000]));
    expect(shown[0].after).toHaveLength(0);
    for (const { before, after } of shown.slice(1)) {
      expect(after.length).toBeGreaterThan(100);
      const steps = after.map((x, i) => x - before[i]).sort();
      // The picture travels 1.3 px a frame and turns by up to 0.002 rad, which is 0.2 px half-way up.
      expect(Math.abs(Math.abs(steps[steps.length >> 1]) - 1.3)).toBeLessThan(0.4);
    }
  });

  it('counts the frames as they are done', async () => {
    const counts: number[] = [];
    await trackFrames(clipOf(pictures.slice(0, 7), SIZE), {
      threads: 1,
      onFrame: (count) => counts.push(count),
    });
    expect(counts).toEqual([1, 2, 3, 4, 5, 6, 7]);
  });

  it('does not change the frames it is given', async () => {
    const copies = pictures.slice(0, 4).map((grey) => grey.slice());
    await trackFrames(clipOf(copies, SIZE), { threads: 2 });
    expect(copies).toEqual(pictures.slice(0, 4));
  });

  it('stops with "interrupted" when the signal fires, and lets go of the decoder', async () => {
    const controller = new AbortController();
    let closed = false;
    const running = trackFrames(
      endless(() => (closed = true)),
      { threads: 1, signal: controller.signal, onFrame: (count) => count === 5 && controller.abort() },
    );
    await expect(running).rejects.toMatchObject({
      name: 'TrundleError',
      code: 'interrupted',
      exitStatus: 130,
    });
    await new Promise((resolve) => setTimeout(resolve, 20));
    expect(closed).toBe(true);
  });

  it('does not start when the signal has fired before, even with a decoder that never answers', async () => {
    const silent: AsyncIterable<GreyFrame> = {
      [Symbol.asyncIterator]: () => ({
        next: () => new Promise(() => undefined),
        return: () => new Promise(() => undefined),
      }),
    };
    await expect(trackFrames(silent, { signal: AbortSignal.abort() })).rejects.toBeInstanceOf(TrundleError);
  });

  it('passes on what the decoder throws, unchanged', async () => {
    const failure = new TrundleError('decode-failed', 'The file ends in the middle of a frame.');
    async function* broken(): AsyncGenerator<GreyFrame> {
      yield* clipOf(pictures.slice(0, 3), SIZE);
      throw failure;
    }
    await expect(trackFrames(broken(), { threads: 1 })).rejects.toBe(failure);
  });

  it('lets go of the decoder when a frame has another size', async () => {
    let closed = false;
    async function* changing(): AsyncGenerator<GreyFrame> {
      try {
        yield* clipOf(pictures.slice(0, 2), SIZE);
        yield { index: 2, timeS: 0.08, type: '?', widthPx: 16, heightPx: 9, grey: new Uint8Array(144) };
        yield* clipOf(pictures, SIZE);
      } finally {
        closed = true;
      }
    }
    await expect(trackFrames(changing(), { threads: 1 })).rejects.toThrow(
      /frame 2: expected 320 x 180 px as before, got 16 x 9/,
    );
    expect(closed).toBe(true);
  });

  it('refuses options out of range before it reads anything', async () => {
    const unread = endless(() => undefined);
    await expect(trackFrames(unread, { threads: 0 })).rejects.toThrow(
      /threads: expected a whole number from 1, got 0/,
    );
    await expect(trackFrames(unread, { targetTracks: 2.5 })).rejects.toThrow(/targetTracks/);
    await expect(trackFrames(unread, { ditherPx: -1 })).rejects.toThrow(/ditherPx/);
  });
});

describe('workers that are started before the first frame is there', () => {
  const frames = pictures.slice(0, 4);
  const failure = new TrundleError('decode-failed', 'There is no picture in it.');
  afterEach(() => vi.restoreAllMocks());

  it.each([
    ['foretold rightly', SIZE, 1],
    ['foretold wrongly', { widthPx: 64, heightPx: 64 }, 2],
  ])('give the same result where the size was %s, and none is left behind', async (_, expected, pools) => {
    const plain = await trackFrames(clipOf(frames, SIZE), { threads: 1 });
    const started = vi.spyOn(WorkerPool, 'start');
    const closed = vi.spyOn(WorkerPool.prototype, 'close');
    expect(await trackFrames(clipOf(frames, SIZE), { threads: 1, expected })).toEqual(plain);
    expect(started).toHaveBeenCalledTimes(pools);
    expect(new Set(closed.mock.contexts).size).toBe(pools);
  });

  it('are ended where the clip gives no frame, and where it cannot be decoded', async () => {
    const closed = vi.spyOn(WorkerPool.prototype, 'close');
    const { table } = await trackFrames(clipOf([], SIZE), { threads: 1, expected: SIZE });
    expect(table.frameCount).toBe(0);
    await expect(trackFrames(failing(failure), { threads: 1, expected: SIZE })).rejects.toBe(failure);
    expect(closed).toHaveBeenCalledTimes(2);
  });

  it('are missed only once a frame is there: what is wrong with the clip is told first', async () => {
    const noWorker = new Error('no worker could be started');
    vi.spyOn(WorkerPool, 'start').mockRejectedValue(noWorker);
    await expect(trackFrames(failing(failure), { threads: 1, expected: SIZE })).rejects.toBe(failure);
    await expect(trackFrames(clipOf(frames, SIZE), { threads: 1, expected: SIZE })).rejects.toBe(noWorker);
  });
});

describe('the worker pool', () => {
  it('rejects with a clear error when a worker dies in the middle', async () => {
    const workerUrl = new URL('./support/dying-worker.ts', import.meta.url);
    const pool = await WorkerPool.start({ threads: 2, ...SIZE, workerUrl });
    await expect(pool.step(stepInto(pictures[0]))).rejects.toThrow(
      'A tracking worker stopped in the middle of the clip (status 3).',
    );
    await expect(pool.again()).rejects.toThrow(/stopped in the middle/);
    await pool.close();
  });

  it("rejects with the worker's own message when it fails at a request", async () => {
    const pool = await WorkerPool.start({ threads: 1, ...SIZE });
    const points = { xPx: Float32Array.of(50), yPx: Float32Array.of(50) };
    await expect(pool.step(stepInto(pictures[0], { tracks: Int32Array.of(0), points }))).rejects.toThrow(
      /A tracking worker failed: .*Two pictures must be pushed/s,
    );
    await pool.close();
  });

  it('rejects at the start when the worker cannot be loaded', async () => {
    const workerUrl = new URL('./support/no-such-worker.js', import.meta.url);
    await expect(WorkerPool.start({ threads: 1, ...SIZE, workerUrl })).rejects.toThrow(
      /A tracking worker died/,
    );
  });
});
