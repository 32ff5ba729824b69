/** Tones and beats heard in made-up sound whose content is known. */
import { describe, expect, it } from 'vitest';
import { listen } from '../../../src/spectrum/sound/listen.js';
import type { HeardLine, SoundSamples } from '../../../src/spectrum/sound/types.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpSound, RATE_HZ, type MadeUpSound } from './made-up-sound.js';

const S = 8;
const ROLLING = { level: 0.03, turnHz: 2.2, wheelDepth: 0.3 };

function heardIn(made: Omit<MadeUpSound, 'durationS'>): readonly HeardLine[] {
  const heard = listen(madeUpSound({ durationS: S, ...made }), 0, S);
  expect(heard.refusal).toBeNull();
  return heard.lines;
}

const of = (lines: readonly HeardLine[], kind: HeardLine['kind']): number[] =>
  lines.filter((line) => line.kind === kind).map(({ freqHz }) => freqHz);

describe('what is heard', () => {
  it('is a motor as tones at multiples of its turn', () => {
    const lines = heardIn({ seed: 1, room: 0.01, motor: { level: 0.004, freqHz: 31.3 } });
    const tones = lines.filter(({ kind }) => kind === 'tone');
    expect(tones.length).toBeGreaterThanOrEqual(2);
    for (const { freqHz, freqSdHz } of tones) {
      const order = Math.round(freqHz / 31.3);
      expectWithin(freqHz, order * 31.3, { abs: 4 * freqSdHz, why: 'four standard deviations as stated' });
    }
  });

  it('is a wheel as a beat of the noise of rolling, once a turn, and no tone', () => {
    const lines = heardIn({ seed: 2, room: 0.01, rolling: ROLLING });
    expect(of(lines, 'tone')).toEqual([]);
    const beats = of(lines, 'beat');
    expectWithin(beats[0], 2.2, { abs: 0.25 / S, why: 'a quarter of the resolution' });
  });

  it('is slow ticks of joints as a comb, though each of its lines is weak', () => {
    const rateHz = 0.71;
    const ticks = { level: 0.15, rateHz, axlesApartS: 0.35 / rateHz };
    const beats = of(heardIn({ seed: 3, room: 0.01, rolling: { ...ROLLING, wheelDepth: 0 }, ticks }), 'beat');
    expect(beats.length).toBeGreaterThanOrEqual(4);
    for (const freqHz of beats) {
      const order = Math.round(freqHz / rateHz);
      expectWithin(freqHz, order * rateHz, { abs: 0.5 / S, why: 'half the resolution' }, `tooth ${order}`);
    }
  });

  it('is quick ticks at their own rate and not at half of it', () => {
    const ticks = { level: 0.1, rateHz: 17.2, axlesApartS: 0.02 };
    const beats = of(heardIn({ seed: 4, room: 0.01, ticks }), 'beat');
    expectWithin(beats[0], 17.2, { abs: 0.5 / S, why: 'half the resolution' });
  });

  it('is nothing in plain noise but for 4 in 100 stretches', () => {
    let withLines = 0;
    for (let seed = 100; seed < 112; seed++) if (heardIn({ seed, room: 0.05 }).length > 0) withLines++;
    // With a rate of 4 in 100, more than 3 of 12 come in 1 of 900 sets of seeds.
    expect(withLines).toBeLessThanOrEqual(3);
  });

  it('is not a voice, whose tones and beats are broad', () => {
    const counts = [21, 22, 23, 24].map((seed) => heardIn({ seed, room: 0.01, voice: 0.05 }).length);
    expect(counts.reduce((a, b) => a + b, 0)).toBeLessThanOrEqual(2);
  });

  it('is looked for in the stretch that was asked for alone, by the time of the clip', () => {
    const motor = madeUpSound({ seed: 5, durationS: 5, room: 0.01, motor: { level: 0.02, freqHz: 33 } });
    const room = madeUpSound({ seed: 6, durationS: 5, room: 0.01 });
    const samples = new Float32Array([...room.samples, ...motor.samples]);
    const sound: SoundSamples = { rateHz: RATE_HZ, startS: 1, samples };
    expect(of(listen(sound, 1, 6).lines, 'tone')).toEqual([]);
    expect(of(listen(sound, 6, 11).lines, 'tone').length).toBeGreaterThanOrEqual(2);
  });

  it('is the same on every hearing', () => {
    const made = { seed: 7, room: 0.01, rolling: ROLLING };
    expect(heardIn(made)).toEqual(heardIn(made));
  });
});

describe('sound that says nothing', () => {
  const seconds = (durationS: number, level: (i: number) => number): SoundSamples => ({
    rateHz: RATE_HZ,
    startS: 0,
    samples: Float32Array.from({ length: durationS * RATE_HZ }, (_, i) => level(i)),
  });

  it.each([
    { what: 'silent', sound: seconds(5, () => 0), said: /silent/ },
    { what: 'too short', sound: madeUpSound({ seed: 8, durationS: 2, room: 0.05 }), said: /2\.0 s long/ },
    { what: 'cut off at full scale', sound: seconds(5, (i) => Math.sign(Math.sin(i))), said: /too loud/ },
  ])('is refused when it is $what', ({ sound, said }) => {
    const heard = listen(sound, 0, 60);
    expect(heard.lines).toEqual([]);
    expect(heard.refusal).toMatch(said);
    expect(Number.isFinite(heard.levelDb)).toBe(true);
  });

  it('is refused where the stretch lies beyond the samples', () => {
    expect(listen(madeUpSound({ seed: 9, durationS: 4, room: 0.05 }), 10, 20).refusal).toMatch(/0\.0 s long/);
  });

  it('has its level in dB below full scale', () => {
    const tone = seconds(4, (i) => 0.2 * Math.sin((2 * Math.PI * 100 * i) / RATE_HZ));
    // 0.2 / sqrt 2 in dB; whole periods.
    expectWithin(listen(tone, 0, 4).levelDb, -16.99, { abs: 0.01, why: 'rounding of the expected value' });
  });
});
