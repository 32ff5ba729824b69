/**
 * Events of a run that stand out by themselves, largest first: each is taken out of what the pass says before the next is looked for;
 * places and heights in metres.
 *
 * The floor about an event is freed, whatever its shape. With fixed shapes taken out instead, what is left of a strong joint passes
 * for 5 to 20 further events per 10 m (own measurement).
 */
import type { Release } from '../profile/surface-profile.js';
import { apartFor, bumpFamilies, jointFamily, seenShape, type SeenShape } from './bumps.js';
import { gapsWithin, releaseAt, type FreedFloor } from './release-floor.js';
import { freedTracks, independentM, placesAnswered } from './scan.js';
import { FamilyScores, scoreThreshold } from './scan-scores.js';
import { firstNodeFrom } from './shapes.js';
import type { EventScan } from './types.js';

/** Most events of one stretch. */
const MOST_EVENTS = 60;
/** Beyond the floor that is freed, no further event is looked for this near, metres. */
const BLANK_ABOUT_M = 0.002;

/** An event as it was seen, with the floor that was freed for it. */
export interface SeenEvent extends SeenShape {
  readonly placeM: number;
  /** As a score of joints would be that is as far above its threshold. */
  readonly score: number;
  readonly release: Release;
}

/**
 * Events above their thresholds, in the order of the run.
 *
 * A stretch looks at all that its nodes hold, so that what lies next to its part does not disturb it, and answers for its part.
 *
 * @param alarmsPerM how often chance may give one, over all shapes
 */
export function releaseEvents(scan: EventScan, alarmsPerM: number): SeenEvent[] {
  return scan.stretches
    .flatMap((stretch) => {
      const [from, to] = placesAnswered(scan.placesM, stretch);
      const { nodesM } = stretch.mean;
      const seenFrom = firstNodeFrom(scan.placesM, nodesM[0]);
      const seenTo = firstNodeFrom(scan.placesM, nodesM[nodesM.length - 1]);
      const places = scan.placesM.slice(Math.min(from, seenFrom), Math.max(to, seenTo));
      const [fromM, toM] = stretch.mean.stretch.answersM;
      return eventsOf(scan, stretch, places, alarmsPerM).filter(
        ({ placeM }) => placeM >= fromM && placeM < toM,
      );
    })
    .sort((a, b) => a.placeM - b.placeM);
}

/** A family at the places of a stretch, and the score from which chance does not explain it. */
interface Searched {
  readonly scores: FamilyScores;
  readonly threshold: number;
  /** Chance of a score above it at one place. */
  readonly tail: number;
}

function eventsOf(
  scan: EventScan,
  stretch: EventScan['stretches'][number],
  placesM: Float64Array,
  alarmsPerM: number,
): SeenEvent[] {
  const tracks = freedTracks(stretch);
  const families = [jointFamily(scan.blurM), ...bumpFamilies(scan.blurM)];
  const searched: Searched[] = families.map((family) => {
    const scores = new FamilyScores(family, tracks, placesM);
    const perM = family.alarmShare * alarmsPerM;
    const apartM = apartFor(family, independentM(scan.frameStepM));
    return { scores, tail: perM * apartM, threshold: scoreThreshold(scores.degreesOfFreedom, perM * apartM) };
  });
  const blank = new Uint8Array(placesM.length);
  const events: SeenEvent[] = [];
  while (events.length < MOST_EVENTS) {
    const best = bestOf(searched, blank);
    if (best === null) break;
    const { scores, tail } = best.in;
    const shape = seenShape(scores, best.place, tail);
    const placeM = sharpened(placesM, best.place, scores);
    const release = releaseAt(placeM, scores.family.lengthM, scan.blurM);
    events.push({ ...shape, placeM, release, score: scan.threshold + best.margin });
    free(tracks.mean, 'mean', release, searched);
    if (tracks.difference) free(tracks.difference, 'difference', release, searched);
    placesM.forEach((place, k) => {
      if (Math.abs(place - placeM) < release.halfWidthM + BLANK_ABOUT_M) blank[k] = 1;
    });
  }
  return events;
}

function free(
  floor: FreedFloor,
  track: 'mean' | 'difference',
  release: Release,
  searched: readonly Searched[],
): void {
  for (const gap of gapsWithin(floor.nodesM, release)) {
    const step = floor.free(gap);
    if (step !== null) for (const { scores } of searched) scores.takeIn(track, step);
  }
}

/** The place and the family farthest above its threshold; null when none is. */
function bestOf(
  searched: readonly Searched[],
  blank: Uint8Array,
): { in: Searched; place: number; margin: number } | null {
  let best: { in: Searched; place: number; margin: number } | null = null;
  for (const one of searched) {
    for (let place = 0; place < blank.length; place++) {
      if (blank[place] === 1) continue;
      const margin = one.scores.scoreAt(place) - one.threshold;
      if (margin > (best?.margin ?? 0)) best = { in: one, place, margin };
    }
  }
  return best;
}

/** The top of the parabola through a best score and those of its neighbours. */
function sharpened(placesM: Float64Array, k: number, scores: FamilyScores): number {
  if (k === 0 || k === placesM.length - 1) return placesM[k];
  const before = scores.scoreAt(k - 1);
  const behind = scores.scoreAt(k + 1);
  const bend = before - 2 * scores.scoreAt(k) + behind;
  if (!(bend < 0)) return placesM[k];
  const shift = Math.max(-0.5, Math.min(0.5, (before - behind) / (2 * bend)));
  return placesM[k] + shift * (placesM[1] - placesM[0]);
}
