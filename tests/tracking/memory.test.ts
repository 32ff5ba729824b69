/** Memory over a long clip: nothing of a frame may stay behind, in the program or in the image engine. */
import { expect, it } from 'vitest';
import { WorkerPool } from '../../src/tracking/worker-pool.js';
import { AnalyticTexture } from './support/analytic-texture.js';
import { stepInto } from './support/step-errand.js';

const SIZE = { widthPx: 320, heightPx: 180 };
const FRAMES = 2000;
const SETTLED = 200;

it('holds its memory flat over 2000 frames, in the program and in the image engine', async () => {
  const texture = new AnalyticTexture({ seed: 2, ...SIZE, waves: 30 });
  const loop = Array.from({ length: 8 }, (_, k) =>
    texture.picture({ shiftXPx: 2 * Math.cos(k * 0.785), shiftYPx: 2 * Math.sin(k * 0.785), turnRad: 0 }),
  );
  const points = {
    xPx: Float32Array.from({ length: 12 }, (_, i) => 40 + 20 * i),
    yPx: new Float32Array(12).fill(90),
  };
  let tracks = Int32Array.from(points.xPx, (_, i) => i);
  const pool = await WorkerPool.start({ threads: 1, ...SIZE });
  try {
    let engineBefore = 0;
    let programBefore = 0;
    for (let k = 0; k < FRAMES; k++) {
      const grey = loop[k % loop.length];
      // Tracks with new numbers: the templates of the old ones must go.
      tracks = tracks.map((track) => track + tracks.length);
      const all = { tracks, points };
      await pool.step(stepInto(grey, k === 0 ? {} : { ...all, cut: all, refine: true }));
      if (k > 0 && k % 10 === 0) await pool.again();
      if (k % 4 === 0) await pool.corners([20, 71]);
      if (k === SETTLED) {
        engineBefore = await pool.engineHeapBytes();
        programBefore = process.memoryUsage().rss;
      }
    }
    // One leaked picture a frame would be 104 MB, one in floating point 415 MB; the engine starts with 134 MB.
    expect(await pool.engineHeapBytes()).toBe(engineBefore);
    expect(process.memoryUsage().rss - programBefore).toBeLessThan(80e6);
  } finally {
    await pool.close();
  }
});
