/** Nothing is installed with this program whose licence nobody has looked at; bundled code carries its notices. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { licenceTable } from '../../.config/licences.js';
import { noticeOf } from '../../.config/licence-notices.js';

const root = path.resolve(import.meta.dirname, '../..');
type Lock = Parameters<typeof licenceTable>[0];

describe('the table of licences', () => {
  const lock = JSON.parse(readFileSync(path.join(root, 'package-lock.json'), 'utf8')) as Lock;

  it('has nothing against the lock file of today, and is written from it', () => {
    const { text, faults } = licenceTable(lock);
    expect(faults).toEqual([]);
    const cells = (table: string): string[] =>
      table
        .split('\n')
        .filter((line) => line.startsWith('| ') && !line.startsWith('| -'))
        .map((line) =>
          line
            .split('|')
            .map((cell) => cell.trim())
            .join('|'),
        );
    expect(cells(readFileSync(path.join(root, '.config/licences.md'), 'utf8'))).toEqual(cells(text));
  });

  it('is against a licence that is not on the list, and a dependency that nobody has described', () => {
    const top = { version: '0', dependencies: { hono: '1', stray: '1' } };
    const { faults } = licenceTable({
      packages: {
        '': top,
        'node_modules/hono': { version: '1.0.0', license: 'AGPL-3.0-only' },
        'node_modules/stray': { version: '2.0.0', license: 'MIT' },
        'node_modules/silent': { version: '3.0.0' },
        'node_modules/tester': { version: '4.0.0', license: 'AGPL-3.0-only', dev: true },
      },
    });
    expect(faults).toEqual([
      'hono 1.0.0: the licence "AGPL-3.0-only" is not on the list of .config/licences.ts',
      'stray 2.0.0: .config/licences.ts does not say what it is for',
      'silent 3.0.0: the licence "" is not on the list of .config/licences.ts',
    ]);
  });
});

describe('the notice at the head of bundled code', () => {
  it('names every package with its holder, and says what is alike once', () => {
    const at = (name: string): string => path.join(root, 'node_modules', name);
    const notice = noticeOf([at('d3-array'), at('d3-path'), at('preact'), at('fft.js')]);
    expect(notice).toMatch(/^\/\*!\n[^]*\*\/\n$/);
    for (const name of ['d3-array', 'd3-path', 'preact', 'fft.js'])
      expect(notice).toMatch(new RegExp(`^${name.replace('.', '\\.')} \\d\\S*: Copyright `, 'm'));
    expect(notice.match(/Permission to use, copy, modify/g)).toHaveLength(1);
    expect(notice).not.toContain('</');
  });
});
