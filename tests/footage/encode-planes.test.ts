/** Clips written from planes: the same samples, colours, pixel shape and timecode, whole or not at all, never over the source. */
import { link, mkdir, readdir, readFile, symlink } from 'node:fs/promises';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  decodePlanes,
  encodePlanes,
  outputFormat,
  planeFormatOf,
  probeClip,
  timecodeAt,
  type ClipFacts,
  type EncodePlanesOptions,
  type EncodeRecord,
  type PlaneFormat,
  type PlaneFrame,
  type Samples,
} from '../../src/footage/index.js';
import { chromaLocationOf } from '../../src/footage/plane-format.js';
import {
  clipFolder,
  collect,
  failureOf,
  makeClip,
  processesNaming,
  streamsOf,
  testSource,
  tools,
} from './made-clips.js';

const root = clipFolder();
const at = (name: string) => path.join(root, name);
const SOURCE = testSource(160, 90, '24000/1001', 0.3);
const FFV1 = ['-c:v', 'ffv1'];

/** A folder of its own for one case, to see all that is left in it. */
async function caseFolder(name: string): Promise<string> {
  const folder = at(name);
  await mkdir(folder);
  return folder;
}

async function sourceOf(pixels: string, ...args: string[]): Promise<ClipFacts> {
  const file = at(`source-${pixels}-${args.join('').replace(/\W/g, '')}.mkv`);
  return probeClip(await makeClip(file, ...SOURCE, ...FFV1, '-pix_fmt', pixels, ...args), tools);
}

async function framesOf(facts: ClipFacts): Promise<PlaneFrame[]> {
  return collect(decodePlanes(facts.file, facts, {}, tools));
}

async function* handedOver<Frame>(frames: readonly Frame[]): AsyncGenerator<Frame> {
  for (const frame of frames) yield await Promise.resolve(frame);
}

/** Writes frames of a clip at their own size; options beside those of a plain lossless H.264 clip. */
async function write(
  file: string,
  source: ClipFacts,
  frames: readonly { planes: readonly Samples[] }[],
  options: Partial<EncodePlanesOptions> = {},
): Promise<EncodeRecord> {
  const plain = {
    ...({ source, format: planeFormatOf(source), codec: 'h264', fpsFraction: source.fpsFraction } as const),
    ...{ quality: 0, preset: 'ultrafast', sound: null, timecode: null },
  };
  return encodePlanes(file, { ...plain, ...options }, handedOver(frames), tools);
}

/** A picture of one luma level and middle chroma. */
function flat(format: PlaneFormat, level: number): { planes: Samples[] } {
  const Kind = format.bytesPerSample === 1 ? Uint8Array : Uint16Array;
  const planes = format.planes.map(({ widthPx, heightPx }, k) =>
    new Kind(widthPx * heightPx).fill(k === 0 ? level : 2 ** (format.bitDepth - 1)),
  );
  return { planes };
}

