/** Sound of a clip in the clip written from its frames: in sync with the picture, all streams, all channels. */
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  encodePlanes,
  planeFormatOf,
  probeClip,
  type ClipFacts,
  type EncodeRecord,
} from '../../src/footage/index.js';
import { expectWithin } from '../support/expect-within.js';
import { clipFolder, makeClip, rawBytes, streamsOf, testSource, tools } from './made-clips.js';

const folder = clipFolder();
const at = (name: string) => path.join(folder, name);
const RATE_HZ = 48000;
/** A tone from 0.4 to 0.5 s of the sound, silence around it. */
const BEEP_S = 0.4;
const BEEP = `aevalsrc='if(between(t,${BEEP_S},0.5),0.8*sin(2*PI*1000*t),0)':s=${RATE_HZ}:d=0.9`;
const LAVFI = ['-f', 'lavfi'];
/** Packets of sound last about 20 ms, but their time stamps say where they belong; coding smears an onset a little. */
const IN_SYNC_S = { abs: 0.002, why: 'the onset of a coded tone, far below a frame' };

/** A clip whose sound begins `laterS` after the picture (before it when negative). */
async function clipWithBeep(file: string, coder: string, laterS: number): Promise<ClipFacts> {
  const offset = (delayS: number) => (delayS > 0 ? ['-itsoffset', String(delayS)] : []);
  const picture = [...offset(-laterS), ...testSource(160, 90, '25', 0.8)];
  const sound = [...offset(laterS), ...LAVFI, '-i', BEEP];
  const x264 = ['-c:v', 'libx264', '-preset', 'ultrafast', '-pix_fmt', 'yuv422p', '-g', '10'];
  const streams = ['-map', '0:v', '-map', '1:a'];
  await makeClip(at(file), ...picture, ...sound, ...streams, ...x264, '-c:a', coder, '{passthrough}');
  return probeClip(at(file), tools);
}

/** Writes grey pictures for `durationS` with the sound of the clip from `inS` on. */
async function write(file: string, source: ClipFacts, inS: number, durationS: number): Promise<EncodeRecord> {
  const format = planeFormatOf(source);
  const planes = format.planes.map(({ widthPx, heightPx }) => new Uint8Array(widthPx * heightPx).fill(128));
  async function* frames() {
    for (let n = 0; n < Math.round(durationS * source.fps); n++) yield await Promise.resolve({ planes });
  }
  const codec = file.endsWith('.mov') ? 'prores' : 'h264';
  const { fpsFraction } = source;
  const options = { source, format, codec, fpsFraction, preset: 'ultrafast', timecode: null } as const;
  return encodePlanes(at(file), { ...options, sound: { inS, durationS } }, frames(), tools);
}

/** Samples of one sound stream, silence put where it begins later than 0 of the container's clock. */
async function samplesOf(file: string, track = 0): Promise<Float32Array> {
  const filter = ['-af', 'aresample=async=1:first_pts=0', '-ac', '1', '-f', 'f32le'];
  const raw = await rawBytes('-copyts', '-i', file, '-map', `0:a:${track}`, ...filter);
  return new Float32Array(raw.buffer.slice(raw.byteOffset, raw.byteOffset + raw.length));
}

/** When the tone begins, seconds after the first frame of the picture. */
async function onsetS(file: string, startTimeS: number, track = 0): Promise<number> {
  const sample = (await samplesOf(file, track)).findIndex((level) => Math.abs(level) > 0.2);
  expect(sample, `a tone in ${path.basename(file)}`).toBeGreaterThanOrEqual(0);
  return sample / RATE_HZ - startTimeS;
}

