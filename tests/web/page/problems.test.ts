/** When it helps to ask the same again. */
import { expect, it } from 'vitest';
import { mayHelpAgain } from '../../../src/web/page/problems.js';

it.each([
  [0, true],
  [401, false],
  [403, false],
  [404, false],
  [409, true],
  [500, true],
  [503, true],
])('trying again is offered after a failure with status %i: %s', (status, helps) => {
  expect(mayHelpAgain({ status })).toBe(helps);
});
