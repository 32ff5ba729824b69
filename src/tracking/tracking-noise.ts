/**
 * How much single tracks jitter by themselves, px per axis, from third differences in time: no motion model needed.
 *
 * White noise of standard deviation s gives third differences of variance 20 s^2 (1 + 9 + 9 + 1). Motion that the camera
 * or the scene shares is taken out by predicting each track from its neighbours in the picture (own derivation).
 */
import { median, medianAbsoluteDeviation } from '../numerics/index.js';
import type { TrackTable } from './types.js';

/** Variance of a third difference of white noise of unit variance. */
const THIRD_DIFFERENCE_VARIANCE = 20;

/** Standard deviation of normal data over its median absolute deviation. */
const NORMAL_MAD = 1.4826;

/** Tracks from which each is predicted: enough for an affine motion with a stray or two among them. */
const NEIGHBOURS = 12;

/** Frames that are looked at, spread over the clip: twenty thousand differences fix the figure to 1 %. */
const MOST_FRAMES = 40;

/** Rounds in which neighbours that do not fit are weighed down, by the square of how far they are off. */
const ROUNDS = 5;

/** How far off a neighbour must be for that, in robust standard deviations of the others. */
const MISFIT_LIMIT = 1.5;

/** A gap between frames longer than this many usual gaps is a hole that no difference may span. */
const LONGEST_GAP = 1.5;

/** Third differences that begin in one frame, as columns. */
interface Bundle {
  readonly x: number[];
  readonly y: number[];
  readonly dx: number[];
  readonly dy: number[];
}

/**
 * Tracking noise of the table, px per axis: the part of the error that is new in each frame and belongs to one track.
 * Drift of a track and errors that neighbours share, as coding makes them, are not in it.
 * @returns null when no frame begins third differences of at least 13 tracks
 */
export function trackingNoisePx(table: TrackTable): number | null {
  const usable = bundles(table).filter((bundle) => bundle.x.length > NEIGHBOURS);
  const stride = Math.max(1, usable.length / MOST_FRAMES);
  const residuals: number[] = [];
  const hood = new Neighbourhood();
  for (let at = 0; at < usable.length; at += stride) {
    const bundle = usable[Math.floor(at)];
    for (let i = 0; i < bundle.x.length; i++) {
      hood.enter(bundle, i);
      residuals.push(hood.surprise(bundle.dx), hood.surprise(bundle.dy));
    }
  }
  if (residuals.length === 0) return null;
  return (NORMAL_MAD * medianAbsoluteDeviation(residuals)) / Math.sqrt(THIRD_DIFFERENCE_VARIANCE);
}

/** Third differences of all tracks, gathered by their first frame; windows with a hole in time are left out. */
function bundles(table: TrackTable): Bundle[] {
  const { timeS, frameCount, trackStart, obsFrame, xPx, yPx } = table;
  const gaps = timeS.slice(1).map((time, i) => time - timeS[i]);
  const longest = gaps.length ? LONGEST_GAP * median(gaps) : 0;
  const isWhole = Array.from({ length: frameCount }, (_, k) =>
    [0, 1, 2].every((i) => k + i < gaps.length && gaps[k + i] <= longest),
  );
  const all: Bundle[] = Array.from({ length: frameCount }, () => ({ x: [], y: [], dx: [], dy: [] }));
  for (let track = 0; track < table.trackCount; track++) {
    for (let i = trackStart[track]; i + 3 < trackStart[track + 1]; i++) {
      const frame = obsFrame[i];
      if (obsFrame[i + 3] !== frame + 3 || !isWhole[frame]) continue;
      const bundle = all[frame];
      bundle.x.push(xPx[i]);
      bundle.y.push(yPx[i]);
      bundle.dx.push(xPx[i + 3] - 3 * xPx[i + 2] + 3 * xPx[i + 1] - xPx[i]);
      bundle.dy.push(yPx[i + 3] - 3 * yPx[i + 2] + 3 * yPx[i + 1] - yPx[i]);
    }
  }
  return all;
}

/** The tracks about one track; one object serves all tracks in turn, for there are tens of thousands of fits to make. */
class Neighbourhood {
  #self = 0;
  readonly #near = new Int32Array(NEIGHBOURS);
  readonly #distance = new Float64Array(NEIGHBOURS);
  /** Places of the neighbours as seen from the track, px. */
  readonly #u = new Float64Array(NEIGHBOURS);
  readonly #v = new Float64Array(NEIGHBOURS);
  readonly #value = new Float64Array(NEIGHBOURS);
  readonly #weight = new Float64Array(NEIGHBOURS);
  readonly #off = new Float64Array(NEIGHBOURS);
  readonly #sorted = new Float64Array(NEIGHBOURS);

