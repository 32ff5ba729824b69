/** How names compare with the truth of simulated passes in which several causes shake at once. */
import { nameCauses } from '../../../src/spectrum/causes/name-causes.js';
import { NAMING_RULES, type NamingRules } from '../../../src/spectrum/causes/naming-rules.js';
import type { CauseName, ShakeSource, Sighting } from '../../../src/spectrum/causes/types.js';
import { findPeaks } from '../../../src/spectrum/peaks/find-peaks.js';
import { lineAmplitudes } from './line-strength.js';
import { mixedPass, trueCauseAt, type MixedPass, type TrueCause } from './mixed-pass.js';
import type { SimulatedAxis } from './simulated-pass.js';

/** A pass that was searched on one axis. */
export interface NamingTrial extends MixedPass {
  readonly sightings: readonly Sighting[];
  readonly speedMps: number;
}

/** Passes of each speed, searched. */
export function namingTrials(
  axis: SimulatedAxis,
  speedsMps: readonly number[],
  durationS: number,
  passes: number,
): NamingTrial[] {
  return speedsMps.flatMap((speedMps) => {
    const amplitude = lineAmplitudes(axis, { speedMps, durationS });
    return Array.from({ length: passes }, (_, seed) => {
      const mixed = mixedPass(seed, speedMps, durationS, amplitude, axis);
      const { peaks } = findPeaks(mixed.pass.searched(axis));
      return { ...mixed, speedMps, sightings: peaks.map((peak): Sighting => ({ axis, peak })) };
    });
  });
}

/** Peaks by what stood there and what they were called. */
export type NamingTable = Readonly<Record<CauseName | 'none', Record<CauseName, number>>>;

export interface NamingFigures {
  readonly table: NamingTable;
  /** Causes of which no peak was seen; a comb of joints only when none of its teeth was. */
  readonly unseen: Readonly<Record<CauseName, number>>;
  /** Peaks of a cause; those with its name, or rightly with none; those with another name. */
  readonly peaks: number;
  readonly right: number;
  readonly wrong: number;
  /** Names by their probability, and how many of them were right. */
  readonly claims: Readonly<Record<'below 0.8' | '0.8-0.95' | '0.95', { made: number; right: number }>>;
  /** Absolute errors of the suggested speed from 0.2 m/s on, as shares, where wheels or joints are in the pass. */
  readonly speedErrors: readonly number[];
}

/** Names all peaks of `trials` and adds up; peaks where two causes stand at one place do not count. */
export function namingFigures(
  trials: readonly NamingTrial[],
  rules: NamingRules = NAMING_RULES,
): NamingFigures {
  const row = (): Record<CauseName, number> => ({
    wheel: 0,
    joint: 0,
    machine: 0,
    mount: 0,
    lamp: 0,
    unknown: 0,
  });
  const table = {
    wheel: row(),
    joint: row(),
    machine: row(),
    mount: row(),
    lamp: row(),
    unknown: row(),
    none: row(),
  };
  const unseen = row();
  const claims = {
    'below 0.8': { made: 0, right: 0 },
    '0.8-0.95': { made: 0, right: 0 },
    '0.95': { made: 0, right: 0 },
  };
  const sums = { peaks: 0, right: 0, wrong: 0 };
  const speedErrors: number[] = [];
  for (const { sightings, known, band, truth, speedMps } of trials) {
    const { sources, speed } = nameCauses(sightings, known, band, rules);
    const rolls = truth.some(({ cause }) => cause === 'wheel' || cause === 'joint');
    if (speed !== null && speedMps >= 0.2 && rolls) speedErrors.push(Math.abs(speed.speedMps / speedMps - 1));
    for (const cause of missed(truth, sources, band.durationS)) unseen[cause]++;
    for (const source of sources) {
      const cause = trueCauseAt(source, truth, band.durationS);
      if (cause === null) continue;
      table[cause][source.cause]++;
      if (cause === 'none') continue;
      const right = source.cause === cause;
      sums.peaks++;
      if (right) sums.right++;
      else if (source.cause !== 'unknown') sums.wrong++;
      const p = source.probability;
      if (p === null) continue;
      const claim = claims[p >= rules.probabilityCap ? '0.95' : p >= 0.8 ? '0.8-0.95' : 'below 0.8'];
      claim.made++;
      if (right) claim.right++;
    }
  }
  return { table, unseen, ...sums, claims, speedErrors };
}

function missed(
  truth: readonly TrueCause[],
  sources: readonly ShakeSource[],
  durationS: number,
): readonly CauseName[] {
  const isSeen = (one: TrueCause): boolean =>
    sources.some((source) => trueCauseAt(source, [one], durationS) === one.cause);
  const lost = truth.filter((one) => one.cause !== 'joint' && !isSeen(one)).map(({ cause }) => cause);
  const teeth = truth.filter(({ cause }) => cause === 'joint');
  return teeth.length > 0 && !teeth.some(isSeen) ? [...lost, 'joint'] : lost;
}
