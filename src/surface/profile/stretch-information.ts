/** How much a stretch of a pass knows of heights that are added to its rough floor: joints, steps, bumps; 1/m^2 and 1/m. */
import { addRowProducts, mirrorLower, solveLowerRowsInPlace } from '../../numerics/index.js';
import type { RolledDeck } from '../deck/rolled-deck.js';
import { solveFloor } from './floor-solution.js';
import type { Stretch, StretchInformation, TrackSum } from './types.js';

/**
 * What a stretch says of heights added to the rough floor; see `StretchInformation`.
 *
 * Q = J - X'X with L X = J: taking J from its own smoothed self by the factor keeps shapes that the series do not see at zero
 * information, where an inverse would leave rounding.
 *
 * @param levelM3 level of the floor's w = 2 spectrum for that sum of tracks, m^3
 * @throws RangeError when the deck does not show that sum, or the level is not positive
 */
export function stretchInformation(
  deck: RolledDeck,
  track: TrackSum,
  levelM3: number,
  stretch: Stretch,
): StretchInformation {
  const { nodesM, data, pull, factor, meanM } = solveFloor(deck, track, levelM3, stretch);
  const n = nodesM.length;
  // Rows of J are its columns.
  const rows = data.slice();
  solveLowerRowsInPlace(factor, n, rows, n);
  const score = pull.map((value, i) => {
    let seen = 0;
    for (let j = 0; j < n; j++) seen += data[i * n + j] * meanM[j];
    return value - seen;
  });
  addRowProducts(-1, data, rows, n, n);
  mirrorLower(data, n);
  return { track, stretch, nodesM, information: data, score };
}
