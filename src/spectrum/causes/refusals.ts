/** When no cause is named, and why, in sentences for a crew; seconds, hertz, metres. */
import { figure, limitFigure } from '../../run/index.js';
import { namingTexts, unnamedSourceTexts } from '../../texts/index.js';
import { causeAtHz } from './cause-words.js';
import type { Judged } from './candidates.js';
import { jointBeatHz } from './explanations.js';
import type { SightingGroup } from './group-sightings.js';
import type { NamingRules } from './naming-rules.js';
import type { KnownCauses, ObservedBand } from './types.js';

/** Teeth of a comb nearer than this many times 1 / T overlap. */
const APART_BINS = 3;
/** Below this length one name in ten was wrong in simulations, twice as many as at this length. */
const WORKING_LENGTH_S = 10;

/** Why a source is not even weighed: the pass is too short, or has too few cycles of it; null when it is. */
export function tooShort(freqHz: number, durationS: number, rules: NamingRules): string | null {
  if (durationS < rules.leastDurationS)
    return unnamedSourceTexts.passTooShort(figure(durationS), limitFigure(rules.leastDurationS));
  if (freqHz * durationS < rules.leastCycles)
    return unnamedSourceTexts.tooFewCycles(figure(freqHz * durationS), limitFigure(rules.leastCycles));
  return null;
}

/** Whether teeth of the joints' comb can be told from each other in this pass. */
export function combIsResolved(speedMps: number, spacingM: number, durationS: number): boolean {
  return jointBeatHz(speedMps, spacingM) >= APART_BINS / durationS;
}

/** What is left of the known causes once those that cannot be told are taken out, and the sentences that say so. */
export function tellable(
  known: KnownCauses,
  band: ObservedBand,
): { readonly known: KnownCauses; readonly notes: readonly string[] } {
  const notes: string[] = [];
  if (band.durationS < WORKING_LENGTH_S)
    notes.push(namingTexts.shortPass(figure(band.durationS), limitFigure(WORKING_LENGTH_S)));
  if (known.speedMps === null) {
    notes.push(namingTexts.speedUnknown);
    return { known: { ...known, wheelDiameterM: null, joint: null }, notes };
  }
  if (known.joint && !combIsResolved(known.speedMps, known.joint.spacingM, band.durationS)) {
    notes.push(namingTexts.jointsTooSlow(figure(known.joint.spacingM), figure(known.speedMps)));
    return { known: { ...known, joint: null }, notes };
  }
  return { known, notes };
}

/** Why a weighed source has no name; null when it has one. */
export function whyUnnamed(judged: Judged, group: SightingGroup, known: KnownCauses): string | null {
  if (judged.cause !== 'unknown') return null;
  if (judged.rivals) {
    const [first, second] = judged.rivals.map(({ cause, order, trueHz }) => causeAtHz(cause, order, trueHz));
    return unnamedSourceTexts.twoCauses(first, second);
  }
  const [first] = judged.candidates;
  if (first.cause !== 'unknown') {
    const percent = Math.round(100 * first.probability);
    return unnamedSourceTexts.tooUnsure(causeAtHz(first.cause, first.order, first.trueHz), percent);
  }
  if (group.sightings.every(({ peak }) => peak.mayBeRipple)) return unnamedSourceTexts.rippleOfAxles;
  return nothingListed(known)
    ? unnamedSourceTexts.nothingGiven
    : unnamedSourceTexts.nothingFits(figure(group.freqHz));
}

function nothingListed({ wheelDiameterM, joint, machinesHz, mountHz, lampsHz }: KnownCauses): boolean {
  return wheelDiameterM === null && !joint && machinesHz.length + lampsHz.length === 0 && mountHz === null;
}
