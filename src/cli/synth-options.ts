/** The options of `trundle synth`, and the settings of a pass that they ask for. */
import type { ArgsDef } from 'citty';
import {
  TrundleError,
  parseAngleDeg,
  parseDurationS,
  parseFocalMm,
  parseFrequencyHz,
  parseLengthM,
  parseSizePx,
  parseSpeedMps,
} from '../run/index.js';
import { SYNTH_SCENES, type PartialSynthOptions, type SynthOptions } from '../synth/index.js';

/** What can be given. */
export const SYNTH_ARGS = {
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
  'out-of-round': {
    type: 'string',
    valueHint: '0.2mm',
    description: 'a dolly whose left front wheel is off its centre by this much',
  },
  joints: { type: 'string', valueHint: '30cm', description: 'a dolly over joints at this distance' },
  mount: {
    type: 'string',
    valueHint: '7Hz',
    description: 'a dolly whose camera mount rings at this frequency',
  },
  motor: {
    type: 'string',
    valueHint: '31Hz',
    description: 'a motor that shakes the camera at this frequency',
  },
  lamps: { type: 'string', valueHint: '100Hz', description: 'lamps that flicker at this frequency' },
  'with-sound': { type: 'boolean', description: 'a sound track: wheels, joints, motor' },
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

/** How far the motor of `--motor` shakes the camera: far above what a clip of this size can tell. */
const MOTOR_AMPLITUDE_DEG = { tilt: 0.01, roll: 0.005 };

/** Where the subject of `--subject` walks. */
const SUBJECT_DISTANCE_M = 2.2;

/** Options as read. */
export type SynthValues = Partial<Record<keyof typeof SYNTH_ARGS, string | boolean | undefined>>;

/** The settings that options ask for; those not given are left out. @throws TrundleError `argument-invalid` */
export function settingsOfOptions(values: SynthValues): PartialSynthOptions {
  const text = (name: keyof typeof SYNTH_ARGS): string | undefined =>
    typeof values[name] === 'string' ? values[name] : undefined;
  const read = <T>(name: keyof typeof SYNTH_ARGS, reader: (word: string) => T): T | undefined => {
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
    readoutMs: read('readout', (word) => round(1000 * parseDurationS(word))),
    lensK1: read('k1', signedNumber),
    noiseGrey: read('noise', (word) => plainNumber(word, '')) ?? (values.dark ? 5 : undefined),
    deck: deckFrom(values),
    machines: read('motor', (word) => [
      { freqHz: parseFrequencyHz(word), amplitudeDeg: MOTOR_AMPLITUDE_DEG },
    ]),
    lamps: read('lamps', (word) => ({ freqHz: parseFrequencyHz(word) })),
    sound: values['with-sound'] ? true : undefined,
    subjectDistanceM: values.subject ? SUBJECT_DISTANCE_M : undefined,
    brightness: values.dark ? 0.35 : undefined,
    contrast: values.dark ? 0.5 : undefined,
    allIntra: values['all-intra'] ? true : undefined,
    seed: read('seed', (word) => plainNumber(word, '')),
  });
}

/** The deck that options ask for: what is wrong with it, and joints under it; undefined when nothing is. */
function deckFrom(values: SynthValues): PartialSynthOptions['deck'] {
  const metres = (word: string | boolean | undefined): number | undefined =>
    typeof word === 'string' ? parseLengthM(word) : undefined;
  const outM = metres(values['out-of-round']);
  const spacingM = metres(values.joints);
  const { mount } = values;
  const deck = defined({
    lobes:
      outM === undefined ? undefined : [{ wheel: 'frontLeft' as const, amplitudeMm: round(1000 * outM) }],
    mount: typeof mount === 'string' ? { freqHz: parseFrequencyHz(mount) } : undefined,
    floor: spacingM === undefined ? undefined : { joints: { spacingM } },
  });
  return Object.keys(deck).length === 0 ? undefined : deck;
}

/** Settings of a file with those of options laid over them, group by group; a head on a deck is locked unless settings make it drift. */
export function withOptions(
  settings: PartialSynthOptions,
  options: PartialSynthOptions,
): PartialSynthOptions {
  const both = { ...settings, ...options };
  const { vibration: shake } = settings;
  return {
    ...both,
    vibration: {
      ...shake,
      angularDegRms: { ...shake?.angularDegRms, ...options.vibration?.angularDegRms },
      translationMmRms: { ...shake?.translationMmRms, ...options.vibration?.translationMmRms },
    },
    ...(options.deck
      ? {
          deck: {
            ...settings.deck,
            ...options.deck,
            floor: { ...settings.deck?.floor, ...options.deck.floor },
          },
          driftDeg: settings.driftDeg ?? 0,
        }
      : {}),
  };
}

/** Millimetres without the dust of a conversion. */
function round(value: number): number {
  return Number(value.toPrecision(12));
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
