/** What an exposure leaves of a shake and how it is put right: amplitudes in any unit, frequencies of the motion itself in hertz. */
import { exposureGain, shutterTimeS } from '../../optics/index.js';

/**
 * Least share of an amplitude that must have come through the shutter for it to be put right. Below it a small error of the
 * exposure time is a large one of the amplitude, and noise is blown up more than three times; rule of our own.
 */
export const LEAST_CORRECTED_GAIN = 0.3;

/** Where sin(pi x) / (pi x) = {@link LEAST_CORRECTED_GAIN}; past its first zero the gain never again comes above 0.22. */
const LAST_CORRECTED_TURN = 0.750079;

/** Open and narrow end of the shutter angles that cameras are set to, degrees. */
const USUAL_ANGLES_DEG = [90, 360] as const;

/**
 * Amplitude of the motion that a shutter shows as `seenAmplitude`.
 *
 * @param seenAmplitude amplitude or RMS as the frames show it, any unit
 * @param trueHz of the motion itself, not of the peak where frames folded it
 * @param exposureS 0 for a shutter that takes no time
 * @returns in the unit of `seenAmplitude`; null where less than {@link LEAST_CORRECTED_GAIN} came through: such an amplitude is
 *   marked, not corrected
 * @remarks Source: mean of a sine over an interval, |sin(pi f T) / (pi f T)|.
 * @example motionAmplitude(0.93, 10, 1 / 48) // 1.000
 */
export function motionAmplitude(seenAmplitude: number, trueHz: number, exposureS: number): number | null {
  const gain = exposureGain(trueHz, exposureS);
  return gain < LEAST_CORRECTED_GAIN ? null : seenAmplitude / gain;
}

/**
 * Lowest frequency of which the exposure leaves nothing, 1 / exposure; null without an exposure.
 *
 * @example hiddenHz(1 / 48) // 48
 */
export function hiddenHz(exposureS: number): number | null {
  return exposureS > 0 ? 1 / exposureS : null;
}

/**
 * Highest frequency whose amplitude {@link motionAmplitude} puts right, 0.750 / exposure; null without an exposure: all are.
 *
 * @example correctedUpToHz(1 / 48) // 36.0
 */
export function correctedUpToHz(exposureS: number): number | null {
  return exposureS > 0 ? LAST_CORRECTED_TURN / exposureS : null;
}

/**
 * How much the true amplitude could differ from what an assumed shutter angle gives: true over corrected amplitude, for the
 * smallest and the largest angle that cameras are usually set to.
 *
 * @param trueHz of the motion itself
 * @param rateHz frames per second
 * @param assumedDeg the angle that the correction was made with
 * @param anglesDeg smallest and largest angle; 90 and 360 degrees unless given
 * @returns the factors at both angles; the second is null where the largest angle lets less through than can be put right, both
 *   are null where the assumed one does
 * @throws RangeError on an angle outside 0..360 or a rate that is not positive
 * @example correctionRange(10, 24, 180) // [0.947, 1.260]
 */
export function correctionRange(
  trueHz: number,
  rateHz: number,
  assumedDeg: number,
  anglesDeg: readonly [number, number] = USUAL_ANGLES_DEG,
): readonly [number | null, number | null] {
  const amplitudeAt = (angleDeg: number): number | null =>
    motionAmplitude(1, trueHz, shutterTimeS(angleDeg, rateHz));
  const assumed = amplitudeAt(assumedDeg);
  const factor = (amplitude: number | null): number | null =>
    amplitude === null || assumed === null ? null : amplitude / assumed;
  return [factor(amplitudeAt(anglesDeg[0])), factor(amplitudeAt(anglesDeg[1]))];
}
