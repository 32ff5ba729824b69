/** Floors of class A-4 against known truth: made-up clips, H.264, through the whole program. */
import { describe, it } from 'vitest';
import { expectFloor, expectSameClass } from '../support/expect-floor.js';
import { floorAccuracyOf, type FloorAccuracy } from '../support/floor-accuracy.js';
import { FLOOR_PASSES } from '../support/floor-passes.js';

const PASSES = FLOOR_PASSES.filter(({ floorClass }) => floorClass === 'A-4');

describe('a floor of class A-4', () => {
  const clips: FloorAccuracy[] = [];

  it.each(PASSES)('is graded as it was made: $pass.name', { timeout: 900_000 }, async (pass) => {
    const clip = await floorAccuracyOf(pass);
    clips.push(clip);
    expectFloor(clip);
  });

  it('gets the same class at two speeds', () => expectSameClass(clips));
});
