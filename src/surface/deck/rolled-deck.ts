/** A pass as the deck rolled it: where the axles were and how the deck moved, metres and radians per frame. */
import type { Motion } from '../../motion/index.js';
import { deckSeries } from './deck-series.js';
import { lensPath, type NoisySeries } from './lens-path.js';
import type { Pass } from './pass.js';

/** Columns of n frames, evenly spaced in time; the moving stretch of a pass. */
export interface RolledDeck {
  readonly rateHz: number;
  /** Half-gain frequency of the high-pass of the surface: what is slower is not the floor's for sure. */
  readonly cutoffHz: number;
  readonly exposureS: number;
  readonly wheelbaseM: number;
  /** From the rear to the front axle along the travel as the clip shows it, metres: the wheelbase times its fitted phase factor. */
  readonly frontAheadM: number;
  readonly trackWidthM: number | null;
  /** Seconds from the container. */
  readonly timeS: Float64Array;
  /** Place of the rear axle, metres from its place at the first frame of the clip; rises strictly. */
  readonly rearM: Float64Array;
  /**
   * Deck angles and height, not high-passed: their slow part is drift and the operator's move, and whoever uses them takes it
   * off (`fourthDifferenceSmooth` at `cutoffHz`) or lets it float. Null where the clip or the rig does not give the series:
   * pitch on an operated head that looks ahead, heave without translation in metres, roll without a track width.
   */
  readonly pitchRad: NoisySeries | null;
  readonly heaveM: NoisySeries | null;
  readonly rollRad: NoisySeries | null;
}

/**
 * The deck along the moving stretch of a pass, from the path of the camera; the front axle a wheelbase ahead as given.
 *
 * @param pass as read from the same motion
 * @param motion not changed
 */
export function rolledDeck(pass: Pass, motion: Motion): RolledDeck {
  const { fromFrame, toFrame, placeM } = pass.travel;
  const { wheelbaseM, trackWidthM } = pass.dolly;
  const deck = deckSeries(lensPath(motion, pass.mounting, pass.travel), pass.mounting);
  return {
    rateHz: motion.rateHz,
    cutoffHz: pass.cutoffHz,
    exposureS: pass.exposureS,
    wheelbaseM,
    frontAheadM: wheelbaseM,
    trackWidthM,
    timeS: motion.timeS.slice(fromFrame, toFrame),
    rearM: placeM,
    pitchRad: deck.pitchRad,
    heaveM: deck.heaveM,
    rollRad: trackWidthM === null ? null : deck.rollRad,
  };
}

/** The same deck with its front axle a wheelbase times `phaseScale` ahead, as `fitPass` finds it. */
export function withPhase(deck: RolledDeck, phaseScale: number): RolledDeck {
  return { ...deck, frontAheadM: deck.wheelbaseM * phaseScale };
}

/** Heights at places along the run, metres, one for each place. */
export type HeightsAlong = (placesM: Float64Array) => Float64Array;

/** The deck as it would have rolled without these heights under the mean and the difference of its wheel tracks. */
export function withoutHeights(deck: RolledDeck, mean: HeightsAlong, difference: HeightsAlong): RolledDeck {
  const { rearM, frontAheadM, wheelbaseM, trackWidthM } = deck;
  const frontM = rearM.map((place) => place + frontAheadM);
  const [meanRear, meanFront] = [mean(rearM), mean(frontM)];
  const less = (series: NoisySeries | null, taken: (frame: number) => number): NoisySeries | null =>
    series && { ...series, values: series.values.map((value, t) => value - taken(t)) };
  const turned = (trackM: number): NoisySeries | null => {
    const [rear, front] = [difference(rearM), difference(frontM)];
    return less(deck.rollRad, (t) => (front[t] + rear[t]) / (2 * trackM));
  };
  return {
    ...deck,
    pitchRad: less(deck.pitchRad, (t) => (meanFront[t] - meanRear[t]) / wheelbaseM),
    heaveM: less(deck.heaveM, (t) => (meanFront[t] + meanRear[t]) / 2),
    rollRad: trackWidthM === null ? deck.rollRad : turned(trackWidthM),
  };
}

/**
 * When the rear axle is at a place, seconds from the container, between frames by even speed.
 *
 * @returns null for places beyond the pass
 */
export function rearAtS({ rearM, timeS }: RolledDeck, placeM: number): number | null {
  const last = rearM.length - 1;
  if (!(placeM >= rearM[0] && placeM <= rearM[last])) return null;
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (rearM[middle] <= placeM) low = middle;
    else high = middle;
  }
  return timeS[low] + ((placeM - rearM[low]) / (rearM[high] - rearM[low])) * (timeS[high] - timeS[low]);
}
