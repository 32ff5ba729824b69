/**
 * Active widths and heights of camera sensors and film apertures, in millimetres, by the name the trade gives them.
 *
 * A trade name is a class of sizes, not a promise: most cameras crop for video, so a measured width beats a name.
 */
import { TrundleError } from '../run/index.js';

/** One format: its size in millimetres, and what the size rests on. */
export interface SensorFormat {
  readonly widthMm: number;
  readonly heightMm: number;
  /** True when makers or sources differ by a per cent or more, so that every angle may be off by as much. */
  readonly varies: boolean;
}

/**
 * Formats by trade name.
 *
 * Full frame: the 135 still frame (ISO 1007). Super 35: silent full aperture of four perforations (SMPTE ST 59).
 * Academy: camera aperture 0.866 x 0.630 in. Super 16: SMPTE ST 201; other sources print 12.35 to 12.52 mm.
 * Standard 16: SMPTE ST 7. APS-C: no standard, 22.2 to 23.7 mm. Inch names are camera-tube diameters, approximate.
 */
export const SENSOR_FORMATS: Readonly<Record<string, SensorFormat>> = {
  'full frame': { widthMm: 36, heightMm: 24, varies: false },
  'super 35': { widthMm: 24.89, heightMm: 18.66, varies: true },
  academy: { widthMm: 22, heightMm: 16, varies: false },
  'super 16': { widthMm: 12.52, heightMm: 7.41, varies: true },
  'standard 16': { widthMm: 10.26, heightMm: 7.49, varies: false },
  'aps-c': { widthMm: 23.6, heightMm: 15.6, varies: true },
  'four thirds': { widthMm: 17.3, heightMm: 13, varies: false },
  '1 inch': { widthMm: 13.2, heightMm: 8.8, varies: true },
  '2/3 inch': { widthMm: 8.8, heightMm: 6.6, varies: true },
};

/** Other spellings, without blanks, hyphens and underscores, lower case. */
const ALIASES = new Map(
  Object.entries({
    ff: 'full frame',
    s35: 'super 35',
    academy35: 'academy',
    s16: 'super 16',
    regular16: 'standard 16',
    '4/3': 'four thirds',
    microfourthirds: 'four thirds',
    mft: 'four thirds',
    m43: 'four thirds',
    '1"': '1 inch',
    '1in': '1 inch',
    '2/3"': '2/3 inch',
    '2/3in': '2/3 inch',
  }),
);

/** Gauges that are both a length and the everyday name of a film, whose picture is narrower. */
const AMBIGUOUS = new Map(
  Object.entries({
    '16mm': '"standard 16", "super 16" or, for an active width, "16.0mm"',
    '35mm': '"full frame", "super 35" or, for an active width, "35.0mm"',
  }),
);

function squeeze(name: string): string {
  return name
    .trim()
    .toLowerCase()
    .replace(/\s+|(?<=\w)[_-]+/g, '');
}

const BY_SQUEEZED = new Map(Object.keys(SENSOR_FORMATS).map((name) => [squeeze(name), name]));

/**
 * The format a person means, or null when the text is no format name.
 *
 * Blanks, hyphens, underscores and case do not matter: "Full-Frame", "super35" and "S35" are understood.
 *
 * @example sensorFormat('Super 35')?.widthMm // 24.89
 */
export function sensorFormat(name: string): SensorFormat | null {
  const key = squeeze(name);
  const known = BY_SQUEEZED.get(key) ?? ALIASES.get(key);
  return known === undefined ? null : (SENSOR_FORMATS[known] ?? null);
}

/**
 * Active sensor width in millimetres from a format name, or from a width such as "24.89mm", "24.89 mm" or "24,89".
 *
 * @throws TrundleError `argument-invalid` for an unknown name, a width outside 1..200 mm, and for "16mm" and "35mm",
 *   which name a film gauge as well as a length
 * @example sensorWidthMm('full-frame') // 36
 * @example sensorWidthMm('24.89mm') // 24.89
 */
export function sensorWidthMm(nameOrMm: string): number {
  const format = sensorFormat(nameOrMm);
  if (format) return format.widthMm;
  const key = squeeze(nameOrMm);
  const choices = AMBIGUOUS.get(key);
  if (choices)
    throw new TrundleError('argument-invalid', `Sensor "${nameOrMm}" can mean two things: write ${choices}.`);
  const width = /^(\d+(?:[.,]\d+)?)(?:mm)?$/.exec(key)?.[1];
  const widthMm = width === undefined ? NaN : Number(width.replace(',', '.'));
  if (widthMm >= 1 && widthMm <= 200) return widthMm;
  const names = Object.keys(SENSOR_FORMATS).join(', ');
  throw new TrundleError(
    'argument-invalid',
    `Sensor "${nameOrMm}" is not known: give a width such as 24.9mm, or one of ${names}.`,
  );
}
