/** Clips written from raw frames: whole or not at all, at the pace of the encoder. */
import { readdir, readFile, writeFile } from 'node:fs/promises';
import { mkdirSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { encodeClip, grabPicture, probeClip, sha256OfFile } from '../../src/footage/index.js';
import { unfinishedFile } from '../../src/files/index.js';
import { expectWithin } from '../support/expect-within.js';
import { clipFolder, failureOf, makeCodedClip, processesNaming, tools } from './made-clips.js';

const root = clipFolder();
const SIZE = { widthPx: 320, heightPx: 180, fps: 25, preset: 'ultrafast' };
const FRAME_BYTES = 320 * 180;

/** A folder of its own for one case, to see all that is left in it. */
function caseFolder(name: string): string {
  const folder = path.join(root, name);
  mkdirSync(folder);
  return folder;
}

function* greyFrames(count: number): Generator<Uint8Array> {
  for (let n = 0; n < count; n++) yield new Uint8Array(FRAME_BYTES).fill(n % 256);
}

describe('a clip written from frames', () => {
  it('holds every frame at the exact rate with the start timecode', async () => {
    const folder = caseFolder('whole');
    const file = path.join(folder, 'loft.mov');
    const options = { ...SIZE, fps: 59.94, fpsFraction: '60000/1001', timecode: '09:58:00:00', bFrames: 0 };
    await encodeClip(file, options, greyFrames(30), tools);
    expect(await probeClip(file, tools)).toMatchObject({
      ...{ codec: 'h264', pixelFormat: 'yuv420p', widthPx: 320, heightPx: 180, frameCount: 30 },
      ...{ fpsFraction: '60000/1001', timecodeStart: '09:58:00:00', colourTransfer: 'bt709' },
    });
    expect(await readdir(folder)).toEqual(['loft.mov']);
  });

  it('keeps colours', async () => {
    const file = path.join(caseFolder('colours'), 'red.mp4');
    const colour = [200, 60, 30];
    const frame = Uint8Array.from({ length: 3 * FRAME_BYTES }, (_, i) => colour[i % 3]);
    await encodeClip(file, { ...SIZE, pixelFormat: 'rgb24', crf: 1 }, [frame, frame], tools);
    const { rgb } = await grabPicture(file, await probeClip(file, tools), 0, 320, tools);
    colour.forEach((level, i) => {
      expectWithin(rgb[3 * 9000 + i], level, { abs: 4, why: '8-bit luma and chroma' }, `channel ${i}`);
    });
  });

  it('comes out the same, byte for byte, from the same frames', async () => {
    const folder = caseFolder('same');
    const [first, second] = [path.join(folder, 'a.mp4'), path.join(folder, 'b.mp4')];
    await makeCodedClip(first, 40);
    await makeCodedClip(second, 40);
    expect(await sha256OfFile(first)).toBe(await sha256OfFile(second));
  });

  it('takes odd names', async () => {
    const folder = caseFolder('names');
    const names = ['%d.mp4', '-x.mp4', 'it\'s "so".mp4', 'a:b.mp4', 'Käserei.mp4'];
    for (const name of names) await encodeClip(path.join(folder, name), SIZE, greyFrames(2), tools);
    expect((await readdir(folder)).sort()).toEqual([...names].sort());
  });

  it('does not pull frames faster than the encoder takes them', async () => {
    const file = path.join(caseFolder('pace'), 'pace.mp4');
    const startBytes = process.memoryUsage().external;
    let mostBytes = 0;
    async function* watched(): AsyncGenerator<Uint8Array> {
      for (const frame of greyFrames(2500)) {
        mostBytes = Math.max(mostBytes, process.memoryUsage().external);
        yield await Promise.resolve(frame);
      }
    }
    await encodeClip(file, SIZE, watched(), tools);
    expect((await probeClip(file, tools)).frameCount).toBe(2500);
    // All frames together are 144 MB; the bound leaves room for what the collector has not yet taken.
    expect(mostBytes - startBytes).toBeLessThan(70e6);
  });
});

describe('a clip that cannot be written', () => {
  it('passes on what the frames throw, and leaves the old clip and nothing else', async () => {
    const folder = caseFolder('throws');
    const file = path.join(folder, 'old.mp4');
    await writeFile(file, 'the old one');
    function* failing(): Generator<Uint8Array> {
      yield* greyFrames(20);
      throw new Error('the paint ran out');
    }
    await expect(encodeClip(file, SIZE, failing(), tools)).rejects.toThrow('the paint ran out');
    expect(await readdir(folder)).toEqual(['old.mp4']);
    expect(await readFile(file, 'utf8')).toBe('the old one');
    expect(await processesNaming(folder)).toEqual([]);
  });

  it('clears what a writer that was killed left there, and nothing that another one is at work on', async () => {
    const folder = caseFolder('killed');
    const file = path.join(folder, 'loft.mp4');
    const ours = unfinishedFile(path.join(folder, 'other.mp4')).path;
    const killed = ours.replace(`.${process.pid}.`, '.999999999.');
    await writeFile(ours, 'half a clip');
    await writeFile(killed, 'half a clip');
    await encodeClip(file, SIZE, greyFrames(2), tools);
    expect((await readdir(folder)).sort()).toEqual([path.basename(ours), 'loft.mp4'].sort());
  });

  it('stops on request and leaves nothing', async () => {
    const folder = caseFolder('stopped');
    const stop = new AbortController();
    let returned = false;
    function* endless(): Generator<Uint8Array> {
      try {
        for (let n = 0; ; n++) {
          if (n === 100) stop.abort();
          yield new Uint8Array(FRAME_BYTES);
        }
      } finally {
        returned = true;
      }
    }
    const file = path.join(folder, 'stopped.mp4');
    await failureOf('interrupted', () => encodeClip(file, SIZE, endless(), tools, stop.signal));
    expect(await readdir(folder)).toEqual([]);
    expect(await processesNaming(folder)).toEqual([]);
    await new Promise((resolve) => setImmediate(resolve));
    expect(returned).toBe(true);
  });

  it('names the folder that is not there', async () => {
    const file = path.join(root, 'no', 'such', 'x.mp4');
    expect(
      await failureOf('output-unwritable', () => encodeClip(file, SIZE, greyFrames(2), tools)),
    ).toContain(`"${path.join(root, 'no', 'such')}" does not exist`);
  });

  it('passes on what the encoder objects to', async () => {
    const folder = caseFolder('objects');
    const options = { ...SIZE, preset: 'lightning' };
    const write = () => encodeClip(path.join(folder, 'x.mp4'), options, greyFrames(2), tools);
    expect(await failureOf('output-unwritable', write)).toContain('x.mp4');
    expect(await readdir(folder)).toEqual([]);
  });

  it.each([
    { wrong: { widthPx: 321 }, says: 'widthPx must be an even whole number, got 321' },
    { wrong: { heightPx: 0 }, says: 'heightPx must be an even whole number, got 0' },
    { wrong: { fps: 0 }, says: 'fps must be above 0, got 0' },
    { wrong: { crf: 60 }, says: 'crf must be within 0 to 51, got 60' },
    {
      wrong: { pixelFormat: 'rgb24' as const },
      says: `frame 0 must hold ${3 * FRAME_BYTES} bytes, got ${FRAME_BYTES}`,
    },
  ])('refuses $wrong', async ({ wrong, says }) => {
    const write = encodeClip(path.join(root, 'wrong.mp4'), { ...SIZE, ...wrong }, greyFrames(2), tools);
    await expect(write).rejects.toThrow(new RangeError(says));
  });

  it('refuses no frames at all, and names that are no clip', async () => {
    await expect(encodeClip(path.join(root, 'none.mp4'), SIZE, [], tools)).rejects.toThrow(
      'at least one frame',
    );
    await expect(encodeClip(path.join(root, 'a.gif'), SIZE, greyFrames(2), tools)).rejects.toThrow(
      'must end in',
    );
  });
});
