/** What a stretch of sound holds: tones below 1 kHz and rates at which the loudness of its bands beats, in hertz. */
import { soundRefusalTexts } from '../../texts/index.js';
import { findComb } from './find-comb.js';
import { findLines, raisedSpectrum, type FoundLine } from './find-lines.js';
import { bandLoudness, slowedSound } from './loudness.js';
import type { Heard, HeardLine, SoundSamples } from './types.js';

/** Shorter than this, lines are wider than what they are to tell apart. */
export const LEAST_SOUND_S = 3;
/** Quieter than this is the noise of the recorder or of its coding. */
const SILENT_DB = -70;
const EMPTY_DB = -120;
/** Samples above this share of full scale are as good as cut off; more than so many of them and loudness means nothing. */
const CUT_LEVEL = 0.9;
const MOST_CUT = 0.02;

/** Below this microphones hear wind and handling. */
const TONE_FROM_HZ = 15;
const TONE_TOP_HZ = 1000;
const BEAT_TOP_HZ = 200;
/** Beats slower than this are how the pass was made. */
const BEAT_FROM_HZ = 0.4;
/** Beats need so many periods, tones as well. */
const LEAST_PERIODS = 4;
/** Hum and knocks, voices of the floor, hiss of tyres and ticks. */
const BANDS_HZ = [
  [100, 400],
  [400, 1500],
  [1500, 6000],
] as const;
/** Nothing above this share of the rate is used. */
const BAND_SHARE = 0.45;
/** Chance of a false line on noise: of all tones together, and of all beats together. */
const FALSE_CHANCE = 0.01;
/** Beats of two bands this many 1 / T apart are one. */
const SAME_CELLS = 1.5;
const MOST_TONES = 40;
const MOST_BEATS = 40;

/**
 * Listens to a stretch of sound.
 *
 * A motor is a tone with its multiples; wheels modulate the noise of rolling once a turn, joints tick: both are beats of
 * the loudness, looked for in three bands, line by line and as combs. Lines are as narrow as the stretch allows (1 / T). Of plain noise about 2 in
 * 100 stretches give a false tone and as many a false beat (500 made-up stretches of 5 to 20 s). Speech has tones and beats too, but broad ones, which are
 * passed over; held notes of music and hum of mains are lines like any other and not told from motors here.
 *
 * @param samples rate 4000 Hz or more
 * @param fromS start of the stretch, seconds of the clip; what lies outside the samples is left out
 * @param toS end of the stretch
 * @returns without lines and with a refusal when the stretch is shorter than 3 s, silent, or cut off at full scale
 * @remarks Own derivation.
 */
export function listen({ samples, rateHz, startS }: SoundSamples, fromS: number, toS: number): Heard {
  if (!(rateHz >= 4000)) throw new RangeError(`rateHz must be 4000 or more, got ${rateHz}`);
  const place = (timeS: number): number =>
    Math.min(Math.max(Math.round((timeS - startS) * rateHz), 0), samples.length);
  const stretch = samples.subarray(place(fromS), place(toS));
  const durationS = stretch.length / rateHz;
  const levelDb = levelOf(stretch);
  const tops = { toneTopHz: Math.min(TONE_TOP_HZ, 0.4 * rateHz), beatTopHz: BEAT_TOP_HZ };
  const refusal = whyNot(stretch, durationS, levelDb);
  if (refusal !== null) return { lines: [], ...tops, levelDb, refusal };

  const slowestHz = LEAST_PERIODS / durationS;
  const sound = raisedSpectrum(
    slowedSound(stretch, rateHz, tops.toneTopHz),
    Math.max(TONE_FROM_HZ, slowestHz),
    tops.toneTopHz,
  );
  const tones = sound ? findLines(sound, FALSE_CHANCE, MOST_TONES) : [];
  const bands = BANDS_HZ.filter(([low]) => low < 0.5 * BAND_SHARE * rateHz);
  const falseChance = FALSE_CHANCE / (2 * bands.length);
  const beats = bands.flatMap(([low, high]) => {
    const loudness = bandLoudness(stretch, rateHz, low, Math.min(high, BAND_SHARE * rateHz));
    // Loudness of a band cannot beat faster than half its width.
    const toHz = Math.min(tops.beatTopHz, 0.5 * (high - low));
    const spectrum = raisedSpectrum(loudness, Math.max(BEAT_FROM_HZ, slowestHz), toHz);
    if (!spectrum) return [];
    return [...findLines(spectrum, falseChance, MOST_BEATS), ...findComb(spectrum, falseChance)];
  });
  const lines = [...named(tones, 'tone'), ...named(strongestOf(beats, SAME_CELLS / durationS), 'beat')];
  return { lines, ...tops, levelDb, refusal };
}

function levelOf(stretch: Readonly<Float32Array>): number {
  let power = 0;
  for (let i = 0; i < stretch.length; i++) power += stretch[i] ** 2;
  const least = 10 ** (EMPTY_DB / 10);
  return 10 * Math.log10(Math.max(stretch.length > 0 ? power / stretch.length : 0, least));
}

function whyNot(stretch: Readonly<Float32Array>, durationS: number, levelDb: number): string | null {
  if (durationS < LEAST_SOUND_S) return soundRefusalTexts.tooShort(durationS.toFixed(1), LEAST_SOUND_S);
  if (levelDb < SILENT_DB) return soundRefusalTexts.silent;
  let cut = 0;
  for (let i = 0; i < stretch.length; i++) if (Math.abs(stretch[i]) >= CUT_LEVEL) cut++;
  if (cut > MOST_CUT * stretch.length) {
    const percent = ((100 * cut) / stretch.length).toFixed(0);
    return soundRefusalTexts.tooLoud(percent);
  }
  return null;
}

/** One line for each frequency, that of the band where it stands out most; lowest first. */
function strongestOf(lines: readonly FoundLine[], cellHz: number): FoundLine[] {
  const kept: FoundLine[] = [];
  for (const line of [...lines].sort((a, b) => b.strength - a.strength)) {
    if (kept.every(({ freqHz }) => Math.abs(freqHz - line.freqHz) > cellHz)) kept.push(line);
  }
  return kept.sort((a, b) => a.freqHz - b.freqHz);
}

function named(lines: readonly FoundLine[], kind: HeardLine['kind']): HeardLine[] {
  return lines.map((line) => ({ ...line, kind }));
}
