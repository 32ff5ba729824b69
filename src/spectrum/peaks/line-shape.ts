/** How much of a pure line the tapers show at a distance from it, as a share of the line's height in the one-taper spectrum. */
import { STEADY_TAPERS } from './taper-spectra.js';

/** Peak of a sine of amplitude A in the one-taper spectrum: 4 / pi^2 * A^2 T. */
export const LINE_HEIGHT = 4 / Math.PI ** 2;

/** Side lobes count this many times their envelope, because real lines are not quite pure. */
const SIDE_LOBE_MARGIN = 4;
/** A line 60 dB down from another may be a trace of that one's ends. */
const LEAST_LEAK = 1e-6;

function sinc(x: number): number {
  return Math.abs(x) < 1e-9 ? 1 : Math.sin(Math.PI * x) / (Math.PI * x);
}

/**
 * Power of a line in the one-taper spectrum, 1 on the line.
 *
 * @param x distance from the line in units of 1 / T
 * @example lineShape(1) // 0.1111
 */
export function lineShape(x: number): number {
  return ((sinc(x - 0.5) + sinc(x + 0.5)) / (2 * sinc(0.5))) ** 2;
}

/** The most that side lobes of a line leave in the one-taper spectrum, with a margin; for x beyond the main lobe, 1.5. */
export function lineLeak(x: number): number {
  return SIDE_LOBE_MARGIN * Math.max(1 / (4 * x * x - 1) ** 2, LEAST_LEAK);
}

/** The same in the mean of five tapers; for x beyond their main lobe, 3. */
export function steadyLeak(x: number): number {
  let sum = 0;
  for (let j = 1; j <= STEADY_TAPERS; j++) sum += (j / (j * j - 4 * x * x)) ** 2;
  return SIDE_LOBE_MARGIN * Math.max(sum / STEADY_TAPERS, LEAST_LEAK);
}
