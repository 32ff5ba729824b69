/** Planes of a range: the frames decodeGrey gives, at the same moments, bit for bit what FFmpeg decodes, upright. */
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  decodeGrey,
  decodePlanes,
  planeFormatOf,
  probeClip,
  type ClipFacts,
  type DecodePlanesOptions,
  type PlaneFrame,
} from '../../src/footage/index.js';
import { frameBytesOf } from '../../src/footage/plane-format.js';
import {
  clipFolder,
  collect,
  failureOf,
  makeClip,
  rawBytes,
  setDisplayMatrix,
  testSource,
  tools,
} from './made-clips.js';

const folder = clipFolder();
const at = (name: string) => path.join(folder, name);
const SOURCE = testSource(160, 90, '25', 0.4);
const X264 = ['-c:v', 'libx264', '-preset', 'ultrafast'];

async function planesOf(
  file: string,
  options: DecodePlanesOptions = {},
): Promise<{ facts: ClipFacts; frames: PlaneFrame[] }> {
  const facts = await probeClip(file, tools);
  return { facts, frames: await collect(decodePlanes(file, facts, options, tools)) };
}

/** All samples of all frames as they lie in memory. */
function bytesOf(frames: readonly PlaneFrame[]): Buffer {
  return Buffer.concat(
    frames.flatMap(({ planes }) =>
      planes.map((one) => Buffer.from(one.buffer, one.byteOffset, one.byteLength)),
    ),
  );
}

describe('samples', () => {
  it.each([
    { pixels: 'yuv420p', coder: X264, ext: 'mp4' },
    { pixels: 'yuvj420p', coder: [...X264, '-color_range', 'pc'], ext: 'mp4' },
    { pixels: 'yuv422p10le', coder: X264, ext: 'mkv' },
    { pixels: 'yuv444p', coder: X264, ext: 'mkv' },
    { pixels: 'yuv420p12le', coder: ['-c:v', 'ffv1'], ext: 'mkv' },
    { pixels: 'gray10le', coder: ['-c:v', 'ffv1'], ext: 'mkv' },
  ])('of $pixels are those that FFmpeg decodes', async ({ pixels, coder, ext }) => {
    const file = await makeClip(at(`plain-${pixels}.${ext}`), ...SOURCE, ...coder, '-pix_fmt', pixels);
    const { facts, frames } = await planesOf(file);
    expect(frames.length).toBe(10);
    expect(frames[0].planes[0]).toBeInstanceOf(/le$/.test(pixels) ? Uint16Array : Uint8Array);
    expect(bytesOf(frames).length).toBe(10 * frameBytesOf(planeFormatOf(facts)));
    const decoded = await rawBytes('-i', file, '-f', 'rawvideo', '-pix_fmt', pixels);
    expect(bytesOf(frames).equals(decoded)).toBe(true);
  });

  it('of packed and semi-planar formats are only put in another order', async () => {
    const file = await makeClip(at('packed.mov'), ...SOURCE, '-c:v', 'rawvideo', '-pix_fmt', 'uyvy422');
    const { frames } = await planesOf(file);
    const packed = await rawBytes('-i', file, '-f', 'rawvideo', '-pix_fmt', 'uyvy422');
    const [luma, u, v] = frames[0].planes;
    const spelt = Array.from(u, (level, i) => [level, luma[2 * i], v[i], luma[2 * i + 1]]).flat();
    expect(Buffer.from(spelt).equals(packed.subarray(0, 160 * 90 * 2))).toBe(true);
  });

  it('of a clip of odd size end in half-filled pairs', async () => {
    const source = testSource(33, 21, '25', 0.2);
    const file = await makeClip(at('odd.mkv'), ...source, '-c:v', 'ffv1', '-pix_fmt', 'yuv420p');
    const { frames } = await planesOf(file);
    expect(frames[0].planes.map(({ length }) => length)).toEqual([33 * 21, 17 * 11, 17 * 11]);
    const decoded = await rawBytes('-i', file, '-f', 'rawvideo', '-pix_fmt', 'yuv420p');
    expect(bytesOf(frames).equals(decoded)).toBe(true);
  });

  it('of RGB stand for its colours in 10 bits', async () => {
    const source = ['-f', 'lavfi', '-i', 'color=c=0xC83C1E:size=32x32:rate=25:duration=0.2,format=rgb24'];
    const file = await makeClip(at('rgb.mov'), ...source, '-c:v', 'png', '-pix_fmt', 'rgb24');
    const [frame] = (await planesOf(file)).frames;
    // ITU-R BT.709: Y = 0.2126 R + 0.7152 G + 0.0722 B of 200, 60, 30, then 64 + 876 Y, 512 + 896 (B - Y) / 1.8556.
    const luma = (0.2126 * 200 + 0.7152 * 60 + 0.0722 * 30) / 255;
    const expected = [64 + 876 * luma, 512 + (896 * (30 / 255 - luma)) / 1.8556];
    expect(Math.abs(frame.planes[0][500] - expected[0])).toBeLessThanOrEqual(1.5);
    expect(Math.abs(frame.planes[1][500] - expected[1])).toBeLessThanOrEqual(1.5);
  });
});

