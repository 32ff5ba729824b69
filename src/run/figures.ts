/** Prints figures for sentences: sensible digits, and never a rounding that carries a value across its limit. */

/**
 * A number with two significant digits below 10, whole tenths up to 100, whole numbers above; no exponent, no trailing zeros.
 * @example figure(0.04237) // "0.042"
 */
export function figure(value: number): string {
  return plain(value, decimalsOf(value));
}

/** The same, rounded up, so that a printed bound still holds. @example figureUp(4.21) // "4.3" */
export function figureUp(value: number): string {
  const decimals = decimalsOf(value);
  // A hair less, so that 4.2 stays 4.2 when it was computed as 4.2000000000000001.
  return plain(Math.ceil(value * 10 ** decimals - 1e-9) / 10 ** decimals, decimals);
}

/**
 * Like {@link figure}, with as many decimals more as it takes to print on the same side of `limit` as the raw value.
 * @example figureBeside(5.004, 5) // "5.004"
 */
export function figureBeside(value: number, limit: number): string {
  const side = Math.sign(value - limit);
  const first = figure(value);
  if (Math.sign(Number(first) - limit) === side) return first;
  for (let decimals = Math.max(1, decimalsOf(value)); decimals <= 9; decimals++) {
    const text = plain(value, decimals);
    if (Math.sign(Number(text) - limit) === side) return text;
  }
  return asFigures(value);
}

/** A number in figures alone, no exponent; reading it gives the very same number. @example asFigures(1.5e-7) // "0.00000015" */
export function asFigures(value: number): string {
  const [mantissa, exponent] = String(value).split('e');
  if (exponent === undefined) return mantissa;
  const sign = mantissa.startsWith('-') ? '-' : '';
  const [whole, part = ''] = mantissa.replace('-', '').split('.');
  const digits = whole + part;
  const point = whole.length + Number(exponent);
  if (point <= 0) return `${sign}0.${'0'.repeat(-point)}${digits}`;
  return sign + digits.padEnd(point, '0');
}

/** A bound: like {@link figureUp}, but never carried across `limit`. */
export function boundBeside(value: number, limit: number): string {
  const up = figureUp(value);
  return Math.sign(Number(up) - limit) === Math.sign(value - limit) ? up : figureBeside(value, limit);
}

/** Digits more than the figure alone has, up to which a value beside its limit is still read as a number. */
const READABLE_DIGITS = 2;

/** Whether `text`, a value beside its limit, takes more digits to stay on its side than anybody reads. @example isEndless('1.30004', 1.30004, 1.3) // true */
export function isEndless(text: string, value: number, limit: number): boolean {
  return text.length > Math.max(figure(value).length, limitFigure(limit).length) + READABLE_DIGITS;
}

/**
 * A foretold figure: like {@link figureBeside}, but what only endless digits would tell from its limit prints as the limit, for a
 * search for what just keeps a limit ends on it.
 * @example figureNear(0.829999999988, 0.83) // "0.83"
 */
export function figureNear(value: number, limit: number): string {
  const text = figureBeside(value, limit);
  return isEndless(text, value, limit) ? limitFigure(limit) : text;
}

/** A foretold bound, see {@link boundBeside} and {@link figureNear}. */
export function boundNear(value: number, limit: number): string {
  const text = boundBeside(value, limit);
  return isEndless(text, value, limit) ? limitFigure(limit) : text;
}

/** The same for a crop in per cent, see {@link percentBeside}. */
export function percentNear(percent: number, limit: number): string {
  const text = percentBeside(percent, limit);
  return text === TINY ? text : figureNear(percent, limit);
}

/** A crop in per cent: hundredths are the last that mean anything. @example percentFigure(0.0073) // "< 0.01" */
export function percentFigure(percent: number): string {
  return isTiny(percent) ? TINY : figure(percent);
}

/** The same, rounded up, so that a printed bound still holds. */
export function percentUp(percent: number): string {
  return isTiny(percent) ? TINY : figureUp(percent);
}

/** A crop in per cent beside its limit, see {@link figureBeside}. */
export function percentBeside(percent: number, limit: number): string {
  return isTiny(percent) && !isTiny(limit) && limit > 0 ? TINY : figureBeside(percent, limit);
}

/** A limit as it was given: up to six significant digits, nothing added. */
export function limitFigure(limit: number): string {
  return String(Number(limit.toPrecision(6)));
}

function plain(value: number, decimals: number): string {
  const fixed = value.toFixed(decimals).replace(/^-(0(?:\.0*)?)$/, '$1'); // no "-0"
  return fixed.includes('.') ? fixed.replace(/\.?0+$/, '') : fixed;
}

const TINY = '< 0.01';

function isTiny(percent: number): boolean {
  return percent > 0 && percent < 0.01;
}

function decimalsOf(value: number): number {
  const size = Math.abs(value);
  if (size === 0 || size >= 100) return 0;
  return size >= 10 ? 1 : Math.min(6, 1 - Math.floor(Math.log10(size)));
}
