/** Counts how names and probabilities compare with the truth of made-up passes. */
import { nameCauses } from '../../../src/spectrum/causes/name-causes.js';
import { NAMING_RULES, type NamingRules } from '../../../src/spectrum/causes/naming-rules.js';
import type { MadeUpPass } from './made-up-peaks.js';

export interface Tally {
  /** Peaks of a cause, those with the right name or rightly none, with a wrong one, and claims at P in ranges with those right. */
  readonly peaks: number;
  readonly right: number;
  readonly wrong: number;
  /** Names given to peaks that nothing made, of so many. */
  readonly falseNames: number;
  readonly falsePeaks: number;
  readonly claims: Readonly<Record<'0.6-0.8' | '0.8-0.95', { made: number; right: number }>>;
  /** Absolute errors of the suggested speed, as shares. */
  readonly speedErrors: Float64Array;
  /** The same over the standard deviation that was stated. */
  readonly speedScores: Float64Array;
  /** Speeds suggested in passes without anything that rolls, and such passes. */
  readonly idleSpeeds: number;
  readonly idlePasses: number;
}

/** Names every pass by `rules` and adds up. */
export function tally(passes: readonly MadeUpPass[], rules: NamingRules = NAMING_RULES): Tally {
  const claims = { '0.6-0.8': { made: 0, right: 0 }, '0.8-0.95': { made: 0, right: 0 } };
  const counts = { peaks: 0, right: 0, wrong: 0, falseNames: 0, falsePeaks: 0, idleSpeeds: 0, idlePasses: 0 };
  const errors: number[] = [];
  const scores: number[] = [];
  for (const { sightings, known, band, truth, speedError } of passes) {
    const { sources, speed } = nameCauses(sightings, known, band, rules);
    const rolls = truth.some((cause) => cause === 'wheel' || cause === 'joint');
    if (!rolls) {
      counts.idlePasses++;
      if (speed) counts.idleSpeeds++;
    } else if (speed) {
      const off = speed.speedMps / known.speedMps! / (1 + speedError) - 1;
      errors.push(Math.abs(off));
      scores.push(Math.abs(off) / (speed.sdMps / known.speedMps!));
    }
    for (const source of sources) {
      const cause = truth[sightings.indexOf(source.sightings[0])];
      if (cause === 'none') {
        counts.falsePeaks++;
        if (source.cause !== 'unknown') counts.falseNames++;
        continue;
      }
      counts.peaks++;
      if (source.cause === cause) counts.right++;
      else if (source.cause !== 'unknown') counts.wrong++;
      const [first] = source.candidates;
      if (!first) continue;
      const range = first.probability >= 0.8 ? '0.8-0.95' : first.probability >= 0.6 ? '0.6-0.8' : null;
      if (!range || first.probability >= rules.probabilityCap) continue;
      claims[range].made++;
      if (first.cause === cause) claims[range].right++;
    }
  }
  return {
    ...counts,
    claims,
    speedErrors: Float64Array.from(errors),
    speedScores: Float64Array.from(scores),
  };
}
