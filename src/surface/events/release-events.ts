/**
 * Events of a run that stand out by themselves, largest first: each is taken out of what the pass says before the next is looked for;
 * places and heights in metres.
 *
 * The floor about an event is freed, whatever its shape. With fixed shapes taken out instead, what is left of a strong joint passes
 * for 5 to 20 further events per 10 m (own measurement).
 */
import { chiSquareQuantile, median } from '../../numerics/index.js';
import type { Release } from '../profile/surface-profile.js';
import { apartFor, bumpFamilies, JOINT_SHAPES, jointFamily, seenShape } from './bumps.js';
import { gapsWithin, releaseAt } from './release-floor.js';
import { freedTracks, independentM, placesAnswered } from './scan.js';
import { FamilyScores, scoreThreshold, type FreedTracks } from './scan-scores.js';
import { firstNodeFrom } from './shapes.js';
import type { EventScan, FoundEvent } from './types.js';

/** Most events of one stretch. */
const MOST_EVENTS = 60;
/** Beyond the floor that is freed, no further event is looked for this near, metres. */
const BLANK_ABOUT_M = 0.002;

/** Scores between events over what a floor of the assumed level makes of them in the middle; far below 1 when it is not so rough. */
export interface QuietShares {
  readonly mean: number;
  /** 1 without deck roll. */
  readonly difference: number;
}

/** What a run holds by its own scores. */
export interface ReleasedEvents {
  /** In the order of the run. */
  readonly events: readonly SeenEvent[];
  readonly quiet: QuietShares;
}

/** An event as it was seen, with the floor that was freed for it. */
export interface SeenEvent extends FoundEvent {
  /** Place of the one shape by itself; `placeM` is where it is seen best with whatever else a joint may hold. */
  readonly shapeM: number;
  readonly release: Release;
}

/**
 * Events above their thresholds.
 *
 * A stretch looks at all that its nodes hold, so that what lies next to its part does not disturb it, and answers for its part.
 *
 * @param alarmsPerM how often chance may give one, over all shapes
 */
export function releaseEvents(scan: EventScan, alarmsPerM: number): ReleasedEvents {
  const events: SeenEvent[] = [];
  const quiet: { mean: number[]; difference: number[] } = { mean: [], difference: [] };
  for (const stretch of scan.stretches) {
    const [from, to] = placesAnswered(scan.placesM, stretch);
    const { nodesM } = stretch.mean;
    const seenFrom = Math.min(from, firstNodeFrom(scan.placesM, nodesM[0]));
    const seenTo = Math.max(to, firstNodeFrom(scan.placesM, nodesM[nodesM.length - 1]));
    const search = new StretchSearch(scan, stretch, scan.placesM.slice(seenFrom, seenTo), alarmsPerM);
    const [fromM, toM] = stretch.mean.stretch.answersM;
    events.push(...search.events().filter(({ placeM }) => placeM >= fromM && placeM < toM));
    search.addQuiet(quiet, from - seenFrom, to - seenFrom);
  }
  const share = (scores: readonly number[], degreesOfFreedom: number): number =>
    scores.length === 0 ? 1 : median(Float64Array.from(scores)) / chiSquareQuantile(0.5, degreesOfFreedom);
  return {
    events: events.sort((a, b) => a.placeM - b.placeM),
    quiet: { mean: share(quiet.mean, JOINT_SHAPES), difference: share(quiet.difference, 1) },
  };
}

/** A family at the places of a stretch, and the score from which chance does not explain it. */
interface Searched {
  readonly scores: FamilyScores;
  readonly threshold: number;
  /** Chance of a score above it at one place. */
  readonly tail: number;
}

interface Best {
  readonly in: Searched;
  readonly place: number;
  readonly margin: number;
}

/** One stretch, its floor freed about more and more events. */
class StretchSearch {
  private readonly tracks: FreedTracks;
  private readonly searched: readonly Searched[];
  private readonly blank: Uint8Array;

