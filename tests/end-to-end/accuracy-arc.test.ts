/** Accuracy against known truth on arc moves: made-up clips, H.264, through the whole program. */
import { describe, it } from 'vitest';
import { accuracyOf } from '../support/accuracy.js';
import { testedPassesOf } from '../support/accuracy-passes.js';
import { expectAccurate } from '../support/expect-accurate.js';

describe('a arc move', () => {
  it.each(testedPassesOf('arc'))('is measured as it was made: $name', { timeout: 900_000 }, async (pass) => {
    expectAccurate(await accuracyOf(pass));
  });
});
