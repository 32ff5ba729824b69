/** Long clips, slow readers and readers that leave: memory stays flat and no process stays behind. */
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { decodeGrey, probeClip, type ClipFacts } from '../../src/footage/index.js';
import { clipFolder, failureOf, makeClip, makeCodedClip, processesNaming, tools } from './made-clips.js';

const folder = clipFolder();
const FRAMES = 3000;
const FRAME_BYTES = 320 * 180;
/** All frames together are 173 MB; the pipes hold well under 1 MB, the rest is what the collector has not yet taken. */
const FLAT_BYTES = 60e6;

function memoryBytes(): number {
  const { heapUsed, external } = process.memoryUsage();
  return heapUsed + external;
}

describe('a long clip', () => {
  let file: string;
  let facts: ClipFacts;
  beforeAll(async () => {
    file = await makeClip(
      path.join(folder, 'long.mp4'),
      ...['-f', 'lavfi', '-i', `testsrc=size=320x180:rate=50:duration=${FRAMES / 50}`],
      ...['-c:v', 'libx264', '-preset', 'ultrafast', '-pix_fmt', 'yuv420p'],
    );
    facts = await probeClip(file, tools);
  });

  it('waits for a slow reader instead of piling frames up', async () => {
    let count = 0;
    let startBytes = 0;
    let mostBytes = 0;
    for await (const frame of decodeGrey(file, facts, {}, tools)) {
      if (count === 0) {
        startBytes = memoryBytes();
        // Long enough to decode the whole clip, were it not held back.
        await sleep(1500);
        expect(memoryBytes() - startBytes).toBeLessThan(10e6);
      }
      if (count % 20 === 0) await sleep(2);
      mostBytes = Math.max(mostBytes, memoryBytes());
      expect(frame.grey.length).toBe(FRAME_BYTES);
      count++;
    }
    expect(count).toBe(FRAMES);
    expect(mostBytes - startBytes).toBeLessThan(FLAT_BYTES);
  });

  it('ends FFmpeg when the reader leaves the loop, at the start, later, or by an error', async () => {
    for (const inS of [0, 30]) {
      for await (const frame of decodeGrey(file, facts, { inS }, tools)) {
        if (frame.index === 10) break;
      }
      expect(await processesNaming(file)).toEqual([]);
    }
    for await (const frame of decodeGrey(file, facts, { inS: 20 }, tools)) {
      expect(frame.index).toBe(0);
      break;
    }
    const failing = async () => {
      for await (const frame of decodeGrey(file, facts, {}, tools)) throw new Error(`after ${frame.index}`);
    };
    await expect(failing()).rejects.toThrow('after 0');
    expect(await processesNaming(file)).toEqual([]);
  });

  it('stops on request, says so and ends FFmpeg', async () => {
    for (const stopAt of [0, 200]) {
      const stop = new AbortController();
      const stopped = async () => {
        for await (const { index } of decodeGrey(file, facts, { signal: stop.signal }, tools)) {
          if (index === stopAt) stop.abort();
          expect(index).toBeLessThan(FRAMES - 1);
        }
      };
      expect(await failureOf('interrupted', stopped)).toContain('long.mp4');
      expect(await processesNaming(file)).toEqual([]);
    }
  });

  it('does not start when the stop came first', async () => {
    const signal = AbortSignal.abort();
    await failureOf('interrupted', () => decodeGrey(file, facts, { signal }, tools).next());
  });

  it('decodes several clips at once', async () => {
    const other = await makeCodedClip(path.join(folder, 'other.mp4'), 40);
    const otherFacts = await probeClip(other, tools);
    const counts = await Promise.all(
      [file, other, other].map(async (one) => {
        let count = 0;
        const oneFacts = one === file ? facts : otherFacts;
        const frames = decodeGrey(one, oneFacts, { outS: 1 }, tools);
        for (let step = await frames.next(); !step.done; step = await frames.next()) count++;
        return count;
      }),
    );
    expect(counts).toEqual([50, 25, 25]);
  });
});
