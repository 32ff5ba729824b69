/**
 * How far ahead the front axle really rolls: the factor on that distance, without unit, that makes the pitch of a pass most likely as
 * one rough floor rolled over twice.
 *
 * A joint lifts the rear axle where it lifted the front axle a distance earlier. With that distance 1 % off, the second blow of a
 * strong joint does not fit the first, and what is left over passes for joints of its own. Spectra tell the notches of long passes;
 * the likelihood of the raw series tells one good joint. Own derivation.
 */
import {
  addRowProducts,
  choleskyInPlace,
  choleskyLargeInPlace,
  solveLowerRowsInPlace,
} from '../../numerics/index.js';
import { assert } from '../../run/index.js';
import type { RolledDeck } from '../deck/rolled-deck.js';
import { REFERENCE_WAVENUMBER } from '../roughness/road-profile.js';
import { PHASE_PRIOR_SD } from '../roughness/wheel-phase.js';
import { framesTogether, stretchDeck } from './stretches.js';

/** Offsets are tried up to this far; the steps are a part of a frame's way over the usual wheelbase. */
const RANGE = 0.05;
const STEP = 0.005;
/** The step is halved so often about the best one, and the top of a parabola taken at last. */
const HALVINGS = 2;
/**
 * A gain in ln likelihood below this may be chance, or places of a rough floor that are some millimetres off: the distance then
 * stands as it was. A strong row of joints told 5 mm wrong gains 12 within 2 m.
 */
const LEAST_GAIN = 9;
/** Frames (or averaged groups of frames) out of the middle of the pass that are asked: the work goes with their cube. */
const MOST_FRAMES = 400;
/** A wheel feels no more than the mean over its contact, metres. */
const CONTACT_M = 0.004;
/** Powers of time that are drift besides the slow cosines, which cannot follow a slope to the ends. */
const DRIFT_POWERS = 3;

/**
 * The factor on `deck.frontAheadM` under which the pitch is most likely, within 5 % of 1 and to about 0.1 %; exactly 1 unless the clip
 * speaks clearly for another.
 *
 * Joints count as roughness here, so the level is that of the floor as rolled, joints included; one that is twice too high only makes
 * it slower to speak. Passes of more than 400 frames answer by their middle.
 *
 * @param deck its distance as known so far
 * @param levelM3 Gd(n0) of the mean of the wheel tracks, m^3, > 0
 * @throws RangeError when the deck shows no pitch, or the level is not positive
 */
export function axleDistanceScale(deck: RolledDeck, levelM3: number): number {
  if (!(levelM3 > 0)) throw new RangeError(`levelM3 must be positive, got ${levelM3}`);
  const likelihood = pitchLikelihood(middleOf(deck), levelM3);
  const tried = new Map<number, number>();
  const gain = (offset: number): number => {
    const before = tried.get(offset);
    if (before !== undefined) return before;
    const aheadM = deck.frontAheadM * (1 + offset);
    const value = likelihood(aheadM) - ((aheadM / deck.wheelbaseM - 1) / PHASE_PRIOR_SD) ** 2 / 2;
    tried.set(offset, value);
    return value;
  };

  const reach = Math.round(RANGE / STEP);
  let best = 0;
  for (let k = -reach; k <= reach; k++) if (gain(k * STEP) > gain(best)) best = k * STEP;
  let step = STEP;
  for (let i = 0; i < HALVINGS; i++) {
    step /= 2;
    const centre = best;
    for (const offset of [centre - step, centre + step]) if (gain(offset) > gain(best)) best = offset;
  }
  if (gain(best) - gain(0) <= LEAST_GAIN) return 1;
  const [low, top, high] = [gain(best - step), gain(best), gain(best + step)];
  const bend = low - 2 * top + high;
  const aside = bend < 0 ? (0.5 * (low - high)) / bend : 0;
  return 1 + best + step * Math.max(-1, Math.min(1, aside));
}

/** The middle of a pass, or all of a short one, as a deck of its own. */
function middleOf(deck: RolledDeck): RolledDeck {
  const frameCount = deck.rearM.length;
  const count = Math.min(frameCount, MOST_FRAMES * framesTogether(deck));
  const fromFrame = Math.floor((frameCount - count) / 2);
  return stretchDeck(deck, { fromFrame, toFrame: fromFrame + count, answersM: [-Infinity, Infinity] });
}

/**
 * ln likelihood of the raw pitch against the distance of the front axle, metres, but for a constant.
 *
 * Heights d apart on a w = 2 floor differ by a variance 2 pi^2 n0^2 G |d|, so the pitch has a covariance in closed form, with |d|
 * rounded off below the way of an exposure. Drift is free: the likelihood is that of what no drift explains (Patterson and Thompson,
 * Biometrika 58, 1971).
 */
function pitchLikelihood(
  { pitchRad, rearM, wheelbaseM, rateHz, exposureS, cutoffHz }: RolledDeck,
  levelM3: number,
): (aheadM: number) => number {
  if (pitchRad === null) throw new RangeError('the deck shows no pitch');
  const { values, noiseSd } = pitchRad;
  const n = values.length;
  const blurM = CONTACT_M + ((rearM[n - 1] - rearM[0]) / (n - 1)) * rateHz * exposureS;
  const between = 2 * (Math.PI * REFERENCE_WAVENUMBER) ** 2 * levelM3;
  const scale = between / (2 * wheelbaseM ** 2);
  const apart = (distanceM: number): number => {
    const d = Math.abs(distanceM);
    return d < blurM ? d + (blurM - d) ** 3 / (3 * blurM ** 2) : d;
  };
  const drift = driftShapes(n, rateHz, cutoffHz);
  const count = drift.length / n;

  return (aheadM) => {
    const covariance = new Float64Array(n * n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j <= i; j++) {
        const d = rearM[i] - rearM[j];
        covariance[i * n + j] = scale * (apart(d + aheadM) + apart(d - aheadM) - 2 * apart(d));
      }
      covariance[i * n + i] += noiseSd ** 2;
    }
    assert(choleskyLargeInPlace(covariance, n), 'noise keeps a covariance positive definite');
    let twice = 0;
    for (let i = 0; i < n; i++) twice += 2 * Math.log(covariance[i * n + i]);

    // Drift and pitch in units of their errors; the last pivot of their products is what the drift leaves of the pitch.
    const rows = new Float64Array((count + 1) * n);
    rows.set(drift);
    rows.set(values, count * n);
    solveLowerRowsInPlace(covariance, n, rows, count + 1);
    const products = new Float64Array((count + 1) ** 2);
    addRowProducts(1, products, rows, count + 1, n);
    assert(choleskyInPlace(products, count + 1), 'no shape of the drift is a sum of others');
    for (let k = 0; k < count; k++) twice += 2 * Math.log(products[k * (count + 1) + k]);
    twice += products[count * (count + 1) + count] ** 2;
    return -twice / 2;
  };
}

/** What may be drift: cosines below the cut-off and low powers of time, a row of n numbers each. */
function driftShapes(n: number, rateHz: number, cutoffHz: number): Float64Array {
  const cosines = Math.ceil((2 * n * cutoffHz) / rateHz);
  const rows = new Float64Array((cosines + DRIFT_POWERS) * n);
  for (let i = 0; i < n; i++) {
    const place = (2 * i + 1) / n - 1;
    for (let k = 0; k < cosines; k++) rows[k * n + i] = Math.cos((Math.PI * k * (place + 1)) / 2);
    for (let power = 1; power <= DRIFT_POWERS; power++) rows[(cosines + power - 1) * n + i] = place ** power;
  }
  return rows;
}