  constructor(
    private readonly scan: EventScan,
    stretch: EventScan['stretches'][number],
    private readonly placesM: Float64Array,
    alarmsPerM: number,
  ) {
    this.tracks = freedTracks(stretch);
    this.blank = new Uint8Array(placesM.length);
    this.searched = [jointFamily(scan.blurM), ...bumpFamilies(scan.blurM)].map((family) => {
      const scores = new FamilyScores(family, this.tracks, placesM);
      const apartM = apartFor(family, independentM(scan.frameStepM));
      const tail = family.alarmShare * alarmsPerM * apartM;
      return { scores, tail, threshold: scoreThreshold(scores.degreesOfFreedom, tail) };
    });
  }

  /** Frees one event after the other, largest first. */
  events(): SeenEvent[] {
    const { scan, placesM, blank } = this;
    const events: SeenEvent[] = [];
    for (let best = this.best(); best !== null && events.length < MOST_EVENTS; best = this.best()) {
      const { scores, tail } = best.in;
      const shape = seenShape(scores, best.place, tail);
      const placeM = sharpened(placesM, best.place, (place) => scores.scoreAt(place));
      const alone = scoreOf(shape, scores);
      const shapeM = sharpened(placesM, bestNear(best.place, placesM.length - 1, alone), alone);
      const release = releaseAt(placeM, scores.family.lengthM, scan.blurM);
      events.push({ ...shape, placeM, shapeM, release, score: scan.threshold + best.margin });
      this.free(release);
      placesM.forEach((place, k) => {
        if (Math.abs(place - placeM) < release.halfWidthM + BLANK_ABOUT_M) blank[k] = 1;
      });
    }
    return events;
  }

  /** Adds the scores of joints at places from one index to another where nothing was freed. */
  addQuiet(quiet: { mean: number[]; difference: number[] }, from: number, to: number): void {
    const { scores } = this.searched[0];
    for (let k = from; k < to; k++) {
      if (this.blank[k] === 1) continue;
      const difference = scores.differenceScoreAt(k);
      quiet.mean.push(scores.scoreAt(k) - difference);
      if (this.tracks.difference) quiet.difference.push(difference);
    }
  }

  private free(release: Release): void {
    for (const track of ['mean', 'difference'] as const) {
      const floor = this.tracks[track];
      if (floor === null) continue;
      for (const gap of gapsWithin(floor.nodesM, release)) {
        const step = floor.free(gap);
        if (step !== null) for (const { scores } of this.searched) scores.takeIn(track, step);
      }
    }
  }

  /** The place and the family farthest above its threshold; null when none is. */
  private best(): Best | null {
    let best: Best | null = null;
    for (const one of this.searched) {
      for (let place = 0; place < this.blank.length; place++) {
        if (this.blank[place] === 1) continue;
        const margin = one.scores.scoreAt(place) - one.threshold;
        if (margin > (best?.margin ?? 0)) best = { in: one, place, margin };
      }
    }
    return best;
  }
}

/** Score of the shape that was seen, by itself: beside a dip a step of a joint may stand anywhere in its reach. */
function scoreOf(
  { shape, lengthM }: Pick<FoundEvent, 'shape' | 'lengthM'>,
  scores: FamilyScores,
): (place: number) => number {
  if (lengthM === scores.family.lengthM && shape !== 'step') return (place) => scores.scoreAt(place);
  return shape === 'step'
    ? (place) => scores.aloneAt(place, 0, true)
    : (place) => scores.aloneAt(place, 1, false);
}

/** The place among this one and its neighbours with the best score. */
function bestNear(near: number, last: number, score: (place: number) => number): number {
  let best = near;
  for (const place of [near - 1, near + 1])
    if (place >= 0 && place <= last && score(place) > score(best)) best = place;
  return best;
}

/** The top of the parabola through a best score and those of its neighbours, metres. */
function sharpened(placesM: Float64Array, k: number, score: (place: number) => number): number {
  if (k === 0 || k === placesM.length - 1) return placesM[k];
  const before = score(k - 1);
  const behind = score(k + 1);
  const bend = before - 2 * score(k) + behind;
  if (!(bend < 0)) return placesM[k];
  const shift = Math.max(-0.5, Math.min(0.5, (before - behind) / (2 * bend)));
  return placesM[k] + shift * (placesM[1] - placesM[0]);
}
