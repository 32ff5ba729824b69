/** Made-up passes as their deck rolled, with the heights that their axles took, metres. */
import { fourthDifferenceSmooth, rms } from '../../../src/numerics/index.js';
import { readPass } from '../../../src/surface/deck/pass.js';
import { rolledDeck, type RolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import type { FloorLevels } from '../../../src/surface/profile/types.js';
import { axlePath, madeUpFloor, SPACING_M } from '../support/made-up-floor.js';
import { madeUpPass, madeUpRig, WHEELBASE_M, type PassOptions } from '../support/made-up-pass.js';

/** A pass and what the floor under it is like. */
export interface DeckOnFloor {
  readonly deck: RolledDeck;
  /** Levels of the floor's mean track and difference. */
  readonly levels: FloorLevels;
  /** Mean of the two axle paths at places of the deck, m. */
  readonly trueMean: (placesM: Readonly<Float64Array>) => Float64Array;
  /** Left minus right axle path, m. */
  readonly trueDifference: (placesM: Readonly<Float64Array>) => Float64Array;
}

/** Cut-off of the deck's series, Hz. */
const CUTOFF_HZ = 0.8;

/** Where the rear axle of a made-up pass stands on its floor at the first frame, m. */
const START_M = 0.15;

/** Tracks are alike for waves much longer than 1 / this, cycles/m. */
const COHERENCE = 3;

/** Levels of mean and difference of two such tracks at the wave on which a pass bears most. */
function levelsOf(gdM3: number, speedMps: number, fps: number): FloorLevels {
  const alike = Math.exp((-0.7 * Math.sqrt(fps)) / speedMps / COHERENCE);
  return { meanTrackM3: ((1 + alike) / 2) * gdM3, differenceM3: 2 * (1 - alike) * gdM3 };
}

/** A pass over a made-up floor, noise as stated, as its deck rolled. */
export function deckOnFloor(options: PassOptions): DeckOnFloor {
  const { seed, gdM3, waviness = 2, speedMps = 0.2, durationS = 20, fps = 25 } = options;
  const { wheelRadiusM = 0.04, patchM = 0.004 } = options;
  const motion = madeUpPass(options);
  const read = rolledDeck(readPass(motion, madeUpRig(speedMps)).pass!, motion);
  // Exact places, and one cut-off for all, so that what is measured here is the profile and not the pace.
  const deck = { ...read, cutoffHz: CUTOFF_HZ, rearM: read.timeS.map((t) => speedMps * t) };
  const floor = madeUpFloor(seed, speedMps * durationS + WHEELBASE_M + 0.6, gdM3, waviness);
  const left = axlePath(floor.left, wheelRadiusM, patchM);
  const right = axlePath(floor.right, wheelRadiusM, patchM);
  const at = (path: Float64Array, placeM: number): number => {
    const place = (placeM + START_M) / SPACING_M;
    const i = Math.floor(place);
    return path[i] + (path[i + 1] - path[i]) * (place - i);
  };
  return {
    deck,
    levels: levelsOf(gdM3, speedMps, fps),
    trueMean: (placesM) => placesM.map((place) => (at(left, place) + at(right, place)) / 2),
    trueDifference: (placesM) => placesM.map((place) => at(left, place) - at(right, place)),
  };
}

/** A series less its slow part, as the deck's series are filtered. */
export function highPassed(series: Float64Array, { rateHz, cutoffHz }: RolledDeck): Float64Array {
  const slow = fourthDifferenceSmooth(series, rateHz, cutoffHz);
  return series.map((value, i) => value - slow[i]);
}

/** How well an estimate meets the truth, where the rear axle rolled, half a second at both ends left out. */
export function agreement(
  deck: RolledDeck,
  estimateM: Float64Array,
  truthM: Float64Array,
): { readonly errorM: number; readonly trueM: number; readonly correlation: number } {
  const trim = Math.round(deck.rateHz / 2);
  const cut = (series: Float64Array): Float64Array => series.slice(trim, deck.rearM.length - trim);
  const estimate = cut(estimateM);
  const truth = cut(truthM);
  const product = estimate.reduce((sum, value, i) => sum + value * truth[i], 0) / truth.length;
  return {
    errorM: rms(estimate.map((value, i) => value - truth[i])),
    trueM: rms(truth),
    correlation: product / rms(estimate) / rms(truth),
  };
}
