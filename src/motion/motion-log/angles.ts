/**
 * Angles out of logged rates, as a camera would see them: the mean angle (rad) and the mean rate (rad/s) over an exposure,
 * at any times.
 *
 * Rates are taken as straight between samples, so the angle is their trapezoid sum and its mean over an exposure the
 * difference of a third-order curve: exact, with no grid of its own. A slow log is brought to more samples by a spline
 * first, because straight lines between few samples cut the tips off. Averaging over the exposure is the only low-pass that
 * pictures have; what they fold down from above half their rate, these samples fold down alike.
 */

import { resampleEven } from '../../numerics/index.js';

/** Rates of one axis with their first and second integral at the time stamps. */
export interface AngleIntegrals {
  /** Seconds, strictly rising, length n. */
  readonly timeS: Float64Array;
  /** rad/s; the mean is taken off, which only takes a steady turn out of the angle. */
  readonly rate: Float64Array;
  /** rad, 0 at the first stamp. */
  readonly angle: Float64Array;
  /** rad s, 0 at the first stamp. */
  readonly area: Float64Array;
}

/**
 * Integrates rates once and twice.
 *
 * @param logTimeS seconds, strictly rising, length n >= 2; not changed
 * @param logRates rad/s, length n; not changed
 * @param leastRateHz a log with fewer samples a second is filled up by a cubic spline; 0 leaves every log as it is
 */
export function integrateRates(
  logTimeS: Readonly<Float64Array>,
  logRates: Readonly<Float64Array>,
  leastRateHz = 0,
): AngleIntegrals {
  const { timeS, rates } = filledUp(logTimeS, logRates, leastRateHz);
  const n = timeS.length;
  let weighted = 0;
  for (let i = 1; i < n; i++) weighted += ((rates[i] + rates[i - 1]) / 2) * (timeS[i] - timeS[i - 1]);
  const steady = weighted / (timeS[n - 1] - timeS[0]);
  const rate = rates.map((value) => value - steady);
  const angle = new Float64Array(n);
  const area = new Float64Array(n);
  for (let i = 1; i < n; i++) {
    const h = timeS[i] - timeS[i - 1];
    angle[i] = angle[i - 1] + (h * (rate[i - 1] + rate[i])) / 2;
    area[i] = area[i - 1] + h * angle[i - 1] + (h * h * (2 * rate[i - 1] + rate[i])) / 6;
  }
  return { timeS: Float64Array.from(timeS), rate, angle, area };
}

/** The log with whole numbers of samples more, its own kept where its stamps are even. */
function filledUp(
  timeS: Readonly<Float64Array>,
  rates: Readonly<Float64Array>,
  leastRateHz: number,
): { timeS: Readonly<Float64Array>; rates: Readonly<Float64Array> } {
  const ownHz = (timeS.length - 1) / (timeS[timeS.length - 1] - timeS[0]);
  if (ownHz >= leastRateHz * (1 - 1e-6)) return { timeS, rates };
  const even = resampleEven(timeS, rates, ownHz * Math.ceil(leastRateHz / ownHz));
  return { timeS: even.timeS, rates: even.values };
}

/** The three curves at one time, found from the interval that holds it. */
function valuesAt({ timeS, rate, angle, area }: AngleIntegrals, atS: number, hint: number) {
  const last = timeS.length - 1;
  let i = Math.min(Math.max(hint, 0), last - 1);
  while (i > 0 && timeS[i] > atS) i--;
  while (i < last - 1 && timeS[i + 1] <= atS) i++;
  const h = Math.min(Math.max(atS, timeS[0]), timeS[last]) - timeS[i];
  const slope = (rate[i + 1] - rate[i]) / (timeS[i + 1] - timeS[i]);
  return {
    i,
    rate: rate[i] + slope * h,
    angle: angle[i] + h * (rate[i] + (slope * h) / 2),
    area: area[i] + h * (angle[i] + h * (rate[i] / 2 + (slope * h) / 6)),
  };
}

/** What a camera would have seen at some times: columns of equal length. */
export interface SeenAngles {
  /** Mean angle over the exposure, rad. */
  readonly angle: Float64Array;
  /** Its derivative in time: the mean rate over the exposure, rad/s. */
  readonly rate: Float64Array;
}

/**
 * Mean angle and mean rate over an exposure centred on each time.
 *
 * @param atS seconds on the log's clock, in rising order (others work, slowly); times beyond the log get its end values
 * @param exposureS 0 or more; 0 gives the momentary angle and rate
 */
export function seenAngles(
  integrals: AngleIntegrals,
  atS: Readonly<Float64Array>,
  exposureS: number,
): SeenAngles {
  const angle = new Float64Array(atS.length);
  const rate = new Float64Array(atS.length);
  let from = 0;
  let to = 0;
  for (let k = 0; k < atS.length; k++) {
    const a = valuesAt(integrals, atS[k] - exposureS / 2, from);
    from = a.i;
    if (exposureS === 0) {
      angle[k] = a.angle;
      rate[k] = a.rate;
      continue;
    }
    const b = valuesAt(integrals, atS[k] + exposureS / 2, to);
    to = b.i;
    angle[k] = (b.area - a.area) / exposureS;
    rate[k] = (b.angle - a.angle) / exposureS;
  }
  return { angle, rate };
}
