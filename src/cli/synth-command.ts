/** `trundle synth`: films a made-up hall with the motion asked for and writes the truth and the rig beside the clip. */
import fs from 'node:fs';
import path from 'node:path';
import { defineCommand, type ArgsDef } from 'citty';
import { findTools } from '../footage/index.js';
import {
  EXIT,
  TrundleError,
  parseAngleDeg,
  parseDurationS,
  parseFocalMm,
  parseSizePx,
  parseSpeedMps,
  type ExitStatus,
} from '../run/index.js';
import {
  SYNTH_SCENES,
  frameCountOf,
  resolveSynthOptions,
  synthesise,
  type PartialSynthOptions,
  type SynthOptions,
} from '../synth/index.js';
import { Progress, type Io } from './io.js';

const ARGS = {
  'out-dir': { type: 'string', valueHint: 'made-up', description: 'folder for clip, truth and rig' },
  name: {
    type: 'string',
    valueHint: 'pass',
    description: 'name of the files (scene and move); files of that name are replaced',
  },
  settings: {
    type: 'string',
    valueHint: 'settings.json',
    description: 'every setting as JSON; options given here win over it',
  },
  scene: {
    type: 'string',
    valueHint: 'dairy-hall',
    description: SYNTH_SCENES.map((scene) => scene.name).join(', '),
  },
  move: { type: 'string', valueHint: 'lateral', description: 'lateral, arc, push-in or static' },
  duration: { type: 'string', valueHint: '5s', description: 'length of the clip (5s unless given)' },
  fps: { type: 'string', valueHint: '25', description: 'frame rate, or a fraction like 24000/1001 (25)' },
  size: { type: 'string', valueHint: '1280x720', description: 'picture size (1280x720)' },
  focal: { type: 'string', valueHint: '35mm', description: 'focal length on a full-frame sensor (35mm)' },
  speed: { type: 'string', valueHint: '20cm/s', description: 'speed of the dolly (20cm/s)' },
  pan: { type: 'string', valueHint: '0.02deg', description: 'vibration, RMS (0)' },
  tilt: { type: 'string', valueHint: '0.02deg', description: 'vibration, RMS (0)' },
  roll: { type: 'string', valueHint: '0.02deg', description: 'vibration, RMS (0)' },
  lateral: { type: 'string', valueHint: '0.2mm', description: 'vibration, RMS (0)' },
  vertical: { type: 'string', valueHint: '0.2mm', description: 'vibration, RMS (0)' },
  axial: { type: 'string', valueHint: '0.2mm', description: 'vibration, RMS (0)' },
  shutter: { type: 'string', valueHint: '180deg', description: 'shutter angle; 0 for no motion blur (0)' },
  readout: {
    type: 'string',
    valueHint: '15ms',
    description: 'rolling shutter: time to read one frame (0ms)',
  },
  k1: {
    type: 'string',
    valueHint: '-0.1',
    description: 'radial lens distortion; negative bends lines like a barrel',
  },
  noise: { type: 'string', valueHint: '2', description: 'sensor noise, grey levels RMS (0.5)' },
  subject: { type: 'boolean', description: 'a figure walks through the picture' },
  dark: { type: 'boolean', description: 'little light, little contrast, much noise' },
  'all-intra': { type: 'boolean', description: 'code every frame by itself' },
  seed: { type: 'string', valueHint: '1', description: 'seed of everything that is random' },
  quiet: { type: 'boolean', description: 'no progress' },
} as const satisfies ArgsDef;

const MOVES: Record<string, SynthOptions['move']> = {
  lateral: 'lateral',
  arc: 'arc',
  'push-in': 'pushIn',
  pushin: 'pushIn',
  static: 'static',
};

/** Where the subject of `--subject` walks. */
const SUBJECT_DISTANCE_M = 2.2;

/** The command; its `run` gives the exit status. */
export function synthCommand(io: Io) {
  return defineCommand({
    meta: {
      name: 'synth',
      description: 'film a made-up hall with known motion, to see how far to trust the tool',
    },
    args: ARGS,
    async run({ args }): Promise<ExitStatus> {
      if (args._.length > 0)
        throw new TrundleError('argument-unknown', `"${args._[0]}" is too much: synth takes options only.`);
      const options = completed({ ...settingsFrom(args.settings), ...fromOptions(args) });
      const folder = args['out-dir'] ?? 'made-up';
      const name = args.name ?? `${options.scene}-${options.move}`;
      try {
        fs.mkdirSync(folder, { recursive: true });
      } catch (error) {
        throw new TrundleError(
          'output-unwritable',
          `The folder "${folder}" cannot be made; name another with --out-dir.`,
          { cause: error },
        );
      }
      const files = {
        clipFile: path.join(folder, `${name}.mp4`),
        truthFile: path.join(folder, `${name}.truth.json`),
        rigFile: path.join(folder, `${name}.rig.json`),
      };
      const progress = new Progress(io, args.quiet === true);
      const frames = frameCountOf(options);
      await synthesise(options, files, await findTools(), {
        threads: 2,
        signal: io.signal,
        onFrame: (count) => progress.show('Filming, frame', count, frames),
      }).finally(() => progress.clear());
      for (const file of Object.values(files)) io.out(`${file}\n`);
      return EXIT.measured;
    },
  });
}

