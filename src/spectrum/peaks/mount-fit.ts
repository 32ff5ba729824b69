/**
 * Damping and gain of a resonance whose frequency is known, from the steady spectrum over the whole band: the floor is fitted anew under
 * each, and the likeliest is kept. Without unit.
 */
import { steadyRatio } from './background.js';
import type { FloorModel } from './floor-model.js';
import { costOf, expectedOf, fitLevels, lnFreqOver } from './level-and-noise.js';
import { OUTLIER_TAIL } from './notch-fit.js';
import { trustedLift, type TunedResonance } from './resonance.js';
import type { TaperSpectra } from './taper-spectra.js';

const DAMPING_RATIOS = [0.02, 0.03, 0.04, 0.055];
const GAINS = [0.1, 0.2, 0.35, 0.5, 0.7, 0.9];
const ROUNDS = 2;

/** @param phaseOffset place of the notches, as place in `FloorModel.offsets` */
export function fitMount(
  spectra: TaperSpectra,
  model: FloorModel,
  freqHz: number,
  phaseOffset: number,
): TunedResonance {
  const { steady, parts, bandHz } = spectra;
  const lnFreq = lnFreqOver(steady.freqHz, bandHz);
  const floor = model.steadyFloor(phaseOffset);
  const noise = model.steadyNoise;
  const outlierRatio = steadyRatio(spectra, OUTLIER_TAIL);
  let least = Infinity;
  let best: TunedResonance = { freqHz, dampingRatio: DAMPING_RATIOS[0], gain: GAINS[0] };
  for (const dampingRatio of DAMPING_RATIOS) {
    for (const gain of GAINS) {
      const tried = { freqHz, dampingRatio, gain };
      const lift = trustedLift(tried);
      const lifted = { floor: floor.map((a, i) => a * lift(steady.freqHz[i])), noise, lnFreq };
      const levels = fitLevels({ ...lifted, psd: steady.psd, parts, outlierRatio }, ROUNDS, null);
      const cost = costOf(steady.psd, expectedOf(lifted, levels), outlierRatio);
      if (cost < least) {
        least = cost;
        best = tried;
      }
    }
  }
  return best;
}
