/** Numbers with one possible unit and lists between commas, as people type them; and numbers written so that reading gives them back. */
import { TrundleError, asFigures, withDecimalPoint } from '../run/index.js';

/**
 * A number with its unit or without.
 * @param unit the one that may stand behind it, in small letters
 * @throws TrundleError `argument-invalid`
 * @example numberWith('1.5 px', 'px') // 1.5
 */
export function numberWith(text: string, unit: string): number {
  const match = /^([+-]?\d*\.?\d+)\s*([a-z]*)$/i.exec(withDecimalPoint(text).trim());
  const value = Number(match?.[1] ?? NaN);
  if (!match || !Number.isFinite(value) || !['', unit].includes((match[2] ?? '').toLowerCase()))
    throw new TrundleError('argument-invalid', `"${text}" is not a number of ${unit}.`);
  return value;
}

/** The parts of a list between commas. */
export function listOf(text: string | undefined): string[] {
  return (text ?? '')
    .split(',')
    .map((part) => part.trim())
    .filter((part) => part !== '');
}

/**
 * As `listOf`, where the list is given it holds something.
 * @param given how the sentence of a refusal begins, see `SettingNaming.given`
 * @throws TrundleError `argument-invalid`
 */
export function wordsOf(text: string | undefined, given: (text: string) => string): string[] {
  const parts = listOf(text);
  if (text !== undefined && parts.length === 0)
    throw new TrundleError('argument-invalid', `${given(text)} holds no word.`);
  return parts;
}

/**
 * A value in the first unit that reading gives it back from, bit for bit.
 * @param perUnit units by preference with how many of them make one of the value's own
 * @param read how the text will be read; the last unit is taken unchecked
 */
export function inUnitThatKeeps(
  value: number,
  perUnit: readonly (readonly [unit: string, perOne: number])[],
  read: (text: string) => number,
): string {
  for (const [unit, perOne] of perUnit.slice(0, -1)) {
    const text = `${asFigures(Number((value * perOne).toPrecision(9)))}${unit}`;
    if (read(text) === value) return text;
  }
  return `${asFigures(value)}${perUnit[perUnit.length - 1][0]}`;
}
