/** A made-up pass fitted and graded as it rolled, without a search for joints and bumps, which takes its time. */
import type { Motion } from '../../../src/motion/index.js';
import type { Rig } from '../../../src/run/index.js';
import { readPass } from '../../../src/surface/deck/pass.js';
import { rolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { fitPass } from '../../../src/surface/roughness/pass-fit.js';
import { gradeRoughness, type RoughnessAnswer } from '../../../src/surface/roughness/roughness-grade.js';

/** The roughness of a pass over a floor without joints; coded frame by frame, so that its noise is trusted to 30 %. */
export function gradeAsRolled(motion: Motion, rig: Rig): RoughnessAnswer {
  const { pass, refusal } = readPass(motion, rig);
  if (pass === null) return { grade: null, reason: refusal, warnings: [] };
  const fitted = fitPass(rolledDeck(pass, motion));
  return gradeRoughness({
    between: fitted,
    asRolled: fitted,
    coveredShare: 0,
    levelled: pass.mounting.levellingHeightM !== null,
    band: {
      speedMps: pass.travel.speedMps,
      rateHz: motion.rateHz,
      exposureS: pass.exposureS,
      cutoffHz: pass.cutoffHz,
    },
    noiseTrust: 0.3,
  });
}
