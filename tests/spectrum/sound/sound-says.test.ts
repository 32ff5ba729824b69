/** Which of the frequencies behind a peak is heard: by hand-made lines, and by made-up sound. */
import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import { listen } from '../../../src/spectrum/sound/listen.js';
import { soundSays } from '../../../src/spectrum/sound/sound-says.js';
import type { Heard, HeardLine, SoundSays } from '../../../src/spectrum/sound/types.js';
import { madeUpSound, type MadeUpSound } from './made-up-sound.js';

const FPS = 25;
/** All frequencies below 150 Hz that 25 frames/s show at `seenHz`. */
function behind(seenHz: number): number[] {
  const all = [seenHz];
  for (let m = 1; m <= 5; m++) all.push(m * FPS - seenHz, m * FPS + seenHz);
  return all;
}

const line = (kind: HeardLine['kind'], freqHz: number): HeardLine => ({
  kind,
  freqHz,
  freqSdHz: 0.01,
  strength: 50,
});
const heard = (...lines: HeardLine[]): Heard => ({
  lines,
  toneTopHz: 1000,
  beatTopHz: 200,
  levelDb: -30,
  refusal: null,
});
const PEAK = { freqHz: 6, freqSdHz: 0.015 };

describe('a peak at 6 Hz in 25 frames/s', () => {
  it('is the motor of 31 Hz that is heard', () => {
    const says = soundSays(PEAK, behind(6), heard(line('tone', 31.01), line('tone', 62.02)));
    expect(says).toMatchObject({ trueHz: 31, kind: 'tone' });
    expect(says?.probability).toBeGreaterThan(0.9);
  });

  it('is that motor also when the microphone hears its multiples alone', () => {
    const says = soundSays(PEAK, behind(6), heard(line('tone', 61.99), line('tone', 93)));
    expect(says).toMatchObject({ trueHz: 31, kind: 'tone' });
  });

  it('is what it looks like when the loudness beats at 6 Hz', () => {
    expect(soundSays(PEAK, behind(6), heard(line('beat', 6.01)))).toMatchObject({ trueHz: 6, kind: 'beat' });
  });

  it('is less surely a tooth of a dense comb than a beat that stands alone', () => {
    const dense = Array.from({ length: 60 }, (_, k) => line('beat', 19 + 0.2 * (k - 30)));
    const alone = soundSays(PEAK, behind(6), heard(line('beat', 19)));
    expect(alone?.trueHz).toBe(19);
    expect(soundSays(PEAK, behind(6), heard(...dense))).toBeNull();
  });

  it('is left open when nothing that is heard is near', () => {
    expect(soundSays(PEAK, behind(6), heard(line('tone', 28), line('beat', 2)))).toBeNull();
    expect(soundSays(PEAK, behind(6), heard())).toBeNull();
    expect(
      soundSays(PEAK, behind(6), { ...heard(line('beat', 6)), refusal: 'The sound is silent.' }),
    ).toBeNull();
  });

  it('never claims more than 0.95', () => {
    const all = [31, 62, 93].map((f) => line('tone', f));
    expect(soundSays(PEAK, behind(6), heard(...all, line('beat', 31)))?.probability).toBe(0.95);
  });
});

it('hum of the mains is no motion', () => {
  // 24 frames/s show 50 Hz at 2 Hz.
  const candidates = [2, 22, 26, 46, 50, 70, 74];
  expect(
    soundSays({ freqHz: 2, freqSdHz: 0.02 }, candidates, heard(line('tone', 50), line('tone', 100))),
  ).toBeNull();
});

describe('made-up passes of 8 s', () => {
  const BED = { room: 0.01, rolling: { level: 0.03, turnHz: 0.64, wheelDepth: 0.2 }, wobble: 0.01 };

  /** What is said of a peak of rho 30 by each of some passes that shake at `trueHz`. */
  function said(passes: number, make: (u: number) => { trueHz: number; sound: Partial<MadeUpSound> }) {
    return Array.from({ length: passes }, (_, seed): { says: SoundSays | null; trueHz: number } => {
      const random = seededRandom(500 + seed);
      const { trueHz, sound } = make(random());
      const sdHz = 0.5 / (8 * Math.sqrt(30));
      const seenHz = Math.abs(trueHz - FPS * Math.round(trueHz / FPS)) + sdHz * gaussianRandom(random)();
      const all = listen(madeUpSound({ ...BED, ...sound, seed, durationS: 8 }), 0, 8);
      return { says: soundSays({ freqHz: seenHz, freqSdHz: 1.3 * sdHz }, behind(seenHz), all), trueHz };
    });
  }
  const rightOf = (all: ReturnType<typeof said>): number =>
    all.filter(({ says, trueHz }) => says && Math.abs(says.trueHz - trueHz) < 0.2).length;
  const wrongOf = (all: ReturnType<typeof said>): number =>
    all.filter(({ says, trueHz }) => says && Math.abs(says.trueHz - trueHz) >= 0.2).length;

  it('give a folded motor its own frequency', () => {
    const all = said(8, (u) => ({
      trueHz: 28 + 8 * u,
      sound: { motor: { level: 0.005, freqHz: 28 + 8 * u } },
    }));
    expect(rightOf(all)).toBeGreaterThanOrEqual(6);
    expect(wrongOf(all)).toBe(0);
  });

  it('give a wheel its own, not what folds onto it', () => {
    const all = said(8, (u) => {
      const turnHz = 1.2 + 2 * u;
      return { trueHz: turnHz, sound: { rolling: { level: 0.03, turnHz, wheelDepth: 0.15 } } };
    });
    expect(rightOf(all)).toBeGreaterThanOrEqual(7);
    expect(wrongOf(all)).toBe(0);
  });

  it('give a mount that is not heard nothing, though wheel and voices are', () => {
    const all = said(8, (u) => ({ trueHz: 4 + 6 * u, sound: { voice: 0.05 } }));
    expect(wrongOf(all)).toBeLessThanOrEqual(1);
  });
});
