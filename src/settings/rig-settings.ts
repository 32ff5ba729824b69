/** The rig out of what was typed: each setting with the field of the rig that it gives, how it is read and how it is written. */
import { sensorWidthMm } from '../optics/index.js';
import {
  TrundleError,
  asFigures,
  lensDistortionSchema,
  parseAngleDeg,
  parseDurationS,
  parseFocalMm,
  parseFrequencyHz,
  parseLengthM,
  parseSpeedMps,
  rigSchema,
  ruleOf,
  withDecimalPoint,
  type LensDistortion,
  type Rig,
} from '../run/index.js';
import { inUnitThatKeeps, listOf, numberWith } from './figures-as-typed.js';
import { RIG_SETTINGS, typed, type RigSetting, type SettingName, type Settings } from './names.js';
import type { SettingNaming } from './naming.js';

/** One setting of the rig. */
interface RigEntry {
  /** What a text gives, not yet checked against the bounds of the rig. @throws TrundleError `argument-invalid` */
  readonly read: (text: string) => Readonly<Record<string, unknown>>;
  /** The text that gives back what the rig has; undefined when it has nothing for it. */
  readonly write: (rig: Rig) => string | undefined;
}

function entry<Field extends keyof Rig>(
  field: Field,
  read: (text: string) => unknown,
  write: (value: NonNullable<Rig[Field]>) => string,
): RigEntry {
  return {
    read: (text) => ({ [field]: read(text) }),
    write: ({ [field]: value }) => (value === undefined ? undefined : write(value)),
  };
}

const unit =
  (suffix: string) =>
  (value: number): string =>
    `${asFigures(value)}${suffix}`;
const metres = unit('m');
/** Parts of a rig are told in millimetres. */
const millimetres = (valueM: number): string =>
  inUnitThatKeeps(
    valueM,
    [
      ['mm', 1000],
      ['m', 1],
    ],
    parseLengthM,
  );

const HEADS: ReadonlyMap<string, NonNullable<Rig['head']>> = new Map([
  ['locked', 'locked'],
  ['operated', 'operated'],
  ['self-levelling', 'selfLevelling'],
  ['selflevelling', 'selfLevelling'],
]);

const ENTRIES: Readonly<Record<RigSetting, RigEntry>> = {
  focal: entry('focalLengthMm', parseFocalMm, unit('mm')),
  sensor: entry('sensorWidthMm', sensorWidthMm, unit('mm')),
  'focal-px': { read: focalPx, write: focalPxWords },
  'lens-distortion': entry('lensDistortion', lensDistortion, distortionWords),
  readout: entry('readoutMs', readoutMs, unit('ms')),
  shutter: entry('shutterAngleDeg', parseAngleDeg, unit('deg')),
  speed: entry('speedMps', parseSpeedMps, unit('m/s')),
  travel: entry('travelM', parseLengthM, metres),
  wheelbase: entry('wheelbaseM', parseLengthM, millimetres),
  'track-width': entry('trackWidthM', parseLengthM, millimetres),
  'wheel-diameter': entry('wheelDiameterM', parseLengthM, millimetres),
  'joint-spacing': entry('jointSpacingM', parseLengthM, millimetres),
  machine: {
    read: (text) => ({ machinesHz: frequencies(text).map(parseFrequencyHz) }),
    write: ({ machinesHz = [] }) =>
      machinesHz.length === 0 ? undefined : machinesHz.map(unit('Hz')).join(', '),
  },
  mount: entry('mountHz', parseFrequencyHz, unit('Hz')),
  mains: entry('mainsHz', parseFrequencyHz, unit('Hz')),
  'camera-height': entry('cameraHeightM', parseLengthM, metres),
  'camera-offset': entry('cameraOffsetM', parseLengthM, millimetres),
  'lens-azimuth': entry('lensAzimuthDeg', parseAngleDeg, unit('deg')),
  head: entry('head', headNamed, (head) => (head === 'selfLevelling' ? 'self-levelling' : head)),
};

/**
 * The rig that was typed over that of a rig file; what was typed wins.
 * @param file rig of the file; empty when there is none
 * @throws TrundleError `argument-invalid` naming the setting and the value
 */
export function rigOf(settings: Settings, file: Rig, naming: SettingNaming): Rig {
  const rig: Record<string, unknown> = { ...file };
  const focal = typed(settings, 'focal') !== undefined;
  // A calibrated focal length in the file would win over millimetres; the one that was typed is meant,
  // and it counts in pixels of the clip.
  if (focal) delete rig['focalPx'];
  if (focal || typed(settings, 'focal-px') !== undefined) delete rig['focalPxWidth'];
  // The travel in the file would win over the speed, and is that of the whole clip: a speed that was typed is meant, and for a part
  // of the clip the speed alone holds.
  const isPart = typed(settings, 'in') !== undefined || typed(settings, 'out') !== undefined;
  if (typed(settings, 'speed') !== undefined || (isPart && file.speedMps !== undefined))
    delete rig['travelM'];
  for (const name of RIG_SETTINGS) {
    const text = typed(settings, name);
    if (text !== undefined) Object.assign(rig, rigEntryOf(name, text, naming));
  }
  return rigSchema.parse(rig);
}

