/** How many decimals the labels of an axis need. */

/** Decimals that tell neighbouring ticks apart, 0 to 6. @example decimalsFor([0, 0.05, 0.1]) // 2 */
export function decimalsFor(ticks: readonly number[]): number {
  const step = ticks.length > 1 ? Math.abs(ticks[1] - ticks[0]) : Math.abs(ticks[0] ?? 1) || 1;
  return Math.max(0, Math.min(6, Math.ceil(-Math.log10(step) - 1e-9)));
}

/** Labels of ticks that are as fine as their step, with a real minus sign. @example tickLabels([-0.05, 0]) // ["−0.05", "0.00"] */
export function tickLabels(ticks: readonly number[]): string[] {
  const decimals = decimalsFor(ticks);
  return ticks.map((value) => {
    const text = Math.abs(value).toFixed(decimals);
    return value < 0 && Number(text) !== 0 ? `−${text}` : text;
  });
}
