/** Floors of class A against known truth: made-up clips, H.264, through the whole program. */
import { describe, it } from 'vitest';
import { expectFloor } from '../support/expect-floor.js';
import { floorAccuracyOf } from '../support/floor-accuracy.js';
import { FLOOR_PASSES } from '../support/floor-passes.js';

const PASSES = FLOOR_PASSES.filter(({ floorClass }) => floorClass === 'A');

describe('a floor of class A', () => {
  it.each(PASSES)('is graded as it was made: $pass.name', { timeout: 900_000 }, async (pass) => {
    expectFloor(await floorAccuracyOf(pass));
  });
});
