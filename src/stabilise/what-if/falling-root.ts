/** Where a falling function crosses zero, between two places at which its sign is known; any unit. */

/** Steps after which the middle of the bracket is good enough whatever happens: it has then shrunk below double rounding. */
const MOST_STEPS = 200;

/**
 * The root of a continuous function in `[low, high]` by false position, Illinois variant (Dowell & Jarratt 1971), with a
 * halving step whenever the bracket has not halved in four steps.
 *
 * @param value positive at `low`, negative at `high`; either may be zero
 * @param tolerance width of the last bracket, in the unit of the argument, > 0
 * @returns the end of the last bracket at which `value` is not negative, so that what must not be overstepped is not
 * @throws RangeError when the signs at the ends are not as said
 * @example fallingRoot((x) => 2 - x * x, 1, 2, 1e-12) // 1.41421356...
 */
export function fallingRoot(
  value: (x: number) => number,
  low: number,
  high: number,
  tolerance: number,
): number {
  let a = low;
  let b = high;
  let atA = value(a);
  let atB = value(b);
  if (!(atA >= 0 && atB <= 0))
    throw new RangeError(`value must fall from >= 0 to <= 0, got ${atA} at ${low} and ${atB} at ${high}`);
  if (atB === 0) return b;
  let before = b - a;
  let keptSide = 0;
  for (let step = 1; step <= MOST_STEPS && b - a > tolerance; step++) {
    const halve = step % 4 === 0 && b - a > before / 2;
    if (step % 4 === 0) before = b - a;
    const between = halve ? (a + b) / 2 : (a * atB - b * atA) / (atB - atA);
    // A step this close to an end would leave the bracket as wide as it was.
    const x = Math.min(b - tolerance / 2, Math.max(a + tolerance / 2, between));
    const atX = value(x);
    if (atX >= 0) {
      a = x;
      atA = atX;
      if (keptSide === 1) atB /= 2;
      keptSide = 1;
    } else {
      b = x;
      atB = atX;
      if (keptSide === -1) atA /= 2;
      keptSide = -1;
    }
  }
  return a;
}
