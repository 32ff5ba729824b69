/** The shake of a lane by place: px RMS of the delivery within a window that slides along it, noise taken off. */
import { mean, median } from '../../numerics/index.js';
import type { LanePass } from './lane-pass.js';

/** One lane along its length. */
export interface LaneCurve {
  /** Middle of each window. */
  readonly atM: number[];
  /** Mean square over the passes that were there, px^2 of the delivery. */
  readonly squares: number[];
  /** The least that any of these passes shows there, RMS over its own middle. */
  readonly leastTimes: number[];
  /** Ends of what was rolled over. */
  readonly fromM: number;
  readonly toM: number;
}

/** Least window, in metres and in seconds of travel: half a metre, and long enough for several swings of any shake that counts. */
const WINDOW_M = 0.5;
const WINDOW_S = 1;
/** A short lane still has this many windows. */
const LEAST_WINDOWS = 4;
/** Windows overlap: this many steps in each. */
const STEPS = 5;

/** The window for all lanes of a floor: the larger of half a metre and a second of travel, but a quarter of the shortest pass at most. */
export function windowOf(passes: readonly LanePass[], metric: boolean): number {
  const travels = passes.map(({ placeM }) => Math.abs(placeM[placeM.length - 1] - placeM[0]));
  const perS = median(passes.map(({ durationS }, i) => travels[i] / durationS));
  return Math.min(Math.max(metric ? WINDOW_M : 0, WINDOW_S * perS), Math.min(...travels) / LEAST_WINDOWS);
}

/**
 * The curve of one lane.
 *
 * @param lnExcess ln RMS to take off each pass, see `evenPasses`
 * @returns windows that lie within at least one pass as a whole; no place without such a window
 */
export function laneCurve(
  passes: readonly LanePass[],
  lnExcess: readonly number[],
  windowM: number,
): LaneCurve {
  const ends = passes.map(({ placeM }) => [
    Math.min(placeM[0], placeM[placeM.length - 1]),
    Math.max(placeM[0], placeM[placeM.length - 1]),
  ]);
  const fromM = Math.min(...ends.map(([from]) => from));
  const toM = Math.max(...ends.map(([, to]) => to));
  const count = Math.max(0, Math.floor((STEPS * (toM - fromM - windowM)) / windowM + 1e-9)) + 1;
  const places = Array.from({ length: count }, (_, k) => fromM + windowM / 2 + (k * windowM) / STEPS);
  const curves = passes.map((pass, i) => {
    const [from, to] = ends[i];
    const off = Math.exp(-2 * lnExcess[i]);
    const slack = windowM / (2 * STEPS);
    const squares = places.map((at) => {
      if (at - windowM / 2 < from - slack || at + windowM / 2 > to + slack) return null;
      return off * withoutNoise(squareAbout(pass, at, windowM / 2), pass.noise);
    });
    const seen = squares.filter((square) => square !== null);
    return { squares, middle: seen.length > 0 ? median(seen) : 0 };
  });
  const curve: LaneCurve = { atM: [], squares: [], leastTimes: [], fromM, toM };
  places.forEach((at, k) => {
    const there = curves.flatMap(({ squares, middle }) =>
      squares[k] === null ? [] : [{ square: squares[k], middle }],
    );
    if (there.length === 0) return;
    curve.atM.push(at);
    curve.squares.push(mean(there.map(({ square }) => square)));
    curve.leastTimes.push(
      Math.min(...there.map(({ square, middle }) => (middle > 0 ? Math.sqrt(square / middle) : 0))),
    );
  });
  return curve;
}

/** Mean over the frames in which the axle was within `reach` of a place; 0 where the dolly jumped over it. */
function squareAbout({ placeM, squares }: LanePass, at: number, reach: number): number {
  let sum = 0;
  let count = 0;
  for (let t = 0; t < placeM.length; t++) {
    if (Math.abs(placeM[t] - at) > reach) continue;
    sum += squares[t];
    count++;
  }
  return count > 0 ? sum / count : 0;
}

/** A window can be quieter than the noise on average; it then counts as a tenth of it, never as nothing. */
function withoutNoise(square: number, noise: number): number {
  return Math.max(square - noise, noise / 10);
}
