/** Films a made-up pass: clip, truth and rig. */
import { TrundleError, type Delivery } from '../run/index.js';
import { writeWhole } from '../files/index.js';
import { encodeClip, type Tools } from '../footage/index.js';
import { startFilm } from './film.js';
import { framesOf } from './frame-pool.js';
import type { SynthOptions } from './options.js';
import { rigOf } from './rig-file.js';
import { sceneSound, SOUND_RATE_HZ } from './sound/scene-sound.js';
import { truthOf, truthText, type SynthTruth } from './truth.js';

/** Where the three files go; folders must be there. */
export interface SynthFiles {
  readonly clipFile: string;
  readonly truthFile: string;
  readonly rigFile: string;
}

/** How it is done. */
export interface SynthesiseSettings {
  /** Threads that draw; 1 draws in the calling thread. Default 1. The pictures do not depend on it. */
  readonly threads?: number;
  readonly signal?: AbortSignal | undefined;
  /** Written into the rig file beside the rig. */
  readonly delivery?: Delivery;
  /** Called after each frame with the number of frames done. */
  readonly onFrame?: (count: number) => void;
}

/**
 * Films the pass that `options` describe and writes clip (H.264, with sound when asked for), truth ({@link SynthTruth}) and rig.
 *
 * The same options give the same bytes, on any number of threads.
 *
 * @param options from `resolveSynthOptions`
 * @returns the truth that was written
 * @throws TrundleError `output-unwritable`, `interrupted`
 */
export async function synthesise(
  options: SynthOptions,
  files: SynthFiles,
  tools: Tools,
  settings: SynthesiseSettings = {},
): Promise<SynthTruth> {
  const { threads = 1, signal, onFrame, delivery } = settings;
  const film = startFilm(options);
  const truth = truthOf(film);

  async function* counted(): AsyncGenerator<Uint8Array> {
    let count = 0;
    for await (const frame of framesOf(film, threads, signal)) {
      yield frame;
      onFrame?.(++count);
    }
  }

  await encodeClip(
    files.clipFile,
    {
      widthPx: options.widthPx,
      heightPx: options.heightPx,
      fps: options.fps,
      fpsFraction: options.fpsFraction,
      crf: options.crf,
      preset: options.preset,
      allIntra: options.allIntra,
      pixelFormat: options.colour ? 'rgb24' : 'gray',
      ...(options.bFrames === null ? {} : { bFrames: options.bFrames }),
      ...(options.sound ? { sound: { rateHz: SOUND_RATE_HZ, samples: sceneSound(options, film.path) } } : {}),
    },
    counted(),
    tools,
    signal,
  );
  await writeText(files.truthFile, truthText(truth));
  await writeText(
    files.rigFile,
    `${JSON.stringify({ ...rigOf(options, truth.travelM), ...(delivery ? { delivery } : {}) }, null, 2)}\n`,
  );
  return truth;
}

async function writeText(file: string, text: string): Promise<void> {
  try {
    await writeWhole(file, text);
  } catch (cause) {
    throw new TrundleError('output-unwritable', `The file "${file}" could not be written.`, { cause });
  }
}