type Values = Partial<Record<keyof typeof ARGS, string | boolean | undefined>>;

function fromOptions(values: Values): PartialSynthOptions {
  const text = (name: keyof typeof ARGS): string | undefined =>
    typeof values[name] === 'string' ? values[name] : undefined;
  const read = <T>(name: keyof typeof ARGS, reader: (word: string) => T): T | undefined => {
    const word = text(name);
    return word === undefined ? undefined : reader(word);
  };
  const mm = (word: string): number => plainNumber(word, 'mm');
  const size = read('size', parseSizePx);
  return defined({
    scene: text('scene') as SynthOptions['scene'] | undefined,
    move: read('move', readMove),
    durationS: read('duration', parseDurationS),
    fps: text('fps'),
    widthPx: size?.widthPx,
    heightPx: size?.heightPx,
    focalLengthMm: read('focal', parseFocalMm),
    speedMps: read('speed', parseSpeedMps),
    vibration: {
      angularDegRms: defined({
        pan: read('pan', parseAngleDeg),
        tilt: read('tilt', parseAngleDeg),
        roll: read('roll', parseAngleDeg),
      }),
      translationMmRms: defined({
        lateral: read('lateral', mm),
        vertical: read('vertical', mm),
        axial: read('axial', mm),
      }),
    },
    shutterAngleDeg: read('shutter', parseAngleDeg),
    readoutMs: read('readout', (word) => Number((1000 * parseDurationS(word)).toPrecision(12))),
    lensK1: read('k1', signedNumber),
    noiseGrey: read('noise', (word) => plainNumber(word, '')) ?? (values.dark ? 5 : undefined),
    subjectDistanceM: values.subject ? SUBJECT_DISTANCE_M : undefined,
    brightness: values.dark ? 0.35 : undefined,
    contrast: values.dark ? 0.5 : undefined,
    allIntra: values['all-intra'] ? true : undefined,
    seed: read('seed', (word) => plainNumber(word, '')),
  });
}

/** Drops the fields that were not given, so that defaults stand. */
function defined<T extends object>(record: T): { [Name in keyof T]?: Exclude<T[Name], undefined> } {
  return Object.fromEntries(Object.entries(record).filter(([, value]) => value !== undefined)) as {
    [Name in keyof T]?: Exclude<T[Name], undefined>;
  };
}

function readMove(word: string): SynthOptions['move'] {
  const move = MOVES[word.toLowerCase()];
  if (!move)
    throw new TrundleError(
      'argument-invalid',
      `"${word}" is not a move; it is lateral, arc, push-in or static.`,
    );
  return move;
}

function signedNumber(word: string): number {
  const value = /^[+-]?\d*\.?\d+$/.test(word.trim()) ? Number(word) : NaN;
  if (Number.isNaN(value)) throw new TrundleError('argument-invalid', `"${word}" is not a number.`);
  return value;
}

function plainNumber(word: string, unit: string): number {
  const match = /^(\d*\.?\d+)\s*([a-z]*)$/i.exec(word.trim());
  if (!match || !['', unit].includes((match[2] ?? '').toLowerCase()))
    throw new TrundleError('argument-invalid', `"${word}" is not a number${unit ? ` of ${unit}` : ''}.`);
  return Number(match[1]);
}

function settingsFrom(file: string | undefined): PartialSynthOptions {
  if (file === undefined) return {};
  try {
    return JSON.parse(fs.readFileSync(file, 'utf8')) as PartialSynthOptions;
  } catch (error) {
    throw new TrundleError(
      'rig-unreadable',
      `The settings "${file}" cannot be read as JSON: ${(error as Error).message}.`,
    );
  }
}

function completed(given: PartialSynthOptions): SynthOptions {
  try {
    return resolveSynthOptions(given);
  } catch (error) {
    if (error instanceof RangeError)
      throw new TrundleError('argument-invalid', `${error.message}.`, { cause: error });
    throw error;
  }
}
