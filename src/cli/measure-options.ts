/** The options of `trundle measure`, in words of the trade, and how they become a rig, a delivery and a range. */
import type { ArgsDef, ParsedArgs } from 'citty';
import { sensorWidthMm } from '../optics/index.js';
import {
  TrundleError,
  deliverySchema,
  parseAngleDeg,
  parseDurationS,
  parseFocalMm,
  parseFrequencyHz,
  parseLengthM,
  parsePercent,
  parseSizePx,
  parseSpeedMps,
  rigSchema,
  ruleOf,
  type Rig,
  type RigFile,
} from '../run/index.js';

/** Options of the rig, the delivery and the range, shared by every command that measures. */
export const MEASURE_ARGS = {
  rig: {
    type: 'string',
    valueHint: 'rig.json',
    description: 'rig file (JSON); options given here win over it',
  },
  focal: { type: 'string', valueHint: '35mm', description: 'focal length of the lens' },
  sensor: { type: 'string', valueHint: 'full-frame', description: 'sensor width in mm, or a format name' },
  'focal-px': {
    type: 'string',
    valueHint: '2666',
    description: 'focal length in px of the clip, when it was calibrated',
  },
  readout: { type: 'string', valueHint: '18ms', description: 'time the sensor takes to read one frame' },
  shutter: { type: 'string', valueHint: '180deg', description: 'shutter angle' },
  speed: { type: 'string', valueHint: '20cm/s', description: 'speed of the dolly' },
  travel: { type: 'string', valueHint: '3.2m', description: 'how far it rolled within the range' },
  wheelbase: { type: 'string', valueHint: '450mm', description: 'distance between the axles, to 5 mm' },
  'track-width': {
    type: 'string',
    valueHint: '400mm',
    description: 'distance between the left and right wheels',
  },
  'wheel-diameter': { type: 'string', valueHint: '80mm', description: 'diameter of the wheels' },
  'joint-spacing': { type: 'string', valueHint: '300mm', description: 'distance between joints, when known' },
  machine: {
    type: 'string',
    valueHint: '31Hz,1440rpm',
    description: 'frequencies at which motors, fans or gears of the rig run, when known',
  },
  mount: { type: 'string', valueHint: '7Hz', description: 'frequency at which the mount rings, when known' },
  mains: {
    type: 'string',
    valueHint: '50Hz',
    description: 'mains frequency where it was shot: 50Hz or 60Hz',
  },
  'camera-height': { type: 'string', valueHint: '0.9m', description: 'lens above the floor' },
  'camera-offset': {
    type: 'string',
    valueHint: '50mm',
    description: 'lens ahead of the middle between the axles',
  },
  'lens-azimuth': {
    type: 'string',
    valueHint: '90deg',
    description: 'lens against travel: 0 looks ahead, +90 to the right of it',
  },
  head: { type: 'string', valueHint: 'locked', description: 'locked, operated or self-levelling' },
  deliver: { type: 'string', valueHint: '1920x1080', description: 'delivery size in px' },
  'max-crop': {
    type: 'string',
    valueHint: '5%',
    description: 'most crop the crew accepts, per cent of the width',
  },
  'max-residual': {
    type: 'string',
    valueHint: '1.5px',
    description: 'most shake left after stabilising, px RMS of the delivery',
  },
  in: {
    type: 'string',
    valueHint: '00:00:02:00',
    description: 'in point: timecode, frames (50f) or seconds',
  },
  out: { type: 'string', valueHint: '9s', description: 'out point, first frame that is left out' },
  width: { type: 'string', valueHint: '960', description: 'picture width the analysis works at, px' },
  cutoff: {
    type: 'string',
    valueHint: '0.8Hz',
    description: 'where intended move ends and vibration begins',
  },
  'motion-log': {
    type: 'string',
    valueHint: 'log.csv',
    description:
      'angular rates recorded on the camera: timeS,panDegPerS,tiltDegPerS,rollDegPerS (or ...RadPerS)',
  },
  against: {
    type: 'string',
    valueHint: 'reports/slower-pass',
    description: 'run of the same rig at another speed: tells floor and wheels from machines',
  },
  'lay-over': {
    type: 'string',
    valueHint: 'reports/boards,reports/rail',
    description: 'runs of boards or rail measured before: foretells the shake of this dolly on them',
  },
} as const satisfies ArgsDef;

type Values = Partial<ParsedArgs<typeof MEASURE_ARGS>>;

const HEADS: Record<string, Rig['head']> = {
  locked: 'locked',
  operated: 'operated',
  'self-levelling': 'selfLevelling',
  selflevelling: 'selfLevelling',
};

/**
 * Joins the rig file and the options given on the command line; an option wins over the file.
 * @throws TrundleError `argument-invalid` naming the option and the value
 */
