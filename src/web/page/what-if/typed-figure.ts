/** What is typed into the exact fields of the panel: read with the units that the form takes, held against the reach of its field. */
import {
  TrundleError,
  limitFigure,
  parseDurationS,
  parseFocalMm,
  parsePercent,
  parseSpeedMps,
} from '../../../run/index.js';
import { askTexts } from '../../../texts/index.js';
import type { SliderScale } from './slider-scale.js';

/** How far a field reaches, in its unit; a low end of 0 is not taken itself. */
export type Reach = Pick<SliderScale, 'low' | 'high'>;

/** Limits reach as far as in the form. */
export const LIMIT_REACH = {
  maxCrop: { low: 0, high: 90 },
  maxLeft: { low: 0, high: 1000 },
} as const satisfies Record<string, Reach>;

/** What a field holds: mm, times the lens used, m/s, s, per cent, px. */
export type FigureKind = keyof typeof READERS;

/** A figure, or why there is none, in one sentence. */
export type TypedFigure =
  { readonly value: number; readonly fault: null } | { readonly value: null; readonly fault: string };

const READERS = {
  lens: parseFocalMm,
  lensTimes: (text: string) => numberOf(text, askTexts.units.times, /^(.+?)\s*(?:x|×|times)?$/i),
  // The unit that stands beside the field is meant where none is typed.
  speed: (text: string) => parseSpeedMps(/[a-z"'″′]/i.test(text) ? text : `${text} m/s`),
  smoothing: parseDurationS,
  maxCrop: parsePercent,
  maxLeft: (text: string) => numberOf(text, askTexts.units.px, /^(.+?)\s*(?:px)?$/i),
};

const DIGITS = 3;
/** An end is told in so many digits; what lies beyond it by less than their rounding is the end. */
const ROUNDING = 0.5 * 10 ** (1 - DIGITS);

/**
 * Reads it; decimal commas are taken.
 *
 * @example readTyped('20cm/s', 'speed', { low: 0.1, high: 0.48 }) // { value: 0.2, fault: null }
 * @example readTyped('5', 'speed', { low: 0.1, high: 0.48 }).fault // "This can be asked within 0.1 to 0.48 m/s."
 */
export function readTyped(text: string, kind: FigureKind, reach: Reach): TypedFigure {
  try {
    const value = READERS[kind](text.trim().replace(/(\d|^),(?=\d)/g, '$1.'));
    const { low, high } = reach;
    if (!(value > 0) || value < low * (1 - ROUNDING) || value > high * (1 + ROUNDING))
      return { value: null, fault: askTexts.outside(`${reachInWords(reach)} ${unitOf(kind)}`) };
    return { value: Math.min(high, Math.max(low, value)), fault: null };
  } catch (error) {
    if (!(error instanceof TrundleError)) throw error;
    return { value: null, fault: error.message };
  }
}

/** The reach as it stands beside a field. @example reachInWords({ low: 0, high: 90 }) // "up to 90" */
export function reachInWords({ low, high }: Reach): string {
  return low === 0 ? askTexts.upTo(asSet(high)) : askTexts.fromTo(asSet(low), asSet(high));
}

/** The unit beside a field. */
export function unitOf(kind: FigureKind): string {
  return askTexts.unitsOf[kind];
}

/** A value that was set says no more than it was set to. */
export function asSet(value: number): string {
  return limitFigure(Number(value.toPrecision(DIGITS)));
}

function numberOf(text: string, unit: string, pattern: RegExp): number {
  const value = Number(pattern.exec(text)?.[1] ?? NaN);
  if (!Number.isFinite(value)) throw new TrundleError('argument-invalid', askTexts.noNumber(text, unit));
  return value;
}