  /** Finds the tracks nearest to track `self`, without itself. */
  enter({ x, y }: Bundle, self: number): void {
    const near = this.#near;
    const distance = this.#distance.fill(Infinity);
    for (let j = 0; j < x.length; j++) {
      if (j === self) continue;
      const d = (x[j] - x[self]) ** 2 + (y[j] - y[self]) ** 2;
      if (d >= distance[NEIGHBOURS - 1]) continue;
      let at = NEIGHBOURS - 1;
      for (; at > 0 && distance[at - 1] > d; at--) {
        distance[at] = distance[at - 1];
        near[at] = near[at - 1];
      }
      distance[at] = d;
      near[at] = j;
    }
    this.#self = self;
    for (let i = 0; i < NEIGHBOURS; i++) {
      this.#u[i] = x[near[i]] - x[self];
      this.#v[i] = y[near[i]] - y[self];
    }
  }

  /**
   * Third difference of the track less what its neighbours make expect, divided by how much the noise of the neighbours
   * widens it: for white noise it has the spread of a plain third difference.
   */
  surprise(values: readonly number[]): number {
    const [u, v, value, off] = [this.#u, this.#v, this.#value, this.#off];
    const weight = this.#weight.fill(1);
    for (let i = 0; i < NEIGHBOURS; i++) value[i] = values[this.#near[i]];
    let plane = weightedPlane(u, v, weight, value);
    for (let round = 1; round < ROUNDS; round++) {
      const { level, slopeU, slopeV } = plane;
      for (let i = 0; i < NEIGHBOURS; i++)
        off[i] = Math.abs(value[i] - level - slopeU * u[i] - slopeV * v[i]);
      const limit = MISFIT_LIMIT * NORMAL_MAD * this.#medianOff();
      for (let i = 0; i < NEIGHBOURS; i++) weight[i] = off[i] > limit ? (limit / off[i]) ** 2 : 1;
      plane = weightedPlane(u, v, weight, value);
    }
    return (values[this.#self] - plane.level) / Math.sqrt(1 + plane.gain);
  }

  /** So few are sorted faster by putting each in its place than by the way for long lists. */
  #medianOff(): number {
    const sorted = this.#sorted;
    for (let i = 0; i < NEIGHBOURS; i++) {
      const one = this.#off[i];
      let at = i;
      for (; at > 0 && sorted[at - 1] > one; at--) sorted[at] = sorted[at - 1];
      sorted[at] = one;
    }
    const lower = sorted[NEIGHBOURS / 2 - 1];
    return lower + 0.5 * (sorted[NEIGHBOURS / 2] - lower);
  }
}

/**
 * Least-squares plane through values at (u, v), seen at the origin.
 * @returns its level there and its slopes, and the variance of the level for values of unit variance
 */
function weightedPlane(u: Float64Array, v: Float64Array, weight: Float64Array, value: Float64Array) {
  let [s, su, sv, suu, suv, svv] = [0, 0, 0, 0, 0, 0];
  for (let i = 0; i < weight.length; i++) {
    const w = weight[i];
    s += w;
    su += w * u[i];
    sv += w * v[i];
    suu += w * u[i] * u[i];
    suv += w * u[i] * v[i];
    svv += w * v[i] * v[i];
  }
  // A little is added so that neighbours on one line still give a plane, level across it.
  const ridge = 1e-6 * (suu + svv) + 1e-12;
  suu += ridge;
  svv += ridge;
  // Cofactors of the symmetric normal matrix: its inverse but for the determinant.
  const c00 = suu * svv - suv * suv;
  const c01 = suv * sv - su * svv;
  const c02 = su * suv - suu * sv;
  const c11 = s * svv - sv * sv;
  const c12 = su * sv - s * suv;
  const c22 = s * suu - su * su;
  const determinant = s * c00 + su * c01 + sv * c02;
  let [level, slopeU, slopeV, gain] = [0, 0, 0, 0];
  for (let i = 0; i < weight.length; i++) {
    const w = weight[i] / determinant;
    const share = w * (c00 + c01 * u[i] + c02 * v[i]);
    level += share * value[i];
    slopeU += w * (c01 + c11 * u[i] + c12 * v[i]) * value[i];
    slopeV += w * (c02 + c12 * u[i] + c22 * v[i]) * value[i];
    gain += share * share;
  }
  return { level, slopeU, slopeV, gain };
}
