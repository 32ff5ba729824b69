/** Causes named in filmed passes of 10 s, where the floor and the wheels shake the deck; all six kinds at three speeds: `npm run bench:accuracy -- causes-filmed`. */
import { describe, it } from 'vitest';
import { causeAccuracyOf } from '../support/cause-accuracy.js';
import { causePass, inOneInstant } from '../support/cause-passes.js';
import { expectCauses } from '../support/expect-causes.js';

const PASSES = [
  inOneInstant(causePass('wheel', 0.35)),
  causePass('joints', 0.5),
  inOneInstant(causePass('broadband', 0.35)),
];

describe('a filmed pass', () => {
  it.each(PASSES)('gets its names and no other: $pass.name', { timeout: 600_000 }, async (pass) => {
    expectCauses(await causeAccuracyOf(pass));
  });
});
