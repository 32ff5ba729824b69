import { describe, expect, it } from 'vitest';
import { fourthDifferenceSmooth } from '../../../src/numerics/index.js';
import type { RolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { rolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { readPass } from '../../../src/surface/deck/pass.js';
import { profileWithEvents } from '../../../src/surface/events/profile-with-events.js';
import type { FloorEvent } from '../../../src/surface/events/types.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpPass, madeUpRig } from '../support/made-up-pass.js';

const SPEED_MPS = 0.2;
const BLUR_M = 0.004;
const AT_M = 0.8;
const RISE_M = 5e-4;
/** Levels of a floor of 1e-6 whose tracks are half alike. */
const LEVELS = { meanTrackM3: 6e-7, differenceM3: 1.6e-6 };

const pass = madeUpPass({ seed: 3, gdM3: 1e-6, speedMps: SPEED_MPS, durationS: 8 });
const answer = readPass(pass, madeUpRig(SPEED_MPS)).pass;
if (answer === null) throw new Error('no pass');
const even = rolledDeck(answer, pass);

/** The same pass over a floor that rises by RISE_M under the left wheel line. */
function steppedLeft(deck: RolledDeck): RolledDeck {
  const raised = (place: number): number => (place > AT_M ? RISE_M : 0);
  const series = (
    name: 'pitchRad' | 'heaveM' | 'rollRad',
    moved: (rear: number, front: number) => number,
  ): RolledDeck[typeof name] => ({
    ...deck[name]!,
    values: deck[name]!.values.map(
      (value, i) => value + moved(raised(deck.rearM[i]), raised(deck.rearM[i] + deck.frontAheadM)),
    ),
  });
  return {
    ...deck,
    pitchRad: series('pitchRad', (rear, front) => (front - rear) / 2 / deck.wheelbaseM),
    heaveM: series('heaveM', (rear, front) => (front + rear) / 4),
    rollRad: series('rollRad', (rear, front) => (front + rear) / (2 * deck.trackWidthM!)),
  };
}

const STEP: FloorEvent = {
  kind: 'step',
  atM: AT_M,
  atSdM: 0.002,
  atS: 2,
  heightM: RISE_M / 2,
  heightSdM: 3e-5,
  sides: { leftM: RISE_M, rightM: 0, sdM: 5e-5 },
  wheelLine: 'left',
  lengthM: 0,
  confidence: 0.99,
  foundBy: 'itself',
  pictureShiftPx: null,
};

const deck = steppedLeft(even);
const withStep = profileWithEvents(deck, LEVELS, [STEP], BLUR_M)!;
const without = profileWithEvents(deck, LEVELS, [], BLUR_M)!;
const floor = profileWithEvents(even, LEVELS, [], BLUR_M)!;
const after = withStep.distanceM.findIndex((place) => place > AT_M);

function riseOf(heights: Float64Array): number {
  return heights[after + 1] - heights[after - 2];
}

describe('the profile of a run with a step in it', () => {
  it('is that of the floor without it plus the step, as the passband holds it, under the line that has it', () => {
    const steps = floor.distanceM.map((place) => (place > AT_M ? RISE_M : 0));
    const slow = fourthDifferenceSmooth(steps, deck.rateHz, deck.cutoffHz);
    const truth = riseOf(steps.map((height, i) => height - slow[i]));
    const exact = { rel: 0.03, why: 'ramp of the step over the exposure, frame by frame' };
    expectWithin(riseOf(withStep.sides!.leftM) - riseOf(floor.sides!.leftM), truth, exact);
    expectWithin(riseOf(withStep.heightM) - riseOf(floor.heightM), truth / 2, exact);
    expectWithin(riseOf(withStep.sides!.rightM) - riseOf(floor.sides!.rightM), 0, {
      abs: 0.03 * truth,
      why: 'the same',
    });
  });

  it('comes out too low where the step is taken for roughness', () => {
    expect(riseOf(without.sides!.leftM)).toBeLessThan(0.9 * riseOf(withStep.sides!.leftM));
  });

  it('knows its heights less well where the step is, by the error of its height and place', () => {
    const far = withStep.distanceM.findIndex((place) => place > AT_M + 0.3);
    expect(withStep.sdM[after]).toBeGreaterThan(1.2 * floor.sdM[after]);
    expectWithin(withStep.sdM[far] / floor.sdM[far], 1, {
      abs: 0.05,
      why: 'a step fades behind the high-pass',
    });
  });

  it('takes a narrow dip and a bump back in with their own shapes', () => {
    const dip: FloorEvent = { ...STEP, kind: 'dip', lengthM: 0.006, heightM: -2e-4, sides: null };
    const bump: FloorEvent = { ...STEP, kind: 'bump', lengthM: 0.1, heightM: 3e-4, sides: null };
    for (const event of [dip, bump]) {
      const { heightM } = profileWithEvents(even, LEVELS, [event], BLUR_M)!;
      // The deck has no such event: taken out and put back it leaves the floor all but alone.
      const off = heightM.map((height, i) => height - floor.heightM[i]);
      expect(Math.max(...off.map(Math.abs))).toBeLessThan(0.75 * Math.abs(event.heightM));
      expect(Math.sign(off[after - 1] + off[after])).toBe(Math.sign(event.heightM));
    }
  });
});
