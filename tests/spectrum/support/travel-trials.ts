/** Whether a line follows time or way, told from how the speed of one pass wanders. */
import { findPeaks } from '../../../src/spectrum/peaks/find-peaks.js';
import { lineAmplitudes } from './line-strength.js';
import { nearestPeak } from './line-trials.js';
import { PLAIN, simulatedPass, type SimulatedOptions } from './simulated-pass.js';

/** Said when the probability of one or the other is above this. */
const SAY_ABOVE = 0.95;
/** Lines that smear over time are looked for this far from their mean frequency, in units of 1 / T. */
const REACH = 3;

/** Lines that were seen. */
export interface TravelFigures {
  readonly seen: number;
  readonly right: number;
  readonly wrong: number;
}

/** One line of tilt in each of `runs` passes, in turn over time and over the way. */
export function travelFigures(
  wander: number,
  strength: number,
  cycles: number,
  runs: number,
  given: Partial<SimulatedOptions> = {},
): TravelFigures {
  const { durationS } = { ...PLAIN, ...given };
  const amplitudeOf = lineAmplitudes('tilt', given);
  const figures = { seen: 0, right: 0, wrong: 0 };
  for (let i = 0; i < runs; i++) {
    const rolling = i % 2 === 1;
    const freqHz = (cycles * (0.8 + 0.4 * ((i * 0.618034) % 1))) / durationS;
    const pass = simulatedPass({
      ...given,
      seed: 7000 + i,
      wander,
      machines: [{ freqHz, amplitude: { tilt: amplitudeOf(freqHz, strength) }, rolling }],
    });
    const { placeM } = pass;
    const last = placeM.length - 1;
    const meanMps = ((placeM[last] - placeM[0]) / last) * PLAIN.rateHz;
    const atHz = rolling ? (freqHz * meanMps) / (given.speedMps ?? PLAIN.speedMps) : freqHz;
    const peak = nearestPeak(findPeaks(pass.searched('tilt')).peaks, atHz, REACH / durationS);
    if (peak === null) continue;
    figures.seen++;
    const said = peak.followsTravel ?? 0.5;
    if (said > SAY_ABOVE || said < 1 - SAY_ABOVE) figures[said > 0.5 === rolling ? 'right' : 'wrong']++;
  }
  return figures;
}
