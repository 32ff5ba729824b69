/**
 * Whether camera and deck move as one: on a rigid deck the pitch carries the lens to and fro at its height, so the slope of the way
 * ahead over the pitch, in metres per radian, is minus that height.
 */
import { mean } from '../../numerics/index.js';
import type { Shake } from './shake.js';

/** Height at which the lens is carried, metres, with the standard deviation of its error. */
export interface CarriedHeight {
  readonly heightM: number;
  readonly sdM: number;
}

/** The pitch must rise so far above its noise for a slope; noise of the way ahead only widens it. */
const CLEAR_OF_NOISE = 3;
/** Parts of the pass whose scatter gives the sd: whatever colours the residual, it counts. */
const PARTS = 8;
/** Heights are measured to this share; steering and pushing add as much. */
const TOLERANCE = 0.15;

/**
 * Regresses the way ahead on the pitch; the noise of the pitch, which would flatten the slope, is taken off. The sd comes from the
 * slopes with each eighth of the pass left out in turn (jackknife).
 *
 * @returns null when the pitch hardly rises above its noise
 */
export function carriedHeight(forward: Shake, pitch: Shake): CarriedHeight | null {
  if (pitch.rms < CLEAR_OF_NOISE * pitch.noise) return null;
  const n = pitch.values.length;
  const parts = Array.from({ length: PARTS }, (_, k) => {
    const sums = { along: 0, square: 0 };
    const to = Math.floor(((k + 1) * n) / PARTS);
    for (let i = Math.floor((k * n) / PARTS); i < to; i++) {
      sums.along += forward.values[i] * pitch.values[i];
      sums.square += pitch.values[i] ** 2 - pitch.noise ** 2;
    }
    return sums;
  });
  const slopeWithout = (left: number): number => {
    let along = 0;
    let square = 0;
    parts.forEach((part, k) => {
      if (k === left) return;
      along += part.along;
      square += part.square;
    });
    return along / square;
  };
  const slopes = Float64Array.from({ length: PARTS }, (_, k) => slopeWithout(k));
  const middle = mean(slopes);
  const scatter = slopes.reduce((sum, slope) => sum + (slope - middle) ** 2, 0);
  return { heightM: -slopeWithout(-1), sdM: Math.sqrt(((PARTS - 1) / PARTS) * scatter) };
}

/** Whether a height that was found agrees with the one given: within 15 % and two standard deviations. */
export function agrees({ heightM, sdM }: CarriedHeight, givenM: number): boolean {
  return Math.abs(heightM - givenM) <= TOLERANCE * givenM + 2 * sdM;
}
