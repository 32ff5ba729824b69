import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { encodeClip, findTools, probeClip, type Tools } from '../../src/footage/index.js';
import { rms } from '../../src/numerics/index.js';
import {
  SOUND_RATE_HZ,
  makeCameraPath,
  resolveSynthOptions,
  sceneSound,
  synthesise,
  type PartialSynthOptions,
} from '../../src/synth/index.js';
import { jointTicks } from '../../src/synth/sound/joint-ticks.js';
import { expectWithin } from '../support/expect-within.js';

const STEADY = { speedWander: 0, driftDeg: 0, durationS: 4, speedMps: 0.3 } as const;

function soundOf(given: PartialSynthOptions): Float64Array {
  const options = resolveSynthOptions({ ...STEADY, ...given });
  return sceneSound(options, makeCameraPath(options));
}

/** Amplitude at a frequency over a whole number of seconds. */
function toneAt(sound: Float64Array, freqHz: number): number {
  let [re, im] = [0, 0];
  sound.forEach((v, i) => {
    re += v * Math.cos((2 * Math.PI * freqHz * i) / SOUND_RATE_HZ);
    im += v * Math.sin((2 * Math.PI * freqHz * i) / SOUND_RATE_HZ);
  });
  return (2 * Math.hypot(re, im)) / sound.length;
}

describe('the sound of a pass', () => {
  it('is as long as the clip, repeats itself, and never clips', () => {
    const given = { deck: { floor: { joints: { spacingM: 0.1, lippageMm: 2 } } } };
    const sound = soundOf(given);
    expect(sound.length).toBe(4 * SOUND_RATE_HZ);
    expect(sound).toEqual(soundOf(given));
    expect(Math.max(...sound.subarray(0, 96_000).map(Math.abs))).toBeLessThanOrEqual(0.95);
  });

  it('grows with speed, and is that of the room alone when nothing moves', () => {
    const [still, slow, fast] = [{ move: 'static' as const }, { speedMps: 0.2 }, { speedMps: 0.6 }].map(
      (given) => rms(soundOf(given)),
    );
    expectWithin(still, 0.002, { rel: 0.01, why: 'level of the room' });
    expectWithin(fast / slow, 3 ** 1.5, { rel: 0.1, why: 'the room adds a little to both' });
  });

  it('carries the tones of machines with their multiples', () => {
    const sound = soundOf({ machines: [{ freqHz: 31 }] });
    for (const freqHz of [31, 62, 93]) {
      expect(toneAt(sound, freqHz)).toBeGreaterThan(0.006);
      expect(toneAt(sound, freqHz + 7)).toBeLessThan(0.002);
    }
  });

  it('beats with wheels out of round', () => {
    const wheelRadiusM = 0.04;
    const turnsPerS = 0.3 / (2 * Math.PI * wheelRadiusM);
    const loudness = (given: PartialSynthOptions) => {
      const sound = soundOf(given);
      // RMS of each hundredth of a second, and its amplitude at one turn over its mean.
      const levels = Float64Array.from({ length: 400 }, (_, k) =>
        rms(sound.subarray(480 * k, 480 * (k + 1))),
      );
      const middle = levels.reduce((sum, v) => sum + v, 0) / 400;
      let [re, im] = [0, 0];
      levels.forEach((v, k) => {
        re += (v - middle) * Math.cos((2 * Math.PI * turnsPerS * k) / 100);
        im += (v - middle) * Math.sin((2 * Math.PI * turnsPerS * k) / 100);
      });
      return Math.hypot(re, im) / 200 / middle;
    };
    const lobes = [{ amplitudeMm: 0.3 }];
    expect(loudness({ deck: { wheelRadiusM, lobes } })).toBeGreaterThan(0.3);
    expect(loudness({ deck: { wheelRadiusM } })).toBeLessThan(0.1);
  });

  it('ticks when each axle meets a joint', () => {
    const options = resolveSynthOptions({
      ...STEADY,
      deck: {
        wheelbaseM: 0.45,
        floor: { joints: { spacingM: 0.3, lippageMm: 0, gapWidthMm: 10, firstAtM: 0.1 } },
      },
    });
    const pass = makeCameraPath(options);
    const ticks = jointTicks(options.deck!, pass.deck!.floor, pass.travelAt, 4);
    // Rear axle at .1, .4, .7, 1.0 m; front axle .45 m ahead of it: .55, .25 and so on.
    const expectedS = [0.1, 0.25, 0.4, 0.55, 0.7, 0.85, 1, 1.15].map((atM) => atM / 0.3);
    expect(ticks.length).toBe(expectedS.length);
    ticks.forEach(({ timeS, loudness }, i) => {
      expectWithin(timeS, expectedS[i], { abs: 1e-9 });
      expect(loudness).toBeGreaterThan(0.2);
    });
    const sound = sceneSound(options, pass);
    const levelAt = (timeS: number) =>
      rms(sound.subarray(Math.round(timeS * SOUND_RATE_HZ), Math.round((timeS + 0.01) * SOUND_RATE_HZ)));
    for (const timeS of expectedS) expect(levelAt(timeS)).toBeGreaterThan(1.5 * levelAt(timeS - 0.1));
  });
});

