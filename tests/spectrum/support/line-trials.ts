/** Lines of known strength over a simulated floor, and what a search makes of them; hertz, and rad or m. */
import { exposureGain } from '../../../src/optics/index.js';
import { findPeaks } from '../../../src/spectrum/peaks/find-peaks.js';
import type { FoundPeak } from '../../../src/spectrum/peaks/types.js';
import { lineAmplitudes } from './line-strength.js';
import { PLAIN, simulatedPass, type SimulatedAxis, type SimulatedOptions } from './simulated-pass.js';

/** A line that was looked for. */
export interface LineTrial {
  readonly trueHz: number;
  /** As frames show it. */
  readonly amplitude: number;
  /** The peak within 1.5 / T of it; null when it was missed. */
  readonly peak: FoundPeak | null;
}

const BAND_HZ: readonly [number, number] = [1.8, 11];
const SPEED_OFF = 0.02;
const WHEELBASE_OFF_M = 0.005;

/** One line in each of `runs` passes, evenly over 1.8 to 11 Hz; speed told 2 % off and wheelbase 5 mm off, both ways in turn. */
export function lineTrials(
  axis: SimulatedAxis,
  strength: number,
  runs: number,
  given: Partial<SimulatedOptions> = {},
): LineTrial[] {
  const { durationS, rateHz, shutterShare } = { ...PLAIN, ...given };
  const amplitudeOf = lineAmplitudes(axis, given);
  return Array.from({ length: runs }, (_, i) => {
    // Steps by the golden ratio: even over the band, and at no fixed place between the notches.
    const trueHz = BAND_HZ[0] + (BAND_HZ[1] - BAND_HZ[0]) * (((i + 1) * 0.618034) % 1);
    const moved = amplitudeOf(trueHz, strength);
    const pass = simulatedPass({
      speedTold: 1 + (i & 1 ? SPEED_OFF : -SPEED_OFF),
      wheelbaseToldM: PLAIN.wheelbaseM + (i & 2 ? WHEELBASE_OFF_M : -WHEELBASE_OFF_M),
      ...given,
      seed: 5000 + i,
      machines: [{ freqHz: trueHz, amplitude: { [axis]: moved } }],
    });
    const { peaks } = findPeaks(pass.searched(axis));
    const amplitude = moved * exposureGain(trueHz, shutterShare / rateHz);
    return { trueHz, amplitude, peak: nearestPeak(peaks, trueHz, 1.5 / durationS) };
  });
}

/** The peak nearest to a frequency; null when none is within `reachHz`. */
export function nearestPeak(peaks: readonly FoundPeak[], freqHz: number, reachHz: number): FoundPeak | null {
  const off = (peak: FoundPeak): number => Math.abs(peak.freqHz - freqHz);
  const near = peaks.filter((peak) => off(peak) <= reachHz);
  return near.length > 0 ? near.reduce((best, peak) => (off(peak) < off(best) ? peak : best)) : null;
}

/** What a set of trials says of lines of one strength; shares 0..1. */
export interface LineFigures {
  readonly found: number;
  /** Of the lines found. */
  readonly count: number;
  /** Errors of frequency within 1 / (T sqrt rho). */
  readonly near: number;
  /** Mean of the amplitude over the true one, less 1, and its standard deviation. */
  readonly bias: number;
  readonly spread: number;
  /** Amplitudes within 1.96 of the deviations that are stated. */
  readonly covered: number;
}

/** Figures of trials of one strength and duration. */
export function lineFigures(trials: readonly LineTrial[], strength: number, durationS: number): LineFigures {
  const found = trials.flatMap(({ peak, ...truth }) => (peak ? [{ ...truth, ...peak }] : []));
  const ratios = found.map(({ rms, amplitude }) => (rms * Math.SQRT2) / amplitude);
  const count = found.length;
  const mean = ratios.reduce((sum, ratio) => sum + ratio, 0) / count;
  const share = (of: (one: (typeof found)[number], i: number) => boolean): number =>
    found.filter(of).length / count;
  return {
    found: count / trials.length,
    count,
    near: share(({ freqHz, trueHz }) => Math.abs(freqHz - trueHz) <= 1 / (durationS * Math.sqrt(strength))),
    bias: mean - 1,
    spread: Math.sqrt(ratios.reduce((sum, ratio) => sum + (ratio - mean) ** 2, 0) / count),
    covered: share(({ rmsShare }, i) => Math.abs(ratios[i] - 1) <= 1.96 * rmsShare),
  };
}
