/** Places on a slider and the values that they stand for, on a scale of even ratios; usual values catch the thumb. */

/** A slider, in the unit of its values. */
export interface SliderScale {
  readonly low: number;
  readonly high: number;
  /** Values that catch the thumb, ascending. */
  readonly usual: readonly number[];
}

/** Steps from end to end: fine enough for the thumb of a wide slider. */
export const SLIDER_STEPS = 400;
/** Usual values catch within so many steps. */
const CATCHES = 5;
/** A step of an arrow key, as a factor. */
const KEY_FACTOR = 1.02;
/** Of Page Up and Page Down. */
const PAGE_FACTOR = 1.15;

/** Where a value stands, whole steps from the low end; values beyond an end stand at it. */
export function placeOf({ low, high }: SliderScale, value: number): number {
  const share = Math.log(value / low) / Math.log(high / low);
  return Math.round(SLIDER_STEPS * Math.min(1, Math.max(0, share)));
}

/**
 * The value at a place: a usual one where it is near, else a round one.
 * @example valueAt({ low: 10, high: 100, usual: [35] }, 217) // 35
 */
export function valueAt(scale: SliderScale, at: number): number {
  const { low, high, usual } = scale;
  const caught = usual
    .map((value) => ({ value, off: Math.abs(placeOf(scale, value) - at) }))
    .filter(({ off }) => off <= CATCHES)
    .sort((a, b) => a.off - b.off)
    .at(0);
  if (caught !== undefined) return caught.value;
  return within(scale, rounded(low * (high / low) ** (at / SLIDER_STEPS)));
}

/** What a key makes of a value; null for a key that is none of a slider's. Arrow keys pass usual values without being caught. */
export function valueByKey(scale: SliderScale, value: number, key: string): number | null {
  const factor = {
    ArrowRight: KEY_FACTOR,
    ArrowUp: KEY_FACTOR,
    ArrowLeft: 1 / KEY_FACTOR,
    ArrowDown: 1 / KEY_FACTOR,
    PageUp: PAGE_FACTOR,
    PageDown: 1 / PAGE_FACTOR,
  }[key];
  if (key === 'Home') return scale.low;
  if (key === 'End') return scale.high;
  if (factor === undefined) return null;
  const next = value * factor;
  // A usual value that lies on the way is stopped at.
  const passed = scale.usual.filter((one) =>
    factor > 1 ? one > value && one <= next : one < value && one >= next,
  );
  if (passed.length > 0) return factor > 1 ? passed[passed.length - 1] : passed[0];
  return within(scale, rounded(next));
}

/** The nearest value that the slider holds. */
function within({ low, high }: SliderScale, value: number): number {
  return Math.min(high, Math.max(low, value));
}

/** Rounding goes no further than this share of a value: less than a step of an arrow key, so that each one leads on. */
const ROUNDED_BY = 0.01;

/** As a hand would set it: two digits where they come near enough, else three. @example rounded(43.27) // 43 @example rounded(1.04) // 1.04 */
function rounded(value: number): number {
  const short = Number(value.toPrecision(2));
  return Math.abs(short - value) <= ROUNDED_BY * value ? short : Number(value.toPrecision(3));
}
