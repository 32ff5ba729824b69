/** The distance of the axles as the pitch of made-up passes tells it, told wrong on purpose. */
import { describe, expect, it } from 'vitest';
import { readPass } from '../../../src/surface/deck/pass.js';
import { rolledDeck, withPhase, type RolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { axleDistanceScale } from '../../../src/surface/profile/axle-distance.js';
import { fitPass, levelsOf } from '../../../src/surface/roughness/pass-fit.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpPassWithTruth, madeUpRig, WHEELBASE_M, type PassOptions } from '../support/made-up-pass.js';

const FOUND = {
  abs: 0.003,
  why: "1.4 mm of 450, a sixth of a frame's way and less than joints are told apart by",
};
const KEPT = { abs: 0.002, why: 'two steps of the search, so that right measures stay right' };
const LEVEL_WRONG = { abs: 0.006, why: 'still better than the 5 mm that a wheelbase is asked for' };

/** A pass with exact places, and the level of its floor as rolled. */
function passOver(options: PassOptions): { readonly deck: RolledDeck; readonly levelM3: number } {
  const { motion, truth } = madeUpPassWithTruth(options);
  const read = rolledDeck(readPass(motion, madeUpRig(options.speedMps ?? 0.2)).pass!, motion);
  const deck = { ...read, rearM: truth.rearM };
  return { deck, levelM3: levelsOf(fitPass(deck)).meanTrackM3! };
}

/** The same pass with its wheelbase told wrong. */
function told(deck: RolledDeck, wheelbaseM: number): RolledDeck {
  return { ...deck, wheelbaseM, frontAheadM: wheelbaseM };
}

/** Share by which the distance found misses the true one. */
function missedShare(deck: RolledDeck, levelM3: number, trueM = WHEELBASE_M): number {
  return (deck.frontAheadM * axleDistanceScale(deck, levelM3)) / trueM - 1;
}

const joints = (lippageM: number) => ({ spacingM: 0.6, lippageM, gapWidthM: 0.004, gapDepthM: 0.001 });

describe('axleDistanceScale', () => {
  const passes = [
    { what: '0.5 mm', options: { seed: 11, gdM3: 1e-6, joints: joints(0.0005) } },
    { what: '1 mm, faster', options: { seed: 12, gdM3: 1e-6, speedMps: 0.3, joints: joints(0.001) } },
    { what: '3 mm, a short pass', options: { seed: 13, gdM3: 1e-6, durationS: 9, joints: joints(0.003) } },
  ].map(({ what, options }) => ({ what, ...passOver(options) }));

  it.each(passes)('finds the axles by joints of $what with a wheelbase told wrong', ({ deck, levelM3 }) => {
    for (const wheelbaseM of [0.44, 0.445, 0.455, 0.46]) {
      expectWithin(missedShare(told(deck, wheelbaseM), levelM3), 0, FOUND, `${wheelbaseM} m`);
    }
  });

  it.each(passes)('finds the axles by joints of $what with a speed told 2 % wrong', ({ deck, levelM3 }) => {
    for (const share of [0.98, 1.02]) {
      const rearM = deck.rearM.map((place) => share * place);
      expectWithin(missedShare({ ...deck, rearM }, levelM3, share * WHEELBASE_M), 0, FOUND, `${share}`);
    }
  });

  it.each(passes)('leaves a right distance over joints of $what', ({ deck, levelM3 }) => {
    expectWithin(missedShare(deck, levelM3), 0, KEPT, 'right as told');
  });

  it('hardly minds a level that is twice off either way', () => {
    for (const { deck, levelM3 } of passes) {
      const wrong = told(deck, 0.46);
      for (const factor of [0.5, 2]) {
        expectWithin(missedShare(wrong, factor * levelM3), 0, LEVEL_WRONG, `level times ${factor}`);
      }
    }
  });

  it('does not spoil the distance on a smooth floor without joints', () => {
    const { deck, levelM3 } = passOver({ seed: 14, gdM3: 1e-6 });
    expectWithin(missedShare(deck, levelM3), 0, KEPT, 'right as told');
    for (const wheelbaseM of [0.445, 0.455]) {
      const wrong = told(deck, wheelbaseM);
      const asTold = Math.abs(wheelbaseM / WHEELBASE_M - 1);
      expect(Math.abs(missedShare(wrong, levelM3))).toBeLessThanOrEqual(asTold + 1e-12);
    }
  });

  it('asks the middle of a long pass only, with the same answer on repeat', () => {
    const { deck, levelM3 } = passOver({ seed: 15, gdM3: 4e-6, durationS: 40, joints: joints(0.001) });
    const wrong = withPhase(deck, 1.011);
    expectWithin(missedShare(wrong, levelM3), 0, FOUND, 'told 1.1 % too far');
    expect(axleDistanceScale(wrong, levelM3)).toBe(axleDistanceScale(wrong, levelM3));
  });

  it('refuses a deck without pitch and a level that is no level', () => {
    const { deck } = passes[0];
    expect(() => axleDistanceScale({ ...deck, pitchRad: null }, 1e-6)).toThrow(/no pitch/);
    expect(() => axleDistanceScale(deck, 0)).toThrow(/levelM3 must be positive/);
  });
});
