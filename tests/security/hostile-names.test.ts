/**
 * Names of files are names and nothing else: not to a shell (there is none), not to FFmpeg, not to the disk. The programs are put behind
 * scripts that note every word they are called with.
 */
import { chmodSync, copyFileSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { reportFolders } from '../../src/cli/clip-request.js';
import { probeClip, type ClipFacts } from '../../src/footage/index.js';
import { clipFolder, makeClip, testSource, tools } from '../footage/made-clips.js';
import { madeUpClip } from '../support/made-up-clip.js';
import { runWords } from '../support/recorded-io.js';

/** What a shell, FFmpeg or a terminal would take for more than a name. */
const SIGNS = `$(touch x)\`touch y\`;touch z&|"'%03d*?[in]\\ \n\u001b[2J`;
const NAMES = [
  '-i.mp4',
  '-',
  'concat:a.mp4|b.mp4',
  'file:a.mp4',
  'data:video,a.mp4',
  'http:a.mp4',
  'pipe:0',
  'subfile,,start,0,end,9,,:a.mp4',
  'shot%03d.mp4',
  `${SIGNS}.mp4`,
];

const folder = clipFolder();
const startedIn = process.cwd();
const noted = path.join(folder, 'noted');
let calls: string[][] = [];

/** A script that notes its words and then is the program. */
function noting(name: string, program: string): string {
  const file = path.join(folder, name);
  writeFileSync(
    file,
    `#!/bin/sh\nfor word; do printf '%s\\0' "$word"; done >> '${noted}'\nprintf '\\0\\0' >> '${noted}'\nexec '${program}' "$@"\n`,
  );
  chmodSync(file, 0o755);
  return file;
}

const heard = (): string[][] =>
  readFileSync(noted, 'utf8')
    .split('\0\0\0')
    .filter((call) => call !== '')
    .map((call) => call.split('\0'));

beforeAll(() => {
  process.env['TRUNDLE_FFMPEG'] = noting('noting-ffmpeg', tools.ffmpeg.path);
  process.env['TRUNDLE_FFPROBE'] = noting('noting-ffprobe', tools.ffprobe.path);
  mkdirSync(path.join(folder, 'here'));
  process.chdir(path.join(folder, 'here'));
});
afterAll(() => {
  process.chdir(startedIn);
  delete process.env['TRUNDLE_FFMPEG'];
  delete process.env['TRUNDLE_FFPROBE'];
});

describe('the name of a clip', () => {
  let plain: Partial<ClipFacts>;
  beforeAll(async () => {
    const { codec, widthPx, frameCount, durationS } = await probeClip(
      await makeClip('plain.mp4', ...testSource(64, 48, '10', 0.5)),
      tools,
    );
    plain = { codec, widthPx, frameCount, durationS };
  });

  it.each(NAMES)('is only a name: %j', async (name) => {
    copyFileSync('plain.mp4', name);
    expect(await probeClip(name, tools)).toMatchObject(plain);
  });

  it('leads to a report folder beside the others, never to the one above', () => {
    const folders = reportFolders(['...mp4', '..mp4', '.mp4', 'a/...mov', '-x.mp4'], 'reports');
    expect([...folders.values()].map((one) => path.relative('reports', one))).toEqual([
      'clip',
      'clip-2',
      '.mp4',
      'clip-3',
      '-x',
    ]);
  });
});

describe('a measurement and its proof under the worst of names', { timeout: 480_000 }, () => {
  it('writes what it should, where it should, and FFmpeg gets every input as one file', async () => {
    const made = await madeUpClip({
      ...{ name: 'small-lateral', durationS: 3, fps: 25, widthPx: 640, heightPx: 360 },
      ...{ move: 'lateral', speedMps: 0.2, focalLengthMm: 35 },
    });
    const clip = `-i concat:${SIGNS}.mp4`;
    await makeClip(
      'sounding.mp4',
      '-i',
      made.clipFile,
      '-f',
      'lavfi',
      '-i',
      'anoisesrc=duration=3:amplitude=0.1',
      '-c:v',
      'copy',
      '-c:a',
      'aac',
    );
    copyFileSync('sounding.mp4', clip);
    const rig = `--rig ${SIGNS}.json`;
    copyFileSync(made.rigFile, rig);
    const log = `=log ${SIGNS}.csv`;
    const lines = Array.from(
      { length: 400 },
      (_, k) => `${(k / 100).toFixed(2)},${Math.sin(k / 7).toFixed(4)},0.01,0.02`,
    );
    writeFileSync(log, `timeS,panDegPerS,tiltDegPerS,rollDegPerS\n${lines.join('\n')}\n`);
    const outDir = `pipe:out ${SIGNS}`;
    const before = readdirSync('.');
    writeFileSync(noted, '');
    const { status, err, out } = await runWords(
      ...['proof', `--rig=${rig}`, `--motion-log=${log}`, `--out-dir=${outDir}`, '--layout=alone', '--quiet'],
      ...['--in=0.5s', '--out=1.5s', '--width=240', '--json', '--', clip],
    );
    calls = heard();
    expect(err).toBe('');
    expect(status).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ file: path.join(outDir, `-i concat:${SIGNS}`, 'proof.mp4') });
    expect(readdirSync('.').sort()).toEqual([...before, outDir].sort());
    expect(readdirSync(outDir)).toEqual([`-i concat:${SIGNS}`]);
    const proof = path.join(outDir, `-i concat:${SIGNS}`, 'proof.mp4');
    expect((await probeClip(proof, tools)).hasAudio).toBe(true);
  });

  it('told every call of FFmpeg and ffprobe where its bytes come from and which readers and decoders may work', () => {
    const reading = calls.filter((words) => words.includes('-i'));
    expect(reading.length).toBeGreaterThan(8);
    const others = calls.filter((words) => !words.includes('-i')).map((words) => words.join(' '));
    expect(['-version', '-formats', '-encoders']).toEqual(expect.arrayContaining(others));
    let inputs = 0;
    for (const words of reading) {
      let from = 0;
      for (let at = words.indexOf('-i'); at >= 0; at = words.indexOf('-i', from)) {
        const options = words.slice(from, at);
        const input = words[at + 1];
        const valueOf = (name: string): string => options[options.indexOf(name) + 1] ?? '';
        expect(input).toMatch(/^(pipe:0|file:\/)/);
        expect(valueOf('-protocol_whitelist')).toBe(input.startsWith('file:') ? 'file' : 'pipe');
        expect(options).toContain('-format_whitelist');
        expect(options).toContain('-codec_whitelist:v');
        from = at + 2;
        inputs++;
      }
    }
    // The proof reads its own frames and, beside them, the sound of the clip.
    expect(inputs).toBeGreaterThan(reading.length);
    expect(calls.flat().some((word) => word === 'pipe:0')).toBe(true);
  });
});
