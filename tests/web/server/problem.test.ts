/** What the page is told of failures that no part of the program puts into words. */
import { describe, expect, it } from 'vitest';
import { problemOf } from '../../../src/web/server/problem.js';

const bySystem = (code: string): Error => Object.assign(new Error(`${code}: /home/crew/x`), { code });

describe('a failure of the system', () => {
  it.each([
    ['ENOSPC', 507, 'disk-full', 'remove runs or files'],
    ['EDQUOT', 507, 'disk-full', 'remove runs or files'],
    ['EROFS', 507, 'data-unwritable', 'may be written to'],
    ['EACCES', 507, 'data-unwritable', 'may be written to'],
    ['EIO', 507, 'data-unwritable', 'check that it is there'],
    ['EMFILE', 503, 'too-many-files', 'wait a moment'],
  ])('%s is told in words, without the place', (code, status, name, words) => {
    const { detail, ...told } = problemOf(bySystem(code));
    expect(told).toMatchObject({ status, code: name });
    expect(detail).toContain(words);
    expect(detail).not.toContain('/home');
  });

  it.each(['ENOENT', 'toString', '__proto__', 'ERR_INVALID_ARG_TYPE'])(
    'with the code %s is a fault of the program, which is all that is told',
    (code) => {
      expect(problemOf(bySystem(code))).toMatchObject({ status: 500, code: 'fault' });
      expect(problemOf(bySystem(code)).detail).not.toContain('/home');
    },
  );

  it('that is no error at all is a fault of the program', () => {
    for (const thrown of [undefined, null, 'ENOSPC', { code: 'ENOSPC' }])
      expect(problemOf(thrown)).toMatchObject({ status: 500, code: 'fault' });
  });
});
