/**
 * Heights along the run from the deck's motion, metres: the posterior mean of a rough floor as the passband holds it, with the
 * standard deviation of its error.
 *
 * All heights are filtered as the series are, one frame's way standing for one frame: what is slower than the cut-off at the pace of
 * the dolly cannot be told from drift, so it is in neither the profile nor its error.
 */
import { solveLowerRowsInPlace } from '../../numerics/index.js';
import type { RolledDeck } from '../deck/rolled-deck.js';
import { driftPrecision } from './drift-precision.js';
import { solveFloor } from './floor-solution.js';
import { nodesAbout } from './height-rows.js';
import { framesTogether, frameStepM, stretchesOf } from './stretches.js';
import type { FloorLevels, Stretch, SurfaceProfile, TrackSum } from './types.js';

/** A place at which the floor may step: an event that was found. */
export interface Release {
  readonly placeM: number;
  readonly halfWidthM: number;
}

/** Places that are the same but for rounding, m. */
const ROUNDING_M = 1e-9;

/** Heights and the standard deviation of their error on a piece of the grid. */
interface Piece {
  /** Index of its first grid point. */
  readonly first: number;
  readonly heightM: Float64Array;
  readonly sdM: Float64Array;
}

/**
 * Heights along the run; long passes stretch by stretch, joined where neighbours overlap.
 *
 * The first and the last wheelbase were rolled over by one axle only, and the error there says so. The 95 % band is +-1.96 standard
 * deviations.
 *
 * @param deck at least 5 frames
 * @param levels of the floor between the releases
 * @returns null when neither pitch nor heave, or no level of the mean, is known
 */
export function surfaceProfile(deck: RolledDeck, levels: FloorLevels): SurfaceProfile | null {
  const { meanTrackM3, differenceM3 } = levels;
  if (meanTrackM3 === null || (deck.pitchRad === null && deck.heaveM === null)) return null;
  const stepM = framesTogether(deck) * frameStepM(deck);
  const runM = deck.rearM[deck.rearM.length - 1] + deck.frontAheadM - deck.rearM[0];
  const distanceM = Float64Array.from(
    { length: Math.floor((runM + ROUNDING_M) / stepM) + 1 },
    (_, i) => deck.rearM[0] + i * stepM,
  );
  const stretches = stretchesOf(deck);
  const along = (track: TrackSum, levelM3: number): Piece =>
    joined(
      stretches.map((stretch) => pieceOf(deck, track, levelM3, stretch, distanceM)),
      stretches,
      deck,
      distanceM,
    );
  const { heightM, sdM } = along('mean', meanTrackM3);
  const difference =
    differenceM3 === null || deck.rollRad === null || deck.trackWidthM === null
      ? null
      : along('difference', differenceM3);
  return {
    distanceM,
    heightM,
    sdM,
    sides: difference && {
      leftM: heightM.map((height, i) => height + difference.heightM[i] / 2),
      rightM: heightM.map((height, i) => height - difference.heightM[i] / 2),
      sdM: sdM.map((sd, i) => Math.hypot(sd, difference.sdM[i] / 2)),
    },
  };
}

/** Filtered heights of one stretch on the grid points between its first and last node. */
function pieceOf(
  deck: RolledDeck,
  track: TrackSum,
  levelM3: number,
  stretch: Stretch,
  distanceM: Readonly<Float64Array>,
): Piece {
  const { nodesM, factor, meanM, gapVarianceM2 } = solveFloor(deck, track, levelM3, stretch);
  const n = nodesM.length;
  // All that an axle stood on; a hair more, against rounding.
  const fromM = deck.rearM[stretch.fromFrame] - ROUNDING_M;
  const toM = deck.rearM[stretch.toFrame - 1] + deck.frontAheadM + ROUNDING_M;
  const first = distanceM.findIndex((place) => place >= fromM);
  const places = distanceM.filter((place) => place >= fromM && place <= toM);
  const count = places.length;
  const highPass = driftPrecision(count, deck.rateHz / framesTogether(deck), deck.cutoffHz);

  // Row i: weights of the nodes in the filtered height of grid point i.
  const rows = new Float64Array(count * n);
  const bridgeM2 = new Float64Array(count);
  places.forEach((place, j) => {
    const { low, share } = nodesAbout(nodesM, place);
    for (let i = 0; i < count; i++) {
      rows[i * n + low] += (1 - share) * highPass[i * count + j];
      rows[i * n + low + 1] += share * highPass[i * count + j];
    }
    bridgeM2[j] = share * (1 - share) * gapVarianceM2[low];
  });
  const heightM = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < n; k++) heightM[i] += rows[i * n + k] * meanM[k];
  }
  solveLowerRowsInPlace(factor, n, rows, count);
  const sdM = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    let variance = 0;
    for (let k = 0; k < n; k++) variance += rows[i * n + k] ** 2;
    // Between nodes the floor strays from the straight line, each gap by itself.
    for (let j = 0; j < count; j++) variance += highPass[i * count + j] ** 2 * bridgeM2[j];
    sdM[i] = Math.sqrt(variance);
  }
  return { first, heightM, sdM };
}

/** Fades linearly from each stretch to the next over what both saw under both axles, about the place at which they hand over. */
function joined(
  pieces: readonly Piece[],
  stretches: readonly Stretch[],
  { rearM, frontAheadM }: RolledDeck,
  distanceM: Readonly<Float64Array>,
): Piece {
  const fades = stretches.slice(1).map(({ answersM: [borderM, endM], fromFrame }, i) => {
    const before = stretches[i];
    const sharedM = rearM[before.toFrame - 1] - rearM[fromFrame] - frontAheadM;
    // No fade begins before the last one has ended.
    const halfM = Math.max(0, Math.min(sharedM, borderM - before.answersM[0], endM - borderM)) / 2;
    return { borderM, halfM };
  });
  const taken = (placeM: number, p: number): number => {
    if (p === 0) return 1;
    if (p > fades.length) return 0;
    const { borderM, halfM } = fades[p - 1];
    if (Math.abs(placeM - borderM) >= halfM) return placeM >= borderM ? 1 : 0;
    return (placeM - borderM + halfM) / (2 * halfM);
  };
  const heightM = new Float64Array(distanceM.length);
  const sdM = new Float64Array(distanceM.length);
  pieces.forEach((piece, p) => {
    for (let i = 0; i < piece.heightM.length; i++) {
      const at = piece.first + i;
      const weight = taken(distanceM[at], p) - taken(distanceM[at], p + 1);
      heightM[at] += weight * piece.heightM[i];
      // Both stretches saw the same frames, so their errors go together: deviations add.
      sdM[at] += weight * piece.sdM[i];
    }
  });
  return { first: 0, heightM, sdM };
}
