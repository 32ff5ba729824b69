/** Reads lengths, speeds, times, angles and per cents as people write them; gives SI (metres, metres per second, seconds, degrees). */
import { TrundleError } from './errors.js';

const DECIMAL = String.raw`(?:\d+(?:\.\d+)?|\.\d+)`;
/** Reports write minus as a sign of its own. */
const SIGN = '[-−+]?';
const INCH = String.raw`\s*(?:in|inch|inches|"|″)`;
const NUMBER_AND_UNIT = new RegExp(String.raw`^(${SIGN})(${DECIMAL})\s*([^\d\s.]\S*)?$`);
/** The sign stands for the whole of it: -1ft 6in is a foot and a half to the other side. */
const FEET_AND_INCHES = new RegExp(
  String.raw`^(?<sign>${SIGN})(?:(?<feet>${DECIMAL})\s*(?:ft|feet|foot|'|′)\s*)?(?:(?<inches>${DECIMAL})|(?:(?<whole>\d+)\s+)?(?<over>\d+)/(?<under>\d+))${INCH}$`,
  'i',
);

/** A unit and how many of the unit inside one of it is. */
type Factors = Readonly<Record<string, number>>;

const METRES: Factors = {
  mm: 1e-3,
  cm: 1e-2,
  m: 1,
  km: 1e3,
  in: 0.0254,
  inch: 0.0254,
  inches: 0.0254,
  '"': 0.0254,
  '″': 0.0254,
  ft: 0.3048,
  foot: 0.3048,
  feet: 0.3048,
  "'": 0.3048,
  '′': 0.3048,
};

const SPEEDS: Factors = {
  'mm/s': 1e-3,
  'cm/s': 1e-2,
  'm/s': 1,
  'm/min': 1 / 60,
  'km/h': 1 / 3.6,
  'in/s': 0.0254,
  'ft/s': 0.3048,
  'ft/min': 0.3048 / 60,
  mph: 0.44704,
};

function fail(what: string, text: string, example: string): never {
  throw new TrundleError('argument-invalid', `"${text}" is not ${what}; write it like ${example}.`);
}

/**
 * The text with a point for each decimal comma: half of the world writes 0,3. A comma that may part thousands is refused, for it would
 * be a factor of a thousand.
 *
 * @throws TrundleError `argument-invalid` on a number such as `1,200`, or one with several marks
 * @example withDecimalPoint('0,3 m/s') // "0.3 m/s"
 */
export function withDecimalPoint(text: string): string {
  return text.replace(/\d[\d.,]*,\d[\d.,]*|(?<![\d.]),\d+/g, (number) => {
    const [whole, part] = number.split(',');
    if (number.indexOf(',') !== number.lastIndexOf(',') || number.includes('.'))
      throw new TrundleError(
        'argument-invalid',
        `"${text}" has more than one mark in a number; write it with one for the decimals and none for the thousands.`,
      );
    if (/^[1-9]\d{0,2}$/.test(whole) && part.length === 3)
      throw new TrundleError(
        'argument-invalid',
        `"${text}" can mean two things; write it like ${text.replace(number, whole + part)} or ${text.replace(number, `${whole}.${part}`)}.`,
      );
    return `${whole}.${part}`;
  });
}

/** A number in a unit of the table; a word such as "constructor" is none. @throws TrundleError `argument-invalid` */
function inUnitOf(factors: Factors, text: string, what: string, example: string): number {
  const [, sign = '', digits, unit = ''] = NUMBER_AND_UNIT.exec(withDecimalPoint(text).trim()) ?? [];
  const known = unit.toLowerCase();
  if (digits === undefined || !Object.hasOwn(factors, known)) fail(what, text, example);
  return signed(sign, Number(digits) * factors[known]) ?? fail(what, text, example);
}

/** Null beyond the numbers that can be told; never -0. */
function signed(sign: string, size: number): number | null {
  if (!Number.isFinite(size)) return null;
  return sign === '' || sign === '+' || size === 0 ? size : -size;
}

