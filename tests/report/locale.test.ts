/** Data files hold the same bytes on a machine that writes decimals with a comma. */
import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { expect, it } from 'vitest';
import { dataFiles } from './support/print-data.js';

const SCRIPT = fileURLToPath(new URL('./support/print-data.ts', import.meta.url));
const MOST_BYTES = 64 * 2 ** 20;

it('writes CSV and JSON with points whatever the locale', async () => {
  const { stdout } = await promisify(execFile)(process.execPath, ['--import', 'tsx', SCRIPT, 'print'], {
    env: { ...process.env, LC_ALL: 'de_DE.UTF-8', LANG: 'de_DE.UTF-8' },
    maxBuffer: MOST_BYTES,
  });
  const { oneAndAHalf, files } = JSON.parse(stdout) as {
    oneAndAHalf: string;
    files: Record<string, string>;
  };
  // Else the other process would prove nothing.
  expect(oneAndAHalf).toBe('1,5');
  expect(files).toEqual(dataFiles());
});