describe('sound and picture', () => {
  it.each([
    { from: 'pcm.mov', coder: 'pcm_s24le', laterS: 0, inS: 0.2, to: 'pcm-out.mov', codec: 'pcm_s24le' },
    { from: 'pcm2.mov', coder: 'pcm_s16be', laterS: 0.13, inS: 0, to: 'pcm-out.mp4', codec: 'aac' },
    { from: 'aac.mp4', coder: 'aac', laterS: 0.13, inS: 0, to: 'aac-out.mp4', codec: 'aac' },
    { from: 'early.mp4', coder: 'aac', laterS: -0.13, inS: 0.12, to: 'early-out.mov', codec: 'aac' },
    { from: 'early.mkv', coder: 'ac3', laterS: -0.13, inS: 0, to: 'early-out.mkv', codec: 'ac3' },
    { from: 'late.ts', coder: 'ac3', laterS: 0.13, inS: 0, to: 'late-out.mp4', codec: 'ac3' },
    { from: 'late2.ts', coder: 'mp2', laterS: 0.13, inS: 0.08, to: 'late-out.mov', codec: 'pcm_s16le' },
  ])(
    'stay together from $from, sound $laterS s later, in at $inS s, to $to',
    async ({ from, coder, laterS, inS, to, codec }) => {
      const source = await clipWithBeep(from, coder, laterS);
      const record = await write(to, source, inS, 0.8 - inS);
      expect(record.sound).toEqual([{ stream: 0, codec, unchanged: codec === coder }]);
      const written = await probeClip(at(to), tools);
      expect(written.sound.map((one) => one.codec)).toEqual([codec]);
      expect(written.frameCount === 0 || written.frameCount === Math.round((0.8 - inS) * 25)).toBe(true);
      const expectedS = BEEP_S + laterS - inS;
      // The source too is looked at as it is played: coders delay their sound by what they say, or not quite.
      const sourceS = await onsetS(source.file, source.startTimeS);
      expectWithin(sourceS, BEEP_S + laterS, { abs: 0.02, why: 'half a frame' }, 'tone of the source');
      const writtenS = await onsetS(at(to), written.startTimeS);
      expectWithin(writtenS, sourceS - inS, IN_SYNC_S, `tone, about ${expectedS} s after the first frame`);
    },
  );

  it('are cut at the same end', async () => {
    const source = await clipWithBeep('long.mov', 'pcm_s16le', 0);
    await write('cut.mov', source, 0.12, 0.2);
    const sound = await samplesOf(at('cut.mov'));
    expectWithin(
      sound.length / RATE_HZ,
      0.2,
      { abs: 0.001, why: 'cut by the sample' },
      'length of the sound',
    );
  });
});

describe('streams and channels', () => {
  it('are all there, uncompressed samples as they were', async () => {
    const tones = ['-i', `sine=frequency=500:duration=0.6:sample_rate=${RATE_HZ}`, ...LAVFI, '-i', BEEP];
    const maps = ['-map', '0', '-map', '1', '-map', '2'];
    const coders = ['-c:v', 'ffv1', '-pix_fmt', 'yuv422p', '-c:a', 'pcm_s16le'];
    await makeClip(at('two.mkv'), ...testSource(160, 90, '25', 0.6), ...LAVFI, ...tones, ...maps, ...coders);
    const source = await probeClip(at('two.mkv'), tools);
    expect(source.sound.length).toBe(2);
    const record = await write('two.mov', source, 0, 0.6);
    expect(record.sound).toEqual([0, 1].map((stream) => ({ stream, codec: 'pcm_s16le', unchanged: true })));
    for (const track of [0, 1]) {
      const [before, after] = [await samplesOf(source.file, track), await samplesOf(at('two.mov'), track)];
      expect(after.subarray(0, 28_000)).toEqual(before.subarray(0, 28_000));
    }
  });

  it('go into tracks of their own where the new coding has no word for their layout', async () => {
    const four = [1, 2, 3, 4].map((k) => `0.15*${k}*sin(2*PI*1000*t)`).join('|');
    const sound = [...LAVFI, '-i', `aevalsrc='${four}':s=${RATE_HZ}:d=0.4:c=quad`];
    const coders = ['-c:v', 'ffv1', '-pix_fmt', 'yuv422p', '-c:a', 'pcm_s16le'];
    await makeClip(at('quad.mkv'), ...testSource(160, 90, '25', 0.4), ...sound, ...coders);
    await write('quad.mp4', await probeClip(at('quad.mkv'), tools), 0, 0.4);
    const written = await streamsOf(at('quad.mp4'));
    const tracks = written.filter((one) => one.codec_type === 'audio');
    expect(tracks.map((one) => one.channels)).toEqual([1, 1, 1, 1]);
    for (const k of [0, 1, 2, 3]) {
      const middle = (await samplesOf(at('quad.mp4'), k)).subarray(7200, 12_000);
      const level = middle.reduce((most, one) => Math.max(most, Math.abs(one)), 0);
      expectWithin(level, 0.15 * (k + 1), { abs: 0.03, why: 'lossy coding of a tone' }, `track ${k}`);
    }
  });

  it('are none for a silent clip, and for a range that ends before its sound begins', async () => {
    await makeClip(
      at('silent.mkv'),
      ...testSource(160, 90, '25', 0.4),
      '-c:v',
      'ffv1',
      '-pix_fmt',
      'yuv422p',
    );
    const silent = await write('silent.mp4', await probeClip(at('silent.mkv'), tools), 0, 0.4);
    expect(silent).toMatchObject({ frameCount: 10, sound: [] });
    const late = await write('late.mp4', await clipWithBeep('late.mkv', 'aac', 0.3), 0, 0.2);
    expect(late).toMatchObject({ frameCount: 5, sound: [{ stream: 0, codec: null, unchanged: false }] });
    expect((await probeClip(at('late.mp4'), tools)).hasAudio).toBe(false);
  });
});
