/** Frames of uneven rates put on even ticks: never further from the sound than half a tick. */
import { describe, expect, it } from 'vitest';
import { evenFrames, type EvenRate } from '../../src/footage/index.js';
import { collect } from './made-clips.js';

async function timesAt(timeS: readonly number[], rate: EvenRate): Promise<number[]> {
  const frames = await collect(
    evenFrames(
      timeS.map((one) => ({ timeS: one })),
      rate,
    ),
  );
  return frames.map((frame) => frame.timeS);
}

describe('frames on even ticks', () => {
  it('are what they were when the rate is even, whatever containers round', async () => {
    const timeS = Array.from({ length: 200 }, (_, n) => Math.round((1001000 * n) / 24000) / 1000);
    expect(await timesAt(timeS, { fpsFraction: '24000/1001' })).toEqual(timeS);
    const endS = (200 * 1001) / 24000;
    expect(await timesAt(timeS, { fpsFraction: '24000/1001', startS: 0, endS })).toEqual(timeS);
  });

  it('repeat the nearer neighbour over a hole', async () => {
    expect(await timesAt([0, 0.1, 0.4, 0.5], { fpsFraction: '10/1' })).toEqual([0, 0.1, 0.1, 0.4, 0.4, 0.5]);
  });

  it('leave out frames that come too fast', async () => {
    expect(await timesAt([0, 0.04, 0.1, 0.13, 0.18, 0.2, 0.3], { fpsFraction: '10/1' })).toEqual([
      0, 0.1, 0.2, 0.3,
    ]);
  });

  it('lie within half a tick of their tick between the first and the last frame', async () => {
    const timeS = Array.from({ length: 120 }, (_, n) => n / 30 + 0.014 * Math.sin(n * n));
    const shown = await timesAt(timeS, { fpsFraction: '30/1' });
    const offsets = shown.map((one, tick) => Math.abs(one - timeS[0] - tick / 30));
    expect(Math.max(...offsets)).toBeLessThanOrEqual(0.5 / 30 + 0.014);
    expect(shown.length).toBe(120);
  });

  it('start with the first frame before its time and hold the last to the end asked for', async () => {
    const rate = { fpsFraction: '10/1', startS: 1, endS: 1.6 };
    expect(await timesAt([1.2, 1.3], rate)).toEqual([1.2, 1.2, 1.2, 1.3, 1.3, 1.3]);
  });

  it('end where asked although more frames come', async () => {
    expect(await timesAt([0, 0.1, 0.2, 0.3, 0.4], { fpsFraction: '10/1', endS: 0.2 })).toEqual([0, 0.1]);
  });

  it('are one for one frame and none for none', async () => {
    expect(await timesAt([3.7], { fpsFraction: '25/1' })).toEqual([3.7]);
    expect(await timesAt([], { fpsFraction: '25/1' })).toEqual([]);
    await expect(timesAt([0], { fpsFraction: '0/0' })).rejects.toThrow(RangeError);
  });

  it('close their source when left early', async () => {
    let closed = false;
    function* endless() {
      try {
        for (let n = 0; ; n++) yield { timeS: n / 25 };
      } finally {
        closed = true;
      }
    }
    for await (const { timeS } of evenFrames(endless(), { fpsFraction: '25/1' })) if (timeS > 1) break;
    expect(closed).toBe(true);
  });
});