/** What one setting gives, within the bounds of a rig. @throws TrundleError `argument-invalid` */
export function rigEntryOf(name: RigSetting, text: string, naming: SettingNaming): Rig {
  return withinBounds(rigSchema, ENTRIES[name].read(text), name, text, naming);
}

/** The settings that give back a rig. */
export function settingsOfRigPart(rig: Rig): Settings {
  const words = RIG_SETTINGS.map((name) => [name, ENTRIES[name].write(rig)] as const);
  return Object.fromEntries(words.filter((pair): pair is [RigSetting, string] => pair[1] !== undefined));
}

/** A schema of run/, as far as it is needed here. */
interface Schema<T> {
  safeParse(
    value: unknown,
  ):
    | { readonly success: true; readonly data: T }
    | { readonly success: false; readonly error: { readonly issues: Parameters<typeof ruleOf>[0][] } };
}

/** Checks what a text gave against a schema. @throws TrundleError `argument-invalid` with the rule that was broken */
export function withinBounds<T>(
  schema: Schema<T>,
  value: unknown,
  name: SettingName,
  text: string,
  naming: SettingNaming,
): T {
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  const fault = result.error.issues[0];
  throw new TrundleError(
    'argument-invalid',
    `"${text}" will not do: ${naming.rule(name, String(fault.path[0]), ruleOf(fault))}.`,
  );
}

/** A calibrated focal length, with the width of the pictures that it counts in where that is not the clip's: `2666px of 3840px`. */
function focalPx(text: string): Readonly<Record<string, unknown>> {
  const of = /^(.+?)\s+of\s+(.+)$/i.exec(text.trim());
  if (!of) return { focalPx: numberWith(text, 'px') };
  return { focalPx: numberWith(of[1], 'px'), focalPxWidth: numberWith(of[2], 'px') };
}

function focalPxWords({ focalPx, focalPxWidth }: Rig): string | undefined {
  if (focalPx === undefined) return undefined;
  return `${asFigures(focalPx)}px${focalPxWidth === undefined ? '' : ` of ${asFigures(focalPxWidth)}px`}`;
}

/** Frequencies between commas; a comma between two figures may be a decimal one. @throws TrundleError `argument-invalid` */
function frequencies(text: string): string[] {
  if (/\d,\d/.test(text))
    throw new TrundleError(
      'argument-invalid',
      `"${text}" can mean two things; write decimals with a point and a blank behind each comma, like 31.5Hz, 24Hz.`,
    );
  return listOf(text);
}

const TERMS = Object.keys(lensDistortionSchema.shape) as (keyof LensDistortion)[];

/** Terms of the lens by their names; those that are missing are 0: `k1=-0.12, k2=0.03`. */
function lensDistortion(text: string): Partial<Record<keyof LensDistortion, number>> {
  // A term begins with its name: a comma before a figure is a decimal one.
  const terms = text
    .split(/,(?!\d)/)
    .filter((part) => part.trim() !== '')
    .map((part) => {
      const match = /^([kp]\d)\s*[=:]?\s*([+-]?\d*\.?\d+)$/i.exec(part.trim().replace(',', '.'));
      const term = TERMS.find((name) => name === match?.[1]?.toLowerCase());
      if (!match || term === undefined)
        throw new TrundleError(
          'argument-invalid',
          `"${text}" is no lens distortion; write it like k1=-0.12, k2=0.03 with ${TERMS.join(', ')}.`,
        );
      return [term, Number(match[2]) + 0] as const; // -0 becomes 0
    });
  return Object.fromEntries(terms);
}

function distortionWords(distortion: LensDistortion): string {
  const given = TERMS.filter((term) => distortion[term] !== 0);
  return (given.length === 0 ? TERMS.slice(0, 1) : given)
    .map((term) => `${term}=${asFigures(distortion[term])}`)
    .join(', ');
}

/** A readout is a matter of milliseconds: a bare number could be taken for seconds. */
function readoutMs(text: string): number {
  const written = withDecimalPoint(text).trim();
  if (/^[\d.]+$/.test(written) && Number(written) !== 0)
    throw new TrundleError('argument-invalid', `"${text}" lacks its unit; write the readout like 18ms.`);
  const milliseconds = /^(\d*\.?\d+)\s*ms$/i.exec(written);
  return milliseconds ? Number(milliseconds[1]) : Number((1000 * parseDurationS(text)).toPrecision(12));
}

function headNamed(text: string): Rig['head'] {
  const head = HEADS.get(text.trim().toLowerCase());
  if (!head)
    throw new TrundleError(
      'argument-invalid',
      `"${text}" is not a head; it is locked, operated or self-levelling.`,
    );
  return head;
}