describe('a clip with sound', () => {
  let folder: string;
  let tools: Tools;
  beforeAll(async () => {
    folder = fs.mkdtempSync(path.join(os.tmpdir(), 'with-sound-'));
    tools = await findTools();
  });
  afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

  const filesAt = (name: string) => ({
    clipFile: path.join(folder, `${name}.mp4`),
    truthFile: path.join(folder, `${name}.truth.json`),
    rigFile: path.join(folder, `${name}.rig.json`),
  });

  it('is filmed with one channel beside the picture, and the same bytes each time; without it is silent', async () => {
    const given = { widthPx: 64, heightPx: 36, durationS: 0.4, machines: [{ freqHz: 40 }] };
    const [a, b, silent] = [filesAt('a'), filesAt('b'), filesAt('silent')];
    await synthesise(resolveSynthOptions({ ...given, sound: true }), a, tools);
    await synthesise(resolveSynthOptions({ ...given, sound: true }), b, tools);
    await synthesise(resolveSynthOptions(given), silent, tools);
    const facts = await probeClip(a.clipFile, tools);
    expect(facts.sound).toMatchObject([{ codec: 'aac', channels: 1 }]);
    expect(facts.frameCount).toBe(10);
    expectWithin(facts.durationS, 0.4, { abs: 0.03, why: 'a packet of AAC' });
    expect(fs.readFileSync(a.clipFile).equals(fs.readFileSync(b.clipFile))).toBe(true);
    expect((await probeClip(silent.clipFile, tools)).sound).toEqual([]);
  });

  it.each(['.mov', '.mkv'])('keeps its samples uncompressed in %s', async (ending) => {
    const file = path.join(folder, `kept${ending}`);
    const frames = Array.from({ length: 5 }, () => new Uint8Array(16 * 16));
    const sound = { rateHz: 8000, samples: new Float64Array(1600).fill(0.5) };
    await encodeClip(file, { widthPx: 16, heightPx: 16, fps: 25, sound }, frames, tools);
    expect((await probeClip(file, tools)).sound).toMatchObject([{ codec: 'pcm_s16le', channels: 1 }]);
  });

  it('leaves nothing behind when the frames fail, and refuses a rate that is none', async () => {
    const sound = { rateHz: 8000, samples: new Float64Array(80) };
    const file = path.join(folder, 'broken.mp4');
    const options = { widthPx: 16, heightPx: 16, fps: 25, sound };
    await expect(encodeClip(file, options, [new Uint8Array(3)], tools)).rejects.toThrow(/256 bytes/);
    await expect(
      encodeClip(file, { ...options, sound: { ...sound, rateHz: 0.5 } }, [new Uint8Array(256)], tools),
    ).rejects.toThrow(/rateHz/);
    const missing = path.join(folder, 'nowhere', 'clip.mp4');
    await expect(encodeClip(missing, options, [new Uint8Array(256)], tools)).rejects.toMatchObject({
      code: 'output-unwritable',
    });
    expect(fs.readdirSync(folder).filter((name) => name.includes('broken'))).toEqual([]);
  });
});
