/** Scales of the running trace: ranges that grow in round steps, so that the picture does not breathe with every sample; ticks; paths. */

/** From and to, in the unit of the data. */
export type Range = readonly [number, number];

/** A way from values to px. */
export type Scale = (value: number) => number;

/** The smallest step of 1, 2 or 5 times a power of ten that is at least as large. */
export function roundStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  const factor = [1, 2, 5, 10].find((f) => f * power >= least * (1 - 1e-9)) ?? 10;
  return factor * power;
}

/**
 * The range of an axis: 0 and all values within, ends on round steps.
 * @param leastSpan what it spans at least, so that noise does not fill it
 */
export function roundRange(values: ArrayLike<number>, leastSpan: number): Range {
  let [low, high] = [0, 0];
  for (let i = 0; i < values.length; i++) {
    if (values[i] < low) low = values[i];
    if (values[i] > high) high = values[i];
  }
  const step = roundStep(Math.max(leastSpan, high - low) / 4);
  let [first, last] = [Math.floor(low / step + 1e-9), Math.ceil(high / step - 1e-9)];
  while ((last - first) * step < leastSpan - 1e-9 * step) {
    first--;
    last++;
  }
  return [first * step, last * step];
}

/** Round values within a range, about as many as asked for. */
export function roundTicks([low, high]: Range, about: number): number[] {
  const step = roundStep((high - low) / about);
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => (first + i) * step);
}

/** A straight scale. */
export function scaleTo([low, high]: Range, [from, to]: Range): Scale {
  const perUnit = high === low ? 0 : (to - from) / (high - low);
  return (value) => from + (value - low) * perUnit;
}

/** The path of a series over samples that are worth drawing. @returns what belongs into `d`; empty without samples */
export function linePath(
  timeS: ArrayLike<number>,
  values: ArrayLike<number>,
  drawn: readonly number[],
  x: Scale,
  y: Scale,
): string {
  return drawn
    .map((i, at) => `${at === 0 ? 'M' : 'L'}${x(timeS[i]).toFixed(1)} ${y(values[i]).toFixed(1)}`)
    .join('');
}
