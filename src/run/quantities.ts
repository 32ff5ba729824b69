/**
 * Lengths, heights and speeds as people read them: metric, imperial, or both side by side. Stored values are always SI; only what is
 * shown changes. 1 ft is 0.3048 m and 1 in is 25.4 mm exactly (international yard and pound agreement of 1959).
 */
import { figure } from './figures.js';

/** How quantities are shown. */
export const UNITS = ['metric', 'imperial', 'both'] as const;
export type Units = (typeof UNITS)[number];

const M_PER_FT = 0.3048;
const MM_PER_IN = 25.4;
const IN_PER_FT = 12;

/** The first of two quantities without its unit, where the second has the same single one. @example sharedUnit('0.1 in', '0.2 in') // "0.1" */
function sharedUnit(first: string, second: string): string {
  const [value, unit, ...rest] = first.split(' ');
  return rest.length === 0 && second.split(' ')[1] === unit && !second.includes('ft ') ? value : first;
}

/** What a printed metric quantity without its sign becomes in the other system. */
type Conversion = (value: number, text: string) => string;

/** Below this, metres are told in inches with two decimals, so that a wheel of 80 mm is not told as 3 in. */
const SMALL_IN = 10;

/**
 * Feet and inches to a whole inch, or to a tenth where the metric text has centimetres or lies below a metre; hundredths below ten
 * inches. @example feetAndInches(0.45, '0.45') // "1 ft 5.7 in"
 */
function feetAndInches(metres: number, text: string): string {
  const fine = metres < 1 || (text.split('.')[1]?.length ?? 0) >= 2;
  const inches = (1000 * metres) / MM_PER_IN;
  if (inches < SMALL_IN) return `${Number(inches.toFixed(2))} in`;
  const perInch = fine ? 10 : 1;
  const parts = Math.round(inches * perInch);
  const feet = Math.floor(parts / (IN_PER_FT * perInch));
  const rest = Number((parts / perInch - feet * IN_PER_FT).toFixed(1));
  if (feet === 0) return `${rest} in`;
  return `${feet} ft${rest === 0 ? '' : ` ${rest} in`}`;
}

/** Millimetres in inches with as many significant digits as the metric text has, ten-thousandths at the finest. */
function inches(millimetres: number, text: string): string {
  const value = millimetres / MM_PER_IN;
  const significant = Math.max(1, text.replace(/^[0.]*/, '').replace('.', '').length);
  const decimals = Math.min(4, Math.max(0, significant - 1 - Math.floor(Math.log10(value || 1))));
  return `${Number(value.toFixed(decimals))} in`;
}

const CONVERSIONS: Readonly<Record<string, Conversion>> = {
  m: feetAndInches,
  mm: inches,
  'm/s': (mps) => `${figure(mps / M_PER_FT)} ft/s`,
};

/**
 * A number, or a range of two, and its unit. Not followed by what would make it another unit (m³), and no focal length: those are
 * written beside the word lens, always.
 */
const QUANTITY =
  /(?<lens>\b[Ll]ens(?:es)?[^.;:]{0,24} )?(?<![\w.])(?<from>[-−+]?\d+(?:\.\d+)?)(?:(?<between> to | \/ )(?<to>[-−+]?\d+(?:\.\d+)?))?(?<gap>[ \u00a0])(?<unit>m\/s|mm|m)(?![\w³²/])(?! \([-−+]?[\d.]+ (?:ft|in)\b)(?<after>(?: wide)? (?:lens|sensor)| wide)?/gu;

/**
 * The sentence with its metric quantities in other units; everything else stays as it is. Focal lengths and sensor sizes stay in
 * millimetres, as the trade has them: they are recognised by the word lens or sensor beside them.
 *
 * A sentence that holds both already is left as it is.
 *
 * @example inUnits('joint of 2.9 mm at 0.71 m with a 28 mm lens', 'imperial') // "joint of 0.11 in at 2 ft 4 in with a 28 mm lens"
 */
export function inUnits(sentence: string, units: Units): string {
  if (units === 'metric') return sentence;
  return sentence.replace(QUANTITY, (whole: string, ...rest: unknown[]) => {
    const { lens, from, between, to, unit, after } = rest[rest.length - 1] as Record<
      string,
      string | undefined
    >;
    if (lens !== undefined || after !== undefined || from === undefined || unit === undefined) return whole;
    const convert = CONVERSIONS[unit];
    const signed = (text: string): string => {
      const sign = /^[-−+]/u.exec(text)?.[0] ?? '';
      const digits = text.slice(sign.length);
      return sign + convert(Number(digits), digits);
    };
    const first = signed(from);
    const second = to === undefined ? null : signed(to);
    const words = second === null ? first : `${sharedUnit(first, second)}${between}${second}`;
    return units === 'imperial' ? words : `${whole} (${words})`;
  });
}
