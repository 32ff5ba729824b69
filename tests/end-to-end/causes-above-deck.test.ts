/** Causes named in filmed passes of 10 s, where a mount rings, and where a motor beyond half the frame rate runs beside a wheel out of round; all six kinds at three speeds: `npm run bench:accuracy -- causes-filmed`. */
import { describe, it } from 'vitest';
import { causeAccuracyOf } from '../support/cause-accuracy.js';
import { causePass, inOneInstant } from '../support/cause-passes.js';
import { expectCauses } from '../support/expect-causes.js';

const PASSES = [inOneInstant(causePass('mount', 0.5)), causePass('two', 0.2)];

describe('a filmed pass', () => {
  it.each(PASSES)('gets its names and no other: $pass.name', { timeout: 600_000 }, async (pass) => {
    expectCauses(await causeAccuracyOf(pass));
  });
});
