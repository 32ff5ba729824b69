/**
 * What goes wrong around a clip that is good, through the whole program: exit status and one plain sentence, never a stack
 * trace, never a half-written report. Faults of clips themselves are in tests/faults/media.
 */
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runWords } from '../support/recorded-io.js';

let folder = '';

function file(name: string): string {
  return path.join(folder, name);
}

beforeAll(() => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-bad-'));
});
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

describe('a folder for reports', () => {
  it('is refused when it cannot be written, before anything is lost', async () => {
    fs.writeFileSync(file('blocked'), 'a file where a folder should go');
    const clip = 'sample-clips/tiled-corridor.mp4';
    const { status, err } = await runWords('measure', '--out-dir', file('blocked'), clip);
    expect(status).toBe(2);
    expect(err).toMatch(/\[output-unwritable\]/);
    expect(fs.readFileSync(file('blocked'), 'utf8')).toMatch(/a file where/);
  });
});

describe('an interrupt', () => {
  // A clip that keeps the fastest machine busy for longer than this.
  it.each([1000, 2000])(
    'after %i ms ends the program with 130, one sentence and nothing written',
    async (afterMs) => {
      const outDir = file(`interrupted-${afterMs}`);
      const child = spawn(
        process.execPath,
        ['dist/cli/main.js', 'measure', '--out-dir', outDir, 'sample-clips/tiled-corridor.mp4'],
        {
          stdio: ['ignore', 'pipe', 'pipe'],
        },
      );
      let err = '';
      child.stderr.on('data', (chunk: Buffer) => (err += chunk.toString()));
      // Its first word, on the rig, says that it is at work.
      child.stderr.once('data', () => setTimeout(() => child.kill('SIGINT'), afterMs));
      const status = await new Promise<number | null>((resolve) => child.on('exit', (code) => resolve(code)));
      expect(status).toBe(130);
      expect(err).toMatch(/\[interrupted\]/);
      expect(err).not.toMatch(/\n\s+at /);
      expect(fs.existsSync(outDir)).toBe(false);
    },
  );
});