export function rigFromOptions(values: Values, file: RigFile): RigFile {
  const rig: Record<string, unknown> = { ...file.rig };
  const delivery: Record<string, unknown> = { ...file.delivery };
  const set = (
    target: Record<string, unknown>,
    name: string,
    text: string | undefined,
    read: (text: string) => unknown,
  ): void => {
    if (text === undefined) return;
    const value = read(text);
    const schema = name in rigSchema.shape ? rigSchema : deliverySchema;
    const result = schema.safeParse({ [name]: value });
    if (!result.success)
      throw new TrundleError(
        'argument-invalid',
        `"${text}" will not do: ${name} must be ${ruleOf(result.error.issues[0])}.`,
      );
    target[name] = value;
  };
  set(rig, 'focalLengthMm', values.focal, parseFocalMm);
  // A calibrated focal length in the file would win over millimetres; the one on the command line is meant,
  // and it counts in pixels of the clip.
  if (values.focal !== undefined) delete rig['focalPx'];
  if (values.focal !== undefined || values['focal-px'] !== undefined) delete rig['focalPxWidth'];
  set(rig, 'sensorWidthMm', values.sensor, sensorWidthMm);
  set(rig, 'focalPx', values['focal-px'], (text) => numberWith(text, 'px'));
  set(rig, 'readoutMs', values.readout, readoutMs);
  set(rig, 'shutterAngleDeg', values.shutter, parseAngleDeg);
  set(rig, 'speedMps', values.speed, parseSpeedMps);
  set(rig, 'travelM', values.travel, parseLengthM);
  set(rig, 'wheelbaseM', values.wheelbase, parseLengthM);
  set(rig, 'trackWidthM', values['track-width'], parseLengthM);
  set(rig, 'wheelDiameterM', values['wheel-diameter'], parseLengthM);
  set(rig, 'jointSpacingM', values['joint-spacing'], parseLengthM);
  set(rig, 'machinesHz', values.machine, (text) => listOf(text).map(parseFrequencyHz));
  set(rig, 'mountHz', values.mount, parseFrequencyHz);
  set(rig, 'mainsHz', values.mains, parseFrequencyHz);
  set(rig, 'cameraHeightM', values['camera-height'], parseLengthM);
  set(rig, 'cameraOffsetM', values['camera-offset'], parseLengthM);
  set(rig, 'lensAzimuthDeg', values['lens-azimuth'], parseAngleDeg);
  set(rig, 'head', values.head, (text) => {
    const head = HEADS[text.toLowerCase()];
    if (!head)
      throw new TrundleError(
        'argument-invalid',
        `"${text}" is not a head; it is locked, operated or self-levelling.`,
      );
    return head;
  });
  if (values.deliver !== undefined) {
    const { widthPx, heightPx } = parseSizePx(values.deliver);
    set(delivery, 'widthPx', values.deliver, () => widthPx);
    set(delivery, 'heightPx', values.deliver, () => heightPx);
  }
  set(delivery, 'maxCropPercent', values['max-crop'], parsePercent);
  set(delivery, 'maxResidualPx', values['max-residual'], (text) => numberWith(text, 'px'));
  return { rig: rigSchema.parse(rig), delivery: deliverySchema.parse(delivery), pass: file.pass };
}

/** The parts of a list between commas. */
export function listOf(text: string | undefined): string[] {
  return (text ?? '')
    .split(',')
    .map((part) => part.trim())
    .filter((part) => part !== '');
}

/** As `listOf`, where the option is given it holds something. @param option its name @throws TrundleError `argument-invalid` */
export function someOf(text: string | undefined, option: string): string[] {
  const parts = listOf(text);
  if (text !== undefined && parts.length === 0)
    throw new TrundleError('argument-invalid', `"--${option} ${text}" holds no word.`);
  return parts;
}

/** Reads the analysis width. @throws TrundleError `argument-invalid` outside 160..3840 px */
export function analysisWidthPx(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  const width = numberWith(text, 'px');
  if (!Number.isInteger(width) || width < 160 || width > 3840)
    throw new TrundleError('argument-invalid', `"--width ${text}" must be a whole number from 160 to 3840.`);
  return width;
}

/** Reads the border between move and vibration. @throws TrundleError `argument-invalid` outside 0.2..5 Hz */
export function cutoffHz(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  const cutoff = numberWith(text, 'hz');
  if (cutoff < 0.2 || cutoff > 5)
    throw new TrundleError('argument-invalid', `"--cutoff ${text}" must lie between 0.2 Hz and 5 Hz.`);
  return cutoff;
}

/** A readout is a matter of milliseconds: a bare number could be taken for seconds. */
function readoutMs(text: string): number {
  if (/^[\d.]+$/.test(text.trim()) && Number(text) !== 0)
    throw new TrundleError('argument-invalid', `"${text}" lacks its unit; write the readout like 18ms.`);
  return Number((1000 * parseDurationS(text)).toPrecision(12));
}

function numberWith(text: string, unit: string): number {
  const match = /^([+-]?\d*\.?\d+)\s*([a-z]*)$/i.exec(text.trim());
  if (!match || !['', unit].includes((match[2] ?? '').toLowerCase()))
    throw new TrundleError('argument-invalid', `"${text}" is not a number of ${unit}.`);
  return Number(match[1]);
}
