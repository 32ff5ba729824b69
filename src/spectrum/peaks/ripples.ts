/** Whether a peak may be one of the ripples that front and rear axle print on the spectrum of any floor, where no wheelbase tells. */

/** Wheelbases that dollies have, metres. */
const WHEELBASES_M: readonly [number, number] = [0.2, 1.5];

/**
 * Ripples have their tops at (k - 1/2) v / L, k = 1, 2 ...; a peak within 1 / T of one, for any wheelbase from 0.2 to 1.5 m, may be one.
 *
 * @param speedMps null where unknown, or where no height drives the axis: then nothing is said
 * @example mayBeRipple(5, 10, 0.5) // true: L = 0.25 m, k = 3
 */
export function mayBeRipple(freqHz: number, durationS: number, speedMps: number | null): boolean {
  if (speedMps === null || !(speedMps > 0)) return false;
  const [shortest, longest] = WHEELBASES_M;
  const reach = 1 / durationS;
  const mostOrder = Math.floor(((freqHz + reach) * longest) / speedMps + 0.5);
  for (let k = 1; k <= mostOrder; k++) {
    const from = ((k - 0.5) * speedMps) / longest - reach;
    const to = ((k - 0.5) * speedMps) / shortest + reach;
    if (freqHz >= from && freqHz <= to) return true;
  }
  return false;
}