function feetAndInchesM(text: string): number | null {
  const parts = FEET_AND_INCHES.exec(withDecimalPoint(text).trim())?.groups;
  if (!parts) return null;
  const { sign, feet = '0', inches, whole = '0', over, under } = parts as Record<string, string | undefined>;
  const inch = inches === undefined ? Number(whole) + Number(over) / Number(under) : Number(inches);
  return signed(sign ?? '', Number(feet) * 0.3048 + inch * 0.0254);
}

/**
 * Reads a length: `3.2m`, `320 cm`, `450mm`, `10ft 6in`, `10'6"`, `1/8in`, `6 1/2in`.
 * A number with no unit is refused, because metres and millimetres are both likely.
 *
 * @returns metres; 1 ft is 0.3048 m and 1 in is 25.4 mm exactly
 * @throws TrundleError `argument-invalid`
 * @example parseLengthM(`10'6"`) // 3.2004
 */
export function parseLengthM(text: string): number {
  return feetAndInchesM(text) ?? inUnitOf(METRES, text, 'a length with its unit', '3.2m, 450mm or 10ft 6in');
}

/**
 * Reads a speed: `20cm/s`, `0.2 m/s`, `8 in/s`, `0.7ft/s`.
 * @returns metres per second
 * @throws TrundleError `argument-invalid`
 */
export function parseSpeedMps(text: string): number {
  return inUnitOf(SPEEDS, text, 'a speed with its unit', '20cm/s, 0.2m/s or 8in/s');
}

/** Reads a focal length: `35mm`, or a bare number taken as millimetres. @returns millimetres @throws TrundleError `argument-invalid` */
export function parseFocalMm(text: string): number {
  return inUnitOf({ '': 1, mm: 1 }, text, 'a focal length', '35mm');
}

const DEGREES: Factors = { '': 1, deg: 1, '°': 1, degrees: 1, arcmin: 1 / 60, rad: 180 / Math.PI };

/** Reads an angle: `180`, `180deg`, `180°`, `10arcmin`. @returns degrees @throws TrundleError `argument-invalid` */
export function parseAngleDeg(text: string): number {
  return inUnitOf(DEGREES, text, 'an angle', '180deg or 0.03deg');
}

/**
 * Reads a time: `18ms`, `0.5s`, `1.2`, `2min`, and minutes and seconds `1:30` or `1 min 30 s`.
 * @returns seconds
 * @throws TrundleError `argument-invalid`
 */
export function parseDurationS(text: string): number {
  const clock = /^(\d{1,3})(?::(?=\d\d)|\s*min\s+)([0-5]?\d(?:[.,]\d+)?)(?:\s*s)?$/i.exec(text.trim());
  if (clock) return 60 * Number(clock[1]) + Number(clock[2].replace(',', '.'));
  return inUnitOf({ '': 1, s: 1, sec: 1, ms: 1e-3, min: 60 }, text, 'a time', '9s or 18ms');
}

/** Reads a frequency: `31Hz`, `0.8 Hz`, or a bare number taken as hertz. @returns hertz @throws TrundleError `argument-invalid` */
export function parseFrequencyHz(text: string): number {
  return inUnitOf({ '': 1, hz: 1, khz: 1000, rpm: 1 / 60 }, text, 'a frequency', '31Hz or 1860rpm');
}

/** Reads a per cent: `3%` or `3`. @returns per cent @throws TrundleError `argument-invalid` */
export function parsePercent(text: string): number {
  return inUnitOf({ '': 1, '%': 1 }, text, 'a per cent', '3%');
}

/** Reads a picture size: `3840x2160`. @returns whole pixels @throws TrundleError `argument-invalid` */
export function parseSizePx(text: string): { widthPx: number; heightPx: number } {
  const match = /^(\d{2,5})\s*[x×]\s*(\d{2,5})$/i.exec(text.trim());
  if (!match) fail('a picture size', text, '3840x2160');
  return { widthPx: Number(match[1]), heightPx: Number(match[2]) };
}
