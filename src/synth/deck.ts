/**
 * A rigid deck rolling over a floor: pitch, roll (radians) and heave (metres) from the heights of the axles of its four wheels.
 *
 * Rear axle at s, front axle at s + L. Pitch + nose up, roll + left side up, heave + up:
 * p = (front - rear) / L, q = (left - right) / B, u = mean of all four, each axle or side taken as its mean.
 */
import { makeLobes, type Corner } from './causes/wheel-lobes.js';
import { heightAt, makeFloor, wheelPath, type FloorProfile } from './floor-profile.js';
import type { DeckOptions } from './options.js';

/** Attitude of the deck. */
export interface DeckState {
  readonly pitchRad: number;
  readonly rollRad: number;
  readonly heaveM: number;
}

/** A deck on its floor. */
export interface RollingDeck {
  readonly floor: FloorProfile;
  /** Attitude when the rear axle is at sM. */
  stateAt(sM: number): DeckState;
}

/** Floor kept before the start and behind the end, for the wheels' reach and early exposures. */
const MARGIN_M = 0.3;

/** Puts a deck on a floor that is there. */
export function deckOn(floor: FloorProfile, deck: Omit<DeckOptions, 'floor'>): RollingDeck {
  const left = wheelPath(floor.left, deck.wheelRadiusM, deck.contactPatchM);
  const right = wheelPath(floor.right, deck.wheelRadiusM, deck.contactPatchM);
  const lobeAt = makeLobes(deck.lobes, deck.wheelRadiusM);
  const axleAt = (corner: Corner, track: Readonly<Float64Array>, sM: number, ahead: number): number =>
    heightAt(track, floor.startM, sM + ahead) + lobeAt(corner, sM);
  return {
    floor,
    stateAt(sM) {
      const rearLeft = axleAt('rearLeft', left, sM, 0);
      const rearRight = axleAt('rearRight', right, sM, 0);
      const frontLeft = axleAt('frontLeft', left, sM, deck.wheelbaseM);
      const frontRight = axleAt('frontRight', right, sM, deck.wheelbaseM);
      return {
        pitchRad: (frontLeft + frontRight - rearLeft - rearRight) / (2 * deck.wheelbaseM),
        rollRad: (frontLeft + rearLeft - frontRight - rearRight) / (2 * deck.trackWidthM),
        heaveM: (frontLeft + frontRight + rearLeft + rearRight) / 4,
      };
    },
  };
}

/**
 * Puts a deck on a new floor.
 *
 * @param travelM how far the rear axle rolls from 0, >= 0
 */
export function makeDeck(deck: DeckOptions, seed: number, travelM: number): RollingDeck {
  return deckOn(makeFloor(deck.floor, seed, -MARGIN_M, travelM + deck.wheelbaseM + MARGIN_M), deck);
}
