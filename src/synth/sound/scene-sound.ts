/**
 * The sound of a made-up pass, samples of one microphone, -1..1: the room, the wheels as they roll (louder with speed, beating
 * with what is out of round), a tick for each axle on each joint, machines with their harmonics. Sample 0 belongs to the middle of
 * the exposure of frame 0.
 *
 * Levels are chosen so that each part can be told by ear; they are no model of any room.
 */
import { seededRandom } from '../../numerics/index.js';
import type { CameraPath } from '../camera-path.js';
import { lobePhaseRad } from '../causes/wheel-lobes.js';
import { frameCountOf, type SynthOptions } from '../options.js';
import { colouredNoise } from './coloured-noise.js';
import { jointTicks } from './joint-ticks.js';

/** Samples in a second. */
export const SOUND_RATE_HZ = 48_000;

const ROOM = { rms: 0.002, bandHz: [40, 1500] } as const;
const ROLLING = { rmsAt03Mps: 0.02, bandHz: [120, 2500], growth: 1.5 } as const;
/** Share by which rolling gets louder and softer for each millimetre of a lobe, and the most of it. */
const BEAT = { perMm: 1.5, most: 0.6 } as const;
const TICK = { peak: 0.6, decayS: 0.006, bandHz: [500, 5000], lengthS: 0.05 } as const;
/** Amplitude of a machine's tone and of its multiples, from the first on. */
const TONES = [0.02, 0.012, 0.008, 0.005] as const;
/** Samples for which speed and beat are taken as one. */
const BLOCK = 48;
/** The loudest sample, where the mixture would clip. */
const LOUDEST = 0.95;

/** Loudness of the wheels in each block of samples. */
function rollingLoudness(options: SynthOptions, path: CameraPath, blocks: number): Float64Array {
  const { deck } = options;
  const blockS = BLOCK / SOUND_RATE_HZ;
  return Float64Array.from({ length: blocks }, (_, k) => {
    const timeS = (k + 0.5) * blockS;
    const wayM = path.travelAt(timeS);
    const speedMps = (path.travelAt(timeS + blockS) - path.travelAt(timeS - blockS)) / (2 * blockS);
    let beat = 1;
    for (const lobe of deck?.lobes ?? [])
      beat +=
        Math.min(BEAT.most, BEAT.perMm * lobe.amplitudeMm) *
        Math.cos(lobePhaseRad(lobe, wayM, deck!.wheelRadiusM));
    return ROLLING.rmsAt03Mps * (Math.max(0, speedMps) / 0.3) ** ROLLING.growth * Math.max(0, beat);
  });
}

function addTicks(sound: Float64Array, options: SynthOptions, path: CameraPath, seed: number): void {
  if (!options.deck || !path.deck) return;
  const count = Math.round(TICK.lengthS * SOUND_RATE_HZ);
  const burst = colouredNoise(count, SOUND_RATE_HZ, TICK.bandHz, seed).map(
    (v, i) => (v / 3) * Math.exp(-i / (TICK.decayS * SOUND_RATE_HZ)),
  );
  for (const { timeS, loudness } of jointTicks(
    options.deck,
    path.deck.floor,
    path.travelAt,
    sound.length / SOUND_RATE_HZ,
  )) {
    const start = Math.round(timeS * SOUND_RATE_HZ);
    for (let i = 0; i < count && start + i < sound.length; i++)
      sound[start + i] += TICK.peak * loudness * burst[i];
  }
}

function addTones(sound: Float64Array, { machines, seed }: SynthOptions): void {
  const random = seededRandom(seed * 6151 + 3);
  for (const { freqHz } of machines) {
    TONES.forEach((amplitude, k) => {
      const phase = 2 * Math.PI * random();
      const step = (2 * Math.PI * freqHz * (k + 1)) / SOUND_RATE_HZ;
      for (let i = 0; i < sound.length; i++) sound[i] += amplitude * Math.sin(step * i + phase);
    });
  }
}

/**
 * Makes the sound of a pass.
 *
 * @returns samples at {@link SOUND_RATE_HZ}, as long as the clip; brought down as a whole where the loudest would clip
 */
export function sceneSound(options: SynthOptions, path: CameraPath): Float64Array {
  const count = Math.round((frameCountOf(options) / options.fps) * SOUND_RATE_HZ);
  const noise = (bandHz: readonly [number, number], part: number): Float64Array =>
    colouredNoise(count, SOUND_RATE_HZ, bandHz, options.seed * 6151 + part);
  const wheels = noise(ROLLING.bandHz, 1);
  const loudness = rollingLoudness(options, path, Math.ceil(count / BLOCK));
  const sound = noise(ROOM.bandHz, 2).map(
    (v, i) => ROOM.rms * v + loudness[Math.floor(i / BLOCK)] * wheels[i],
  );
  addTicks(sound, options, path, options.seed * 6151 + 4);
  addTones(sound, options);
  const loudest = sound.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  return loudest > LOUDEST ? sound.map((v) => (v * LOUDEST) / loudest) : sound;
}
