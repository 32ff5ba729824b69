/** When no cause is named, and why, in sentences for a crew; seconds, hertz, metres. */
import { figure, limitFigure } from '../../run/index.js';
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
    return `The pass lasts ${figure(durationS)} s: below ${limitFigure(rules.leastDurationS)} s no cause is named.`;
  if (freqHz * durationS < rules.leastCycles)
    return `The pass holds ${figure(freqHz * durationS)} cycles of it: below ${limitFigure(rules.leastCycles)} no cause is named.`;
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
    notes.push(
      `Short pass (${figure(band.durationS)} s): about 1 name in 10 is wrong. Film ${limitFigure(WORKING_LENGTH_S)} s or more.`,
    );
  if (known.speedMps === null) {
    notes.push(
      'The speed is not known: wheels and joints cannot be named, only machines, the mount and lamps. Give the speed or the travel.',
    );
    return { known: { ...known, wheelDiameterM: null, joint: null }, notes };
  }
  if (known.joint && !combIsResolved(known.speedMps, known.joint.spacingM, band.durationS)) {
    notes.push(
      `Joints every ${figure(known.joint.spacingM)} m beat too slowly at ${figure(known.speedMps)} m/s to stand apart in this pass: see the list of joints of the floor.`,
    );
    return { known: { ...known, joint: null }, notes };
  }
  return { known, notes };
}

/** Why a weighed source has no name; null when it has one. */
export function whyUnnamed(judged: Judged, group: SightingGroup, known: KnownCauses): string | null {
  if (judged.cause !== 'unknown') return null;
  if (judged.rivals) {
    const [first, second] = judged.rivals.map(({ cause, order, trueHz }) => causeAtHz(cause, order, trueHz));
    return `Two causes stand at the same place: ${first} and ${second}. A pass at 1.2 times the speed tells them apart.`;
  }
  const [first] = judged.candidates;
  if (first.cause !== 'unknown') {
    const percent = Math.round(100 * first.probability);
    return `Most likely ${causeAtHz(first.cause, first.order, first.trueHz)}, at ${percent} % too unsure to name.`;
  }
  if (group.sightings.every(({ peak }) => peak.mayBeRipple))
    return 'It may be a ripple that the two axles print on the spectrum of any floor.';
  return nothingListed(known)
    ? 'Nothing was given that it could be: give wheel diameter, joint spacing or frequencies of machines.'
    : `Nothing that was given shakes at ${figure(group.freqHz)} Hz.`;
}

function nothingListed({ wheelDiameterM, joint, machinesHz, mountHz, lampsHz }: KnownCauses): boolean {
  return wheelDiameterM === null && !joint && machinesHz.length + lampsHz.length === 0 && mountHz === null;
}
