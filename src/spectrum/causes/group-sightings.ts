/** Peaks of different axes at the same frequency become one source; hertz, seconds. */
import { figure } from '../../run/index.js';
import { namingTexts } from '../../texts/index.js';
import type { Sighting } from './types.js';

/** Peaks that are one source, at most one of each axis. */
export interface SightingGroup {
  /** In the order given. */
  readonly sightings: readonly Sighting[];
  /** Mean of the peaks by inverse variance, and its standard deviation. */
  readonly freqHz: number;
  readonly freqSdHz: number;
  /** Probability that it is a resonance and no line: the evidence of all axes together. */
  readonly broadProbability: number;
  /** Probability of a constant wavelength, of all axes together; null where no axis can tell. */
  readonly followsTravel: number | null;
  /** How the shape was decided where axes disagree, as a plain sentence; null where they agree. */
  readonly shapeNote: string | null;
}

/** Peaks further apart than this many joint standard deviations are two sources. */
const JOINT_SDS = 2.5;
/** One axis alone never decides beyond this, its model of the shape may be wrong. */
const SUREST = 0.98;

/**
 * Joins the nearest peaks first, by their distance over its standard deviation.
 *
 * A source never holds two peaks of one axis nor peaks further apart than 1 / `durationS`, what the pass resolves.
 *
 * @returns sources by rising frequency; empty without peaks
 */
export function groupSightings(sightings: readonly Sighting[], durationS: number): SightingGroup[] {
  let groups = sightings.map((sighting) => pooled([sighting]));
  for (;;) {
    const nearest = nearestPair(groups, durationS);
    if (!nearest) break;
    const [a, b] = nearest;
    groups = [
      ...groups.filter((group) => group !== a && group !== b),
      pooled([...a.sightings, ...b.sightings]),
    ];
  }
  const place = new Map(sightings.map((sighting, i) => [sighting, i]));
  const inOrder = (group: SightingGroup): SightingGroup => ({
    ...group,
    sightings: [...group.sightings].sort((a, b) => place.get(a)! - place.get(b)!),
  });
  return groups.map(inOrder).sort((a, b) => a.freqHz - b.freqHz);
}

function nearestPair(
  groups: readonly SightingGroup[],
  durationS: number,
): [SightingGroup, SightingGroup] | null {
  let best: [SightingGroup, SightingGroup] | null = null;
  let least = JOINT_SDS;
  groups.forEach((a, i) => {
    for (const b of groups.slice(i + 1)) {
      const apart = Math.abs(a.freqHz - b.freqHz) / Math.hypot(a.freqSdHz, b.freqSdHz);
      if (apart >= least || !mayJoin(a, b, durationS)) continue;
      least = apart;
      best = [a, b];
    }
  });
  return best;
}

function mayJoin(a: SightingGroup, b: SightingGroup, durationS: number): boolean {
  const all = [...a.sightings, ...b.sightings];
  const freqs = all.map(({ peak }) => peak.freqHz);
  return (
    new Set(all.map(({ axis }) => axis)).size === all.length &&
    Math.max(...freqs) - Math.min(...freqs) <= 1 / durationS
  );
}

function pooled(sightings: readonly Sighting[]): SightingGroup {
  let weight = 0;
  let sum = 0;
  for (const { peak } of sightings) {
    weight += peak.freqSdHz ** -2;
    sum += peak.freqHz * peak.freqSdHz ** -2;
  }
  const travel = sightings.flatMap(({ peak }) => (peak.followsTravel === null ? [] : [peak.followsTravel]));
  const broadProbability = together(sightings.map(({ peak }) => peak.broadProbability));
  return {
    sightings,
    freqHz: sum / weight,
    freqSdHz: 1 / Math.sqrt(weight),
    broadProbability,
    followsTravel: travel.length > 0 ? together(travel) : null,
    shapeNote: shapeNote(sightings, sum / weight, broadProbability),
  };
}

/** Odds of independent looks at the same question, multiplied. */
function together(probabilities: readonly number[]): number {
  const logOdds = probabilities.reduce((all, p) => {
    const kept = Math.min(Math.max(p, 1 - SUREST), SUREST);
    return all + Math.log(kept / (1 - kept));
  }, 0);
  return 1 / (1 + Math.exp(-logOdds));
}

function shapeNote(sightings: readonly Sighting[], freqHz: number, broad: number): string | null {
  const axesThat = (isBroad: boolean): string =>
    sightings
      .filter(({ peak }) => peak.broadProbability > 0.5 === isBroad)
      .map(({ axis }) => axis)
      .join(namingTexts.and);
  const [resonance, line] = [axesThat(true), axesThat(false)];
  if (!resonance || !line) return null;
  const what = broad > 0.5 ? 'resonance' : 'line';
  const percent = Math.round(100 * Math.max(broad, 1 - broad));
  return namingTexts.axesDisagree(figure(freqHz), resonance, line, what, percent);
}
