/** The command line refuses what it does not know with one sentence, a stable code and status 2, and never with a stack trace. */
import { spawn } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runWords } from '../support/recorded-io.js';

describe('the command line', () => {
  let folder = '';
  beforeAll(() => (folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-cli-'))));
  afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

  it.each([
    [['mesure', 'a.mp4'], /no command "mesure".*nearest is "measure".*\[argument-unknown\]/],
    [['measure'], /needs the clip of a test pass.*, as in "trundle measure pass.mp4".*\[argument-invalid\]/],
    [
      ['measure', 'a.mp4', '--focol', '35mm'],
      /no option "--focol".*nearest is "--focal".*\[argument-unknown\]/,
    ],
    [['measure', 'a.mp4', '-f', '35mm'], /no option "-f".*\[argument-unknown\]/],
    // A letter of three, or all of a name, may be anything.
    [['measure', 'a.mp4', '--foo', '1'], /no option "--foo"; see --help/],
    [['measure', 'a.mp4', '--quartz', '1'], /no option "--quartz"; see --help/],
    [['measure', '-a.mp4'], /begins with a dash goes after "--"/],
    [['measure', 'a.mp4', '--focal'], /"--focal" needs a value, like 35mm/],
    [['measure', 'a.mp4', '--focal', '--speed', '1m/s'], /"--focal" needs a value/],
    [['measure', 'a.mp4', '--focal', '35mm', '--focal', '50mm'], /given twice/],
    [['measure', 'a.mp4', '--tags', ',,'], /"--tags ,," holds no word/],
    [['measure', 'a.mp4', '--focal', 'wide'], /"wide" is not a focal length/],
    [['measure', 'a.mp4', '--speed', '20'], /"20" is not a speed with its unit/],
    [['measure', 'a.mp4', '--sensor', 'medium-ish'], /medium-ish/],
    [['measure', 'a.mp4', '--head', 'wobbly'], /locked, operated or self-levelling/],
    [['measure', 'a.mp4', '--max-crop', '200%'], /maxCropPercent/],
    [['measure', 'a.mp4', '--focal', '0mm'], /"0mm" will not do: focalLengthMm must be more than 0/],
    [['measure', 'a.mp4', '--wheelbase', '450km'], /"450km" will not do: wheelbaseM must be at most 10/],
    [['measure', 'a.mp4', '--width', '12'], /160 to 3840/],
    [['measure', 'a.mp4', '--cutoff', '50Hz'], /0.2 Hz and 5 Hz/],
    [['measure', 'a.mp4', '--fail-on', 'maybe'], /never, marginal, fail/],
    [['measure', 'a.mp4', '--rig', '/nowhere/rig.json'], /rig file "\/nowhere\/rig.json" cannot be read/],
  ])('answers %j with one sentence and status 2', async (words, sentence) => {
    const { status, out, err } = await runWords(...words);
    expect(status).toBe(2);
    expect(out).toBe('');
    expect(err).toMatch(sentence);
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(err).not.toMatch(/\n\s+at /);
  });

  it('names the field of a faulty rig file', async () => {
    const rig = path.join(folder, 'rig.json');
    fs.writeFileSync(rig, '{"wheelBaseM":0.45}');
    const { status, err } = await runWords('measure', 'a.mp4', '--rig', rig);
    expect(status).toBe(2);
    expect(err).toMatch(/"wheelBaseM"; the nearest known one is "wheelbaseM"/);
  });

  it('shows help and version on standard output with status 0', async () => {
    for (const words of [['--help'], ['measure', '--help'], ['synth', '--help'], ['--version']]) {
      const { status, out, err } = await runWords(...words);
      expect(status).toBe(0);
      expect(out.length).toBeGreaterThan(3);
      expect(err).toBe('');
    }
  });

  it('prints help without colour where nobody watches', async () => {
    expect((await runWords('measure', '--help')).out).not.toContain('\u001b');
  });

  it('tells of every clip that is missing, not of the first alone', async () => {
    const { status, err } = await runWords(
      'measure',
      '--out-dir',
      folder,
      path.join(folder, 'one.mp4'),
      path.join(folder, 'two.mp4'),
    );
    expect(status).toBe(3);
    expect(err).toMatch(/one\.mp4.*\[clip-missing\]\n.*two\.mp4.*\[clip-missing\]/);
  });

  it('lists what it found on this machine', { timeout: 180_000 }, async () => {
    const { status, out } = await runWords('check-setup');
    expect(status).toBe(0);
    expect(out).toMatch(/ok\s+trundle\s+\d+\.\d+\.\d+/);
    expect(out).toMatch(/(ok|old)\s+ffmpeg/);
    expect(out).toMatch(/ok\s+ffprobe/);
    expect(out).toMatch(
      /ok\s+vision .*\n +@techstark\/opencv-js \S+, Apache-2\.0, SHA-256 [0-9a-f]{12}\.\.\., as recorded\n/,
    );
  });
});

describe('the program', () => {
  it('ends quietly when nobody reads what it prints', { timeout: 30_000 }, async () => {
    const main = path.join(import.meta.dirname, '../../src/cli/main.ts');
    const child = spawn(process.execPath, ['--import', 'tsx', main, 'deliveries', '--json'], {
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    child.stdout.destroy();
    let err = '';
    child.stderr.setEncoding('utf8').on('data', (text: string) => (err += text));
    const status = await new Promise((resolve) => child.on('close', resolve));
    expect([status, err]).toEqual([0, '']);
  });
});