describe('samples', () => {
  it.each([
    { pixels: 'yuv420p', profile: /^High/ },
    { pixels: 'yuv422p', profile: /4:2:2|4:4:4/ },
    { pixels: 'yuv444p', profile: /4:4:4/ },
    { pixels: 'yuv420p10le', profile: /High 10|4:4:4/ },
    { pixels: 'yuv422p10le', profile: /4:2:2|4:4:4/ },
    { pixels: 'yuv444p10le', profile: /4:4:4/ },
  ])('of $pixels come back bit for bit from H.264 of quality 0', async ({ pixels, profile }) => {
    const source = await sourceOf(pixels);
    const frames = await framesOf(source);
    const file = at(`same-${pixels}.mkv`);
    const record = await write(file, source, frames);
    const depthReduced = false;
    expect(record).toMatchObject({ frameCount: 8, pixelFormat: pixels, depthReduced, rangeReduced: false });
    const written = await probeClip(file, tools);
    expect(written).toMatchObject({ pixelFormat: pixels, frameCount: 8 });
    expect((await streamsOf(file))[0].profile).toMatch(profile);
    const back = await framesOf(written);
    expect(back.map(({ planes }) => planes)).toEqual(frames.map(({ planes }) => planes));
  });

  it('of full range stay of full range', async () => {
    const source = await sourceOf('yuv420p', '-color_range', 'pc');
    expect(source.colour.range).toBe('pc');
    const frames = await framesOf(source);
    await write(at('full.mp4'), source, frames);
    const written = await probeClip(at('full.mp4'), tools);
    expect(written.colour.range).toBe('pc');
    expect((await framesOf(written))[3].planes).toEqual(frames[3].planes);
  });

  it('deeper than 10 bits are rounded once', async () => {
    const source = await sourceOf('yuv422p12le');
    const frames = await framesOf(source);
    const record = await write(at('deep.mp4'), source, frames);
    expect(record).toMatchObject({ pixelFormat: 'yuv422p10le', bitDepth: 10, depthReduced: true });
    const [back] = await framesOf(await probeClip(at('deep.mp4'), tools));
    const rounded = frames[0].planes.map((one) => Uint16Array.from(one, (level) => Math.round(level / 4)));
    expect(back.planes).toEqual(rounded);
  });

  it('of grey get chroma that says grey', async () => {
    const source = await sourceOf('gray');
    const frames = await framesOf(source);
    await write(at('grey.mp4'), source, frames);
    const written = await probeClip(at('grey.mp4'), tools);
    expect(written.colour.range).toBe('pc');
    const [back] = await framesOf(written);
    expect(back.planes[0]).toEqual(frames[0].planes[0]);
    expect(new Set([...back.planes[1], ...back.planes[2]])).toEqual(new Set([128]));
  });

  it.each([
    { pixels: 'yuv422p10le', profile: 'HQ' },
    { pixels: 'yuv444p10le', profile: '4444' },
  ])('of $pixels come back from ProRes $profile within its own loss', async ({ pixels, profile }) => {
    const source = await sourceOf(pixels);
    const frames = await framesOf(source);
    const file = at(`prores-${profile}.mov`);
    expect(await write(file, source, frames, { codec: 'prores' })).toMatchObject({ pixelFormat: pixels });
    expect((await streamsOf(file))[0]).toMatchObject({ codec_name: 'prores', profile });
    const written = await probeClip(file, tools);
    const shift = 2 ** (written.bitDepth - 10);
    const [back] = await framesOf(written);
    const errors = Array.from(frames[0].planes[0], (level, i) => Math.abs(level - back.planes[0][i] / shift));
    // Hard edges of a test picture; the mean is what coding at this rate leaves, in levels of 10 bits.
    expect(errors.reduce((a, b) => a + b) / errors.length).toBeLessThan(3);
  });

  it('of full range are brought to television range for ProRes, which has no word for it', async () => {
    const source = await sourceOf('yuv422p', '-color_range', 'pc');
    const format = planeFormatOf(source);
    const record = await write(at('range.mov'), source, [flat(format, 255)], { codec: 'prores' });
    expect(record).toMatchObject({ pixelFormat: 'yuv422p10le', depthReduced: false, rangeReduced: true });
    const [luma] = (await framesOf(await probeClip(await doubled(at('range.mov')), tools)))[0].planes;
    expect(Math.abs(luma[7000] - 940)).toBeLessThanOrEqual(1);
  });
});

/** A clip of one frame, twice: one frame alone is refused. */
async function doubled(file: string): Promise<string> {
  return makeClip(file.replace('.mov', '-twice.mov'), '-stream_loop', '1', '-i', file, '-c', 'copy');
}

