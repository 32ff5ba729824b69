/** Scales of power per hertz: whole decades and their labels. */
import { max, min } from 'd3-array';

/** From a value to px. */
export type Scale = (value: number) => number;

const SUPERSCRIPT = '⁰¹²³⁴⁵⁶⁷⁸⁹';
/** More decades than this are named every second or third. */
const MOST_LABELS = 6;

/** Whole decades around a set of positive values, with room above for a mark; [1e-6, 1] when there is none. */
export function decades(values: readonly number[]): [number, number] {
  const positive = values.filter((value) => value > 0);
  const low = min(positive);
  const high = max(positive);
  if (low === undefined || high === undefined) return [1e-6, 1];
  const from = Math.floor(Math.log10(low));
  return [10 ** from, 10 ** Math.max(from + 1, Math.ceil(Math.log10(2 * high) + 1e-9))];
}

/** The exponents that are named along a scale of decades. @example namedExponents([1e-3, 1]) // [-3, -2, -1, 0] */
export function namedExponents([low, high]: readonly [number, number]): number[] {
  const first = Math.round(Math.log10(low));
  const last = Math.round(Math.log10(high));
  const step = Math.max(1, Math.ceil((last - first) / MOST_LABELS));
  return Array.from({ length: Math.floor((last - first) / step) + 1 }, (_, i) => first + i * step);
}

/** 10 to a whole power as people write it. @example power(-6) // "10⁻⁶" */
export function power(exponent: number): string {
  const digits = [...String(Math.abs(exponent))].map((d) => SUPERSCRIPT[Number(d)]).join('');
  return `10${exponent < 0 ? '⁻' : ''}${digits}`;
}

/** A small or large value as digits times a power of ten. @example powerWords(9.2e-7) // "9.2 × 10⁻⁷" */
export function powerWords(value: number): string {
  const [digits, exponent] = value.toExponential(1).split('e');
  return `${digits} × ${power(Number(exponent))}`;
}
