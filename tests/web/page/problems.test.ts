/** When it helps to ask the same again. */
import { expect, it } from 'vitest';
import { isToldByFrame, mayHelpAgain } from '../../../src/web/page/problems.js';

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

it('a failure is told once: in the frame where the program is gone or was started anew', () => {
  const gone = { status: 0, code: 'no-server' };
  expect(isToldByFrame(gone, 'open')).toBe(false);
  expect(isToldByFrame(gone, 'lost')).toBe(true);
  expect(isToldByFrame(gone, 'refused')).toBe(true);
  expect(isToldByFrame({ status: 401, code: 'token-missing' }, 'refused')).toBe(true);
  expect(isToldByFrame({ status: 404, code: 'log-entry-unknown' }, 'lost')).toBe(false);
});
