/** Reads lengths, speeds, times, angles and per cents as people write them; gives SI (metres, metres per second, seconds, degrees). */
import { TrundleError } from './errors.js';

const NUMBER = String.raw`[+-]?(?:\d+(?:\.\d+)?|\.\d+)`;

const METRES: Record<string, number> = {
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

const SPEEDS: Record<string, number> = {
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

function numberAndUnit(text: string): { value: number; unit: string } | null {
  const match = new RegExp(`^(${NUMBER})\\s*([^\\d\\s.]\\S*)?$`).exec(withDecimalPoint(text).trim());
  return match ? { value: Number(match[1]), unit: (match[2] ?? '').toLowerCase() } : null;
}

/**
 * Reads a length: `3.2m`, `320 cm`, `450mm`, `10ft 6in`, `10'6"`, `1/8in`.
 * A number with no unit is refused, because metres and millimetres are both likely.
 *
 * @returns metres; 1 ft is 0.3048 m and 1 in is 25.4 mm exactly
 * @throws TrundleError `argument-invalid`
 * @example parseLengthM(`10'6"`) // 3.2004
 */
export function parseLengthM(text: string): number {
  const example = `3.2m, 450mm or 10ft 6in`;
  const feet = new RegExp(
    `^(${NUMBER})\\s*(?:ft|feet|foot|'|′)\\s*(${NUMBER})\\s*(?:in|inch|inches|"|″)$`,
    'i',
  ).exec(withDecimalPoint(text).trim());
  if (feet) return Number(feet[1]) * 0.3048 + Number(feet[2]) * 0.0254;
  const fraction = /^(\d+)\/(\d+)\s*(in|inch|inches|"|″)$/i.exec(text.trim());
  if (fraction && Number(fraction[2]) > 0) return (Number(fraction[1]) / Number(fraction[2])) * 0.0254;
  const parsed = numberAndUnit(text);
  const factor = parsed ? METRES[parsed.unit] : undefined;
  if (!parsed || factor === undefined) fail('a length with its unit', text, example);
  return parsed.value * factor;
}

/**
 * Reads a speed: `20cm/s`, `0.2 m/s`, `8 in/s`, `0.7ft/s`.
 * @returns metres per second
 * @throws TrundleError `argument-invalid`
 */
export function parseSpeedMps(text: string): number {
  const parsed = numberAndUnit(text);
  const factor = parsed ? SPEEDS[parsed.unit] : undefined;
  if (!parsed || factor === undefined) fail('a speed with its unit', text, '20cm/s, 0.2m/s or 8in/s');
  return parsed.value * factor;
}

/** Reads a focal length: `35mm`, or a bare number taken as millimetres. @returns millimetres @throws TrundleError `argument-invalid` */
export function parseFocalMm(text: string): number {
  const parsed = numberAndUnit(text);
  if (!parsed || !(parsed.unit === '' || parsed.unit === 'mm')) fail('a focal length', text, '35mm');
  return parsed.value;
}

/** Reads an angle: `180`, `180deg`, `180°`, `10arcmin`. @returns degrees @throws TrundleError `argument-invalid` */
export function parseAngleDeg(text: string): number {
  const parsed = numberAndUnit(text);
  const factors: Record<string, number> = {
    '': 1,
    deg: 1,
    '°': 1,
    degrees: 1,
    arcmin: 1 / 60,
    rad: 180 / Math.PI,
  };
  const factor = parsed ? factors[parsed.unit] : undefined;
  if (!parsed || factor === undefined) fail('an angle', text, '180deg or 0.03deg');
  return parsed.value * factor;
}

/**
 * Reads a time: `18ms`, `0.5s`, `1.2`, `2min`, and minutes and seconds `1:30` or `1 min 30 s`.
 * @returns seconds
 * @throws TrundleError `argument-invalid`
 */
export function parseDurationS(text: string): number {
  const clock = /^(\d{1,3})(?::(?=\d\d)|\s*min\s+)([0-5]?\d(?:[.,]\d+)?)(?:\s*s)?$/i.exec(text.trim());
  if (clock) return 60 * Number(clock[1]) + Number(clock[2].replace(',', '.'));
  const parsed = numberAndUnit(text);
  const factors: Record<string, number> = { '': 1, s: 1, sec: 1, ms: 1e-3, min: 60 };
  const factor = parsed ? factors[parsed.unit] : undefined;
  if (!parsed || factor === undefined) fail('a time', text, '9s or 18ms');
  return parsed.value * factor;
}

/** Reads a frequency: `31Hz`, `0.8 Hz`, or a bare number taken as hertz. @returns hertz @throws TrundleError `argument-invalid` */
export function parseFrequencyHz(text: string): number {
  const parsed = numberAndUnit(text);
  const factors: Record<string, number> = { '': 1, hz: 1, khz: 1000, rpm: 1 / 60 };
  const factor = parsed ? factors[parsed.unit] : undefined;
  if (!parsed || factor === undefined) fail('a frequency', text, '31Hz or 1860rpm');
  return parsed.value * factor;
}

/** Reads a per cent: `3%` or `3`. @returns per cent @throws TrundleError `argument-invalid` */
export function parsePercent(text: string): number {
  const parsed = numberAndUnit(text);
  if (!parsed || !(parsed.unit === '' || parsed.unit === '%')) fail('a per cent', text, '3%');
  return parsed.value;
}

/** Reads a picture size: `3840x2160`. @returns whole pixels @throws TrundleError `argument-invalid` */
export function parseSizePx(text: string): { widthPx: number; heightPx: number } {
  const match = /^(\d{2,5})\s*[x×]\s*(\d{2,5})$/i.exec(text.trim());
  if (!match) fail('a picture size', text, '3840x2160');
  return { widthPx: Number(match[1]), heightPx: Number(match[2]) };
}