describe('what is said of the clip', () => {
  const TAGS = ['-color_primaries', 'bt2020', '-color_trc', 'smpte2084', '-colorspace', 'bt2020nc'];

  it.each([
    { name: 'tags.mp4', codec: 'h264' as const },
    { name: 'tags.mov', codec: 'prores' as const },
  ])('are the colours of the source in $name', async ({ name, codec }) => {
    const source = await sourceOf('yuv422p10le', ...TAGS, '-color_range', 'tv');
    await write(at(name), source, await framesOf(source), { codec });
    const { colour } = await probeClip(at(name), tools);
    expect(colour).toMatchObject({ primaries: 'bt2020', transfer: 'smpte2084', matrix: 'bt2020nc' });
    if (codec === 'h264') expect(colour.range).toBe('tv');
  });

  it('claims nothing of colours that the source does not name', async () => {
    const source = await sourceOf('yuv420p');
    await write(at('untagged.mp4'), source, await framesOf(source));
    const { colour } = await probeClip(at('untagged.mp4'), tools);
    expect(colour).toMatchObject({ primaries: null, transfer: null, matrix: null });
  });

  it.each(['left', 'center', 'topleft'])('names %s as the place of chroma', async (place) => {
    const source = await sourceOf('yuv420p');
    const format = planeFormatOf({ ...source, colour: { ...source.colour, chromaLocation: place } });
    expect(chromaLocationOf(format)).toBe(place);
    await write(at(`${place}.mp4`), source, [flat(format, 100)], { format });
    expect((await probeClip(at(`${place}.mp4`), tools)).colour.chromaLocation).toBe(place);
  });

  it.each([
    { name: 'wide.mp4', codec: 'h264' as const },
    { name: 'wide.mov', codec: 'prores' as const },
  ])('is the shape of its pixels in $name', async ({ name, codec }) => {
    const source = await sourceOf('yuv422p10le', '-aspect', '64:27');
    expect(source.pixelAspect).toBeCloseTo(4 / 3, 6);
    await write(at(name), source, await framesOf(source), { codec });
    const written = await probeClip(at(name), tools);
    expect(written.pixelAspect).toBeCloseTo(4 / 3, 6);
    expect([written.widthPx, written.heightPx]).toEqual([source.widthPx, source.heightPx]);
  });

  it.each([
    { name: 'code.mp4', codec: 'h264' as const, timecode: '01:00:59;28' },
    { name: 'code.mov', codec: 'prores' as const, timecode: '01:00:59;28' },
    { name: 'code.mkv', codec: 'h264' as const, timecode: '23:59:58:07' },
  ])('is the timecode of its first frame in $name', async ({ name, codec, timecode }) => {
    const source = await sourceOf('yuv422p');
    await write(at(name), source, await framesOf(source), { codec, timecode, fpsFraction: '30000/1001' });
    const written = await probeClip(at(name), tools);
    expect(written.timecodeStart).toBe(timecode);
    // Eight time stamps of whole milliseconds do not tell 29.97 from 30.
    if (!name.endsWith('.mkv')) expect(written.fpsFraction).toBe('30000/1001');
  });
});

describe('the timecode of a moment', () => {
  it.each([
    ['09:59:59:24', '25/1', 0.08, '10:00:00:01'],
    ['01:00:59;28', '30000/1001', (2 * 1001) / 30000, '01:01:00;02'],
    ['00:00:00:00', '24000/1001', (24 * 1001) / 24000, '00:00:01:00'],
    ['23:59:59:24', '25/1', 0.04, '00:00:00:00'],
  ])('of %s at %s after %f s is %s', (timecodeStart, fpsFraction, timeS, label) => {
    expect(timecodeAt({ timecodeStart, fpsFraction }, timeS)).toBe(label);
  });

  it('is unknown where the clip has none, or one its rate does not know', () => {
    expect(timecodeAt({ timecodeStart: null, fpsFraction: '25/1' }, 1)).toBeNull();
    expect(timecodeAt({ timecodeStart: '01:00:00;00', fpsFraction: '25/1' }, 1)).toBeNull();
    expect(timecodeAt({ timecodeStart: '01:00:00:40', fpsFraction: '25/1' }, 1)).toBeNull();
  });
});

