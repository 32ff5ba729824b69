/** Sound of a clip as samples: the right channel, at its place in the time of the picture. */
import { readFile, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { probeClip, readSound, type ClipFacts, type SoundOptions } from '../../src/footage/index.js';
import type { Warning } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { clipFolder, failureOf, makeClip, processesNaming, testSource, tools } from './made-clips.js';

const folder = clipFolder();
const at = (name: string) => path.join(folder, name);
const LAVFI = ['-f', 'lavfi'];
const X264 = ['-c:v', 'libx264', '-preset', 'ultrafast', '-g', '10'];
/** A tone that swells, from 0.4 s of the sound on, silence before. */
const BEEP = "aevalsrc='if(gt(t,0.4),(0.5+0.4*cos(2*PI*7*(t-0.4)))*sin(2*PI*440*t),0)':s=48000:d=1.2";
const PLACED = { abs: 0.004, why: 'the onset of a coded and resampled tone, far below a frame' };

async function clip(name: string, sound: string, coder: string, laterS = 0): Promise<ClipFacts> {
  const offset = (delayS: number) => (delayS > 0 ? ['-itsoffset', String(delayS)] : []);
  const picture = [...offset(-laterS), ...testSource(160, 90, '25', 1)];
  const input = [...offset(laterS), ...LAVFI, '-i', sound];
  const streams = ['-map', '0:v', '-map', '1:a', ...X264, '-c:a', coder, '{passthrough}'];
  return probeClip(await makeClip(at(name), ...picture, ...input, ...streams), tools);
}

async function read(facts: ClipFacts, options: SoundOptions = {}) {
  const warnings: Warning[] = [];
  const sound = await readSound(facts, { onWarning: (one) => warnings.push(one), ...options }, tools);
  return { sound, warnings };
}

const loudest = (samples: Readonly<Float32Array>): number =>
  samples.reduce((most, level) => Math.max(most, Math.abs(level)), 0);

describe('sound', () => {
  it.each([
    { name: 'pcm.mov', coder: 'pcm_s24le', laterS: 0, inS: undefined },
    { name: 'later.mp4', coder: 'aac', laterS: 0.13, inS: undefined },
    { name: 'in.mp4', coder: 'aac', laterS: 0.13, inS: 0.24 },
    { name: 'early.mkv', coder: 'pcm_s16le', laterS: -0.13, inS: undefined },
    { name: 'transport.ts', coder: 'mp2', laterS: 0.13, inS: 0.2 },
    { name: 'odd name: 50% -50 ü.mov', coder: 'pcm_s16le', laterS: 0, inS: 0.1 },
  ])('of $name stands at its place in the time of the picture', async ({ name, coder, laterS, inS }) => {
    const { sound, warnings } = await read(await clip(name, BEEP, coder, laterS), { inS });
    if (!sound) throw new Error('no sound was read');
    expect(warnings).toEqual([]);
    expect(sound.startS).toBeGreaterThanOrEqual((inS ?? 0) - 0.001);
    const first = sound.samples.findIndex((level) => Math.abs(level) > 0.15);
    expect(first).toBeGreaterThanOrEqual(0);
    // A delayed picture is stamped on the grid of its rate, and a coder of sound may delay by less than it says.
    const why = laterS < 0 || coder === 'mp2' ? { abs: 0.02, why: 'half a frame' } : PLACED;
    expectWithin(sound.startS + first / sound.rateHz, 0.4 + laterS, why, 'onset');
  });

  it('ends with the range, at the rate asked for', async () => {
    const facts = await clip('range.mov', BEEP, 'pcm_s16le');
    const { sound } = await read(facts, { inS: 0.5, outS: 0.75, rateHz: 8000 });
    expect(sound?.rateHz).toBe(8000);
    expect(sound?.startS).toBe(0.5);
    expectWithin((sound?.samples.length ?? 0) / 8000, 0.25, { abs: 0.002, why: 'cut by the sample' });
  });

  it('is that of the loudest channel, timecode and tones for lining up passed over', async () => {
    const timecode = '0.8*(2*gt(sin(2*PI*1000*t),0)-1)';
    const channels = `0.02*sin(2*PI*300*t)*cos(9*t)|0.4*sin(2*PI*500*t)*cos(9*t)|${timecode}`;
    const three = `aevalsrc='${channels}':s=48000:d=1:c=3.0`;
    const { sound } = await read(await clip('three.mov', three, 'pcm_s16le'));
    expectWithin(loudest(sound?.samples ?? new Float32Array()), 0.4, {
      abs: 0.01,
      why: 'ripple of the resampler',
    });
  });

  it('that is a line-up tone alone is none, with a warning', async () => {
    const { sound, warnings } = await read(
      await clip('tone.mov', 'sine=frequency=1000:duration=1', 'pcm_s16le'),
    );
    expect(sound).toBeNull();
    expect(warnings.map(({ code }) => code)).toEqual(['sound-unusable']);
  });

  it('is none for a silent clip, without a word', async () => {
    const silent = await makeClip(at('silent.mp4'), ...testSource(160, 90, '25', 0.4), ...X264);
    expect(await read(await probeClip(silent, tools))).toEqual({ sound: null, warnings: [] });
  });

  it('that cannot be decoded is none, with a warning instead of a failure', async () => {
    const facts = await clip('broken.mov', BEEP, 'aac');
    const broken = { ...facts, file: at('gone.mov') };
    const { sound, warnings } = await read(broken);
    expect(sound).toBeNull();
    expect(warnings.map(({ code }) => code)).toEqual(['sound-unusable']);
  });

  it('of a clip that was cut off is what there is', async () => {
    const facts = await clip('whole.mkv', BEEP, 'pcm_s16le');
    const bytes = await readFile(facts.file);
    await writeFile(at('cut.mkv'), bytes.subarray(0, Math.floor(bytes.length * 0.6)));
    const { sound } = await read({ ...facts, file: at('cut.mkv') });
    expect(sound?.samples.length).toBeGreaterThan(0);
    expect(sound?.samples.length).toBeLessThan(16_000);
  });

  it('of a long range is its middle, and that is said', async () => {
    const long = ['-i', 'aevalsrc=0.3*sin(2*PI*440*t)*cos(9*t):s=8000:d=200'];
    const file = await makeClip(
      at('long.mkv'),
      ...testSource(16, 16, '1', 200),
      ...LAVFI,
      ...long,
      ...['-c:v', 'ffv1', '-c:a', 'pcm_s16le'],
    );
    const { sound, warnings } = await read(await probeClip(file, tools), { rateHz: 4000 });
    expect(warnings.map(({ code }) => code)).toEqual(['sound-shortened']);
    expectWithin(sound?.startS ?? 0, 40, { abs: 0.01, why: 'the middle 120 s of 200 s' });
    expectWithin((sound?.samples.length ?? 0) / 4000, 120, { abs: 0.01, why: 'the cap' });
  });

  it('is given up on request, and no process stays behind', async () => {
    const facts = await clip('stopped.mov', BEEP, 'pcm_s16le');
    await failureOf('interrupted', () => read(facts, { signal: AbortSignal.abort() }));
    expect(await processesNaming('stopped.mov')).toEqual([]);
  });
});
