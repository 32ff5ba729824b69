/** Prints measured figures with their uncertainty: digits that the uncertainty allows, bounds rounded up, words for what is not known. */
import { figure, type AxisRms, type AxisTranslation } from '../run/index.js';
import { figureTexts } from '../texts/index.js';

/** One axis in words: what stands in the table, and the range or remark that goes under it. */
export interface AxisFigure {
  readonly text: string;
  readonly range: string;
}

/** An axis of either kind, brought to one shape; numbers in the unit of the axis. */
export interface AxisNumbers {
  readonly status: AxisRms['status'];
  readonly rms: number | null;
  readonly peakToPeak: number | null;
  readonly maximum: number | null;
  readonly noise: number | null;
  readonly ci95: readonly [number, number] | null;
  readonly below: number | null;
  readonly dominantHz: number | null;
}

/** An angular axis as plain numbers, degrees. */
export function angularNumbers(axis: AxisRms): AxisNumbers {
  return {
    status: axis.status,
    rms: axis.rmsDeg,
    peakToPeak: axis.peakToPeakDeg,
    maximum: axis.maximumDeg,
    noise: axis.noiseDeg,
    ci95: axis.ci95Deg,
    below: axis.belowDeg,
    dominantHz: axis.dominantHz,
  };
}

/** A translational axis as plain numbers, in the unit of its section. */
export function translationNumbers(axis: AxisTranslation): AxisNumbers {
  const { status, rms, peakToPeak, maximum, noise, ci95, below, dominantHz } = axis;
  return { status, rms, peakToPeak, maximum, noise, ci95, below, dominantHz };
}

/**
 * A value with as many decimals as three significant digits and the range allow (two digits of its half width).
 * @example withRange(0.033871, [0.0331, 0.0347]) // { value: "0.0339", range: "0.0331 to 0.0347" }
 */
export function withRange(
  value: number,
  range: readonly [number, number] | null,
): { value: string; range: string } {
  const half = range ? (range[1] - range[0]) / 2 : 0;
  const bySize = decimalsOf(value, 3);
  const decimals = half > 0 ? Math.max(0, Math.min(bySize, decimalsOf(half, 2))) : bySize;
  const fixed = (x: number): string => x.toFixed(decimals);
  return { value: fixed(value), range: range ? figureTexts.range(fixed(range[0]), fixed(range[1])) : '' };
}

/** An upper bound with two significant digits, rounded up, so that the printed bound still holds. @example boundUp(0.0611) // "0.062" */
export function boundUp(value: number): string {
  const decimals = decimalsOf(value, 2);
  const step = 10 ** -decimals;
  return (Math.ceil(value / step - 1e-9) * step).toFixed(decimals);
}

/** An axis in words: the value, "about" a value with a wide range, "below" a bound, or that it is not observable. */
export function axisFigure(axis: AxisNumbers, unit: string): AxisFigure {
  if (axis.status === 'below' && axis.below !== null)
    return {
      text: figureTexts.below(withUnit(boundUp(axis.below), unit)),
      range: figureTexts.underNoise,
    };
  if (axis.status === 'notObservable' || axis.rms === null)
    return { text: figureTexts.notObservable, range: '' };
  const { value, range } = withRange(axis.rms, axis.ci95);
  const text = withUnit(value, unit);
  return { text: axis.status === 'wide' ? figureTexts.about(text) : text, range };
}

/** A quantity with its unit: a space between, but none before a degree sign. */
export function withUnit(text: string, unit: string): string {
  return unit.startsWith('°') ? `${text}${unit}` : `${text} ${unit}`;
}

/**
 * A focal length or sensor width for a bare cell: millimetres in every system of units, so the space between, narrow and without a
 * break (U+202F), is one that `inUnits` does not read.
 * @example lensMm(28) // "28\u202fmm"
 */
export function lensMm(value: number): string {
  return `${figure(value)}\u202fmm`;
}

const SUPERSCRIPT = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/** A small or large number as digits times a power of ten. @example scientific(9.2e-7) // "9.2 × 10⁻⁷" */
export function scientific(value: number): string {
  const [digits, exponent] = value.toExponential(1).split('e');
  const raised = [...String(Math.abs(Number(exponent)))].map((d) => SUPERSCRIPT[Number(d)]).join('');
  return `${digits} × 10${Number(exponent) < 0 ? '⁻' : ''}${raised}`;
}

/** A number or "not given". */
export function given(value: number | string | null | undefined, unit = ''): string {
  if (value === null || value === undefined) return figureTexts.notGiven;
  const text = typeof value === 'number' ? String(Number(value.toPrecision(6))) : value;
  return unit === '' ? text : withUnit(text, unit);
}

/** A number or a dash for a table cell. */
export function cell(value: number | null | undefined): string {
  return value === null || value === undefined ? '–' : figure(value);
}

/** Decimals that show `digits` significant digits, 0 to 7. */
function decimalsOf(value: number, digits: number): number {
  const size = Math.abs(value);
  return size > 0 ? Math.max(0, Math.min(7, digits - 1 - Math.floor(Math.log10(size)))) : digits - 1;
}
