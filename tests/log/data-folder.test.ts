import { describe, expect, it } from 'vitest';
import { dataFolder } from '../../src/log/index.js';

describe('the data folder', () => {
  it.each([
    ['linux', {}, '/home/mara', '/home/mara/.local/share/trundle'],
    ['linux', { XDG_DATA_HOME: '/data/mara' }, '/home/mara', '/data/mara/trundle'],
    ['linux', { XDG_DATA_HOME: 'not/absolute' }, '/home/mara', '/home/mara/.local/share/trundle'],
    ['linux', { XDG_DATA_HOME: '' }, '/home/mara', '/home/mara/.local/share/trundle'],
    ['freebsd', {}, '/home/mara', '/home/mara/.local/share/trundle'],
    ['darwin', {}, '/Users/mara', '/Users/mara/Library/Application Support/Trundle'],
    [
      'win32',
      { LOCALAPPDATA: 'C:\\Users\\mara\\AppData\\Local' },
      'C:\\Users\\mara',
      'C:\\Users\\mara\\AppData\\Local\\Trundle',
    ],
    ['win32', {}, 'C:\\Users\\mara', 'C:\\Users\\mara\\AppData\\Local\\Trundle'],
  ] as const)(
    'on %s with %j is where programs of that system keep their data',
    (platform, env, home, folder) => {
      expect(dataFolder(env, platform, home)).toBe(folder);
    },
  );

  it.each(['linux', 'darwin'] as const)('is TRUNDLE_DATA above all else on %s', (platform) => {
    const env = { TRUNDLE_DATA: '/mnt/cart/trundle', XDG_DATA_HOME: '/data/mara' };
    expect(dataFolder(env, platform, '/home/mara')).toBe('/mnt/cart/trundle');
  });
});