describe('pictures that stand upright', () => {
  const MATRICES = [
    { turn: 'a quarter clockwise', matrix: [0, 1, -1, 0], filter: 'transpose=clock' },
    { turn: 'upside down', matrix: [-1, 0, 0, -1], filter: 'hflip,vflip' },
    { turn: 'a quarter anticlockwise', matrix: [0, -1, 1, 0], filter: 'transpose=cclock' },
    { turn: 'mirrored', matrix: [-1, 0, 0, 1], filter: 'hflip' },
    { turn: 'a quarter clockwise and mirrored', matrix: [0, 1, 1, 0], filter: 'transpose=clock,hflip' },
  ];

  it.each(MATRICES)('have 4:2:0 samples turned $turn', async ({ matrix, filter }) => {
    const file = await makeClip(at(`turn-${matrix.join('')}.mp4`), ...SOURCE, ...X264, '-pix_fmt', 'yuv420p');
    await setDisplayMatrix(file, matrix);
    const { frames } = await planesOf(file);
    const decoded = await rawBytes('-noautorotate', '-i', file, '-vf', filter, '-f', 'rawvideo');
    expect(bytesOf(frames).equals(decoded)).toBe(true);
  });

  it.each(MATRICES)('have 4:2:2 samples turned $turn, none made up', async ({ matrix, filter }) => {
    const name = at(`turn422-${matrix.join('')}.mp4`);
    const file = await makeClip(name, ...SOURCE, ...X264, '-pix_fmt', 'yuv422p10le');
    await setDisplayMatrix(file, matrix);
    const { frames } = await planesOf(file);
    // Plane by plane: each is a grey picture, which FFmpeg turns whatever lies beside it.
    for (const [k, word] of ['y', 'u', 'v'].entries()) {
      const chain = `extractplanes=${word},format=gray10le,${filter}`;
      const decoded = await rawBytes('-noautorotate', '-i', file, '-vf', chain, '-f', 'rawvideo');
      const own = bytesOf(frames.map((frame) => ({ ...frame, planes: [frame.planes[k]] })));
      expect(own.equals(decoded), `plane ${word}`).toBe(true);
    }
  });
});

describe('frames and their moments', () => {
  const uneven = ['-vf', "settb=1/1000,setpts='(N+0.3*mod(N,3))/25/TB'", '{passthrough}'];
  const PLAIN = [...X264, '-pix_fmt', 'yuv420p'];

  it.each([
    { clip: 'even.mp4', args: [...PLAIN, '-bf', '2'], range: {} },
    { clip: 'uneven.mkv', args: [...uneven, ...PLAIN], range: {} },
    { clip: 'range.mp4', args: [...PLAIN, '-bf', '2', '-g', '5'], range: { inS: 0.12, outS: 0.31 } },
    { clip: 'fields.mp4', args: ['-vf', 'interlace', ...PLAIN, '-flags', '+ildct+ilme'], range: {} },
    { clip: 'stream.ts', args: PLAIN, range: { inS: 0.08 } },
  ])('of $clip are those of the grey frames, luma included', async ({ clip, args, range }) => {
    const file = await makeClip(at(clip), ...testSource(160, 96, '50', 0.4), ...args);
    const { facts, frames } = await planesOf(file, range);
    expect(facts.interlaced).toBe(clip === 'fields.mp4');
    const grey = await collect(decodeGrey(file, facts, { ...range, stretchContrast: 'off' }, tools));
    expect(frames.length).toBeGreaterThan(4);
    expect(frames.map(({ index, timeS }) => [index, timeS])).toEqual(
      grey.map(({ index, timeS }) => [index, timeS]),
    );
    frames.forEach(({ planes }, n) => {
      // Grey frames are brought to full range: 16 to 235 becomes 0 to 255, rounded.
      let worst = 0;
      for (const [i, level] of planes[0].entries()) {
        const full = Math.max(0, Math.min(255, ((level - 16) * 255) / 219));
        worst = Math.max(worst, Math.abs(full - grey[n].grey[i]));
      }
      expect(worst, `frame ${n}`).toBeLessThan(1.01);
    });
  });

  it('are refused as for grey: ranges beyond the end, ranges of one frame', async () => {
    const file = await makeClip(at('short.mp4'), ...SOURCE, ...PLAIN);
    expect(await failureOf('range-invalid', () => planesOf(file, { inS: 2 }))).toContain('0.400 s long');
    await failureOf('clip-too-short', () => planesOf(file, { outS: 0.04 }));
  });

  it('stop on request', async () => {
    const stop = new AbortController();
    const file = await makeClip(at('stop.mp4'), ...SOURCE, ...PLAIN);
    const facts = await probeClip(file, tools);
    await failureOf('interrupted', async () => {
      for await (const { index } of decodePlanes(file, facts, { signal: stop.signal }, tools)) {
        if (index === 1) stop.abort();
      }
    });
  });
});
