/** Sound of a dolly pass as a microphone on the camera would hear it: rolling, joints, a motor and the room; seeded. */
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import type { SoundSamples } from '../../../src/spectrum/sound/types.js';

export const RATE_HZ = 16_000;

/** What is heard; levels are RMS, full scale 1. Left out means not there. */
export interface MadeUpSound {
  readonly seed: number;
  readonly durationS: number;
  /** Broadband noise of the room and of the recorder, falling with frequency. */
  readonly room?: number;
  /** Noise of rolling; its loudness follows the turn of the wheel by `wheelDepth`. */
  readonly rolling?: { readonly level: number; readonly turnHz: number; readonly wheelDepth: number };
  /** A tick of some milliseconds when each axle meets a joint. */
  readonly ticks?: { readonly level: number; readonly rateHz: number; readonly axlesApartS: number };
  /** A tone and its multiples, as loud as the microphone still hears them. */
  readonly motor?: { readonly level: number; readonly freqHz: number };
  /** Standard deviation of the pace, as a share, changing over a second. */
  readonly wobble?: number;
  /** Something like a voice: bursts of a gliding tone with multiples, three to five a second, uneven. */
  readonly voice?: number;
}

/** Multiples 1..4 of a motor through a small microphone. */
const MOTOR_MULTIPLES = [0.3, 0.8, 1, 0.5];

/** Noise that falls by about 3 dB an octave between 10 Hz and 4 kHz, RMS 1. */
function pinkNoise(length: number, gauss: () => number): Float64Array {
  const out = new Float64Array(length);
  const corners = [20, 80, 320, 1280, 5120];
  const states = new Float64Array(corners.length);
  let power = 0;
  for (let i = 0; i < length; i++) {
    const white = gauss();
    for (let c = 0; c < corners.length; c++) {
      const keep = Math.exp((-2 * Math.PI * corners[c]) / RATE_HZ);
      // Equal power from each corner: together they fall half as steeply as one.
      states[c] = keep * states[c] + Math.sqrt(1 - keep * keep) * white;
      out[i] += states[c];
    }
    power += out[i] ** 2;
  }
  const scale = 1 / Math.sqrt(power / length);
  return out.map((level) => level * scale);
}

/** Time along the pass as the wheels count it: seconds at the mean pace. */
function pacedTime(length: number, wobble: number, gauss: () => number): Float64Array {
  const out = new Float64Array(length);
  const keep = Math.exp(-1 / RATE_HZ);
  const kick = Math.sqrt(1 - keep * keep) * wobble;
  let off = wobble * gauss();
  for (let i = 1; i < length; i++) {
    off = keep * off + kick * gauss();
    out[i] = out[i - 1] + (1 + off) / RATE_HZ;
  }
  // Peaks of the picture are held against the mean pace.
  const scale = length / RATE_HZ / out[length - 1];
  return out.map((t) => t * scale);
}

export function madeUpSound(made: MadeUpSound): SoundSamples {
  const random = seededRandom(made.seed);
  const gauss = gaussianRandom(random);
  const length = Math.round(made.durationS * RATE_HZ);
  const samples = new Float64Array(length);
  const add = (level: (i: number) => number): void => {
    for (let i = 0; i < length; i++) samples[i] += level(i);
  };
  const time = pacedTime(length, made.wobble ?? 0, gauss);
  if (made.room) {
    const { room } = made;
    const noise = pinkNoise(length, gauss);
    add((i) => room * noise[i]);
  }
  if (made.rolling) {
    const { level, turnHz, wheelDepth } = made.rolling;
    const noise = pinkNoise(length, gauss);
    const phase = 2 * Math.PI * random();
    add((i) => level * noise[i] * (1 + wheelDepth * Math.cos(2 * Math.PI * turnHz * time[i] + phase)));
  }
  if (made.ticks) {
    const { level, rateHz, axlesApartS } = made.ticks;
    const start = random();
    for (const laterS of [0, axlesApartS]) {
      let count = Math.floor(-start - laterS * rateHz);
      let ring = 0;
      add((i) => {
        const passed = Math.floor((time[i] - laterS) * rateHz - start);
        if (passed > count) ring = level * (0.7 + 0.6 * random());
        count = passed;
        ring *= Math.exp(-1 / (0.004 * RATE_HZ));
        return ring * gauss();
      });
    }
  }
  if (made.motor) {
    const { level, freqHz } = made.motor;
    for (const [k, share] of MOTOR_MULTIPLES.entries()) {
      const phase = 2 * Math.PI * random();
      const turn = (2 * Math.PI * freqHz * (k + 1)) / RATE_HZ;
      add((i) => level * share * Math.cos(turn * i + phase));
    }
  }
  if (made.voice) addVoice(samples, made.voice, random);
  return { rateHz: RATE_HZ, startS: 0, samples: Float32Array.from(samples) };
}

function addVoice(samples: Float64Array, level: number, random: () => number): void {
  let at = 0;
  let phase = 0;
  while (at < samples.length) {
    const length = Math.round((0.12 + 0.15 * random()) * RATE_HZ);
    const fromHz = 100 + 60 * random();
    const glideHz = 40 * (random() - 0.5);
    const loud = level * (0.4 + random());
    for (let i = 0; i < length && at + i < samples.length; i++) {
      phase += (2 * Math.PI * (fromHz + (glideHz * i) / length)) / RATE_HZ;
      const swell = Math.sin((Math.PI * i) / length) ** 2;
      for (let k = 1; k <= 8; k++) samples[at + i] += (loud * swell * Math.cos(k * phase)) / k;
    }
    // A pause between words now and then.
    at += length + Math.round((0.03 + (random() < 0.2 ? 0.4 * random() : 0.05 * random())) * RATE_HZ);
  }
}
