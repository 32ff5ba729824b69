/** The way through an allowed folder. */
import { expect, test } from 'vitest';
import { below, crumbsOf } from '../../../src/web/page/start/folder-path.js';

test('the allowed folder itself is one crumb', () => {
  expect(crumbsOf('rushes', '')).toEqual([{ name: 'rushes', path: '' }]);
});

test('each crumb leads to its own folder', () => {
  expect(crumbsOf('rushes', 'day 2/b/dolly')).toEqual([
    { name: 'rushes', path: '' },
    { name: 'day 2', path: 'day 2' },
    { name: 'b', path: 'day 2/b' },
    { name: 'dolly', path: 'day 2/b/dolly' },
  ]);
});

test('what is in a folder has the way to it before its name', () => {
  expect(below('', 'loft.mov')).toBe('loft.mov');
  expect(below('day 2', 'loft.mov')).toBe('day 2/loft.mov');
});