describe('a clip that is not written', () => {
  it('is the source itself, by whatever name', async () => {
    const folder = await caseFolder('own');
    const file = path.join(folder, 'clip.mkv');
    await makeClip(file, ...SOURCE, ...FFV1, '-pix_fmt', 'yuv420p');
    const before = await readFile(file);
    await symlink(file, path.join(folder, 'soft.mkv'));
    await link(file, path.join(folder, 'hard.mkv'));
    const source = await probeClip(file, tools);
    const frames = await framesOf(source);
    for (const name of ['clip.mkv', 'soft.mkv', 'hard.mkv', '../own/clip.mkv']) {
      const target = `${folder}/${name}`;
      expect(await failureOf('output-unwritable', () => write(target, source, frames))).toContain(
        'clip itself',
      );
    }
    expect((await readFile(file)).equals(before)).toBe(true);
    expect((await readdir(folder)).sort()).toEqual(['clip.mkv', 'hard.mkv', 'soft.mkv']);
  });

  it('leaves nothing when stopped on request', async () => {
    const folder = await caseFolder('stopped');
    const source = await sourceOf('yuv420p');
    const format = planeFormatOf(source);
    const stop = new AbortController();
    async function* endless() {
      for (let n = 0; ; n++) {
        if (n === 30) stop.abort();
        yield await Promise.resolve(flat(format, 100));
      }
    }
    const options = {
      source,
      format,
      codec: 'h264',
      fpsFraction: '25/1',
      sound: null,
      timecode: null,
    } as const;
    const file = path.join(folder, 'stopped.mp4');
    await failureOf('interrupted', () => encodePlanes(file, options, endless(), tools, stop.signal));
    expect(await readdir(folder)).toEqual([]);
    expect(await processesNaming(folder)).toEqual([]);
  });

  it('has a folder in its place', async () => {
    const folder = await caseFolder('taken');
    await mkdir(path.join(folder, 'x.mp4'));
    const source = await sourceOf('yuv420p');
    const frames = await framesOf(source);
    await failureOf('output-unwritable', () => write(path.join(folder, 'x.mp4'), source, frames));
    expect(await readdir(folder)).toEqual(['x.mp4']);
  });

  it('is asked for in a way that its codec does not take', async () => {
    const source = await sourceOf('yuv420p');
    const format = planeFormatOf(source);
    const refuse = async (name: string, options: Partial<EncodePlanesOptions>, says: string) => {
      const written = write(at(name), source, [flat(format, 9)], options);
      await expect(written).rejects.toThrow(RangeError);
      await expect(written).rejects.toThrow(says);
    };
    await refuse('x.mov', {}, 'must end in .mp4 or .mkv');
    await refuse('x.mp4', { codec: 'prores' }, 'must end in .mov');
    await refuse('x.mov', { codec: 'prores' }, 'must be one of outputFormat for prores, got yuv420p');
    await refuse('x.mp4', { format: { ...format, widthPx: 161 } }, 'got yuv420p of 161 x 90');
    const mirrored = planeFormatOf({ ...source, mirrored: true });
    await refuse('x.mp4', { format: mirrored }, 'must be one of outputFormat for h264');
    await refuse('x.mp4', { quality: 60 }, 'quality must be within 0 to 51, got 60');
    await refuse('x.mp4', { fpsFraction: '0/0' }, 'fpsFraction must be a positive fraction');
    const smaller = outputFormat(format, 'h264', 158, 88);
    await refuse('x.mp4', { format: smaller }, 'must hold planes of 13904, 3476, 3476 samples of 1 bytes');
    await expect(write(at('x.mp4'), source, [])).rejects.toThrow('at least one frame');
  });
});
