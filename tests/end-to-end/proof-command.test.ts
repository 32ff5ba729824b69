/**
 * `trundle proof` from the words of a command line to the file, its failures and interrupts; and what crews know of it:
 * angular shake goes and translational shake stays (common practice among grips and in post, no source).
 */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { probeClip } from '../../src/footage/index.js';
import { prove } from '../../src/prove.js';
import { parseRigFile, type Rig } from '../../src/run/index.js';
import { makeClip, processesNaming, tools } from '../footage/made-clips.js';
import { singleAxisPass } from '../support/accuracy-passes.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpClip, type MadeUpClip } from '../support/made-up-clip.js';
import { lookAgain } from '../support/measured-again.js';
import { runWords, runWordsWith } from '../support/recorded-io.js';

/** Frequency above which the picture of a clip of 3 s counts as shaking. */
const SHAKES_FROM_HZ = 1.1;
/** A real decoder needs whole pixels; the tracks of a small coded clip jitter by half a tenth of one. */
const JITTER_SHARE = 0.15;

let folder = '';
let turning: MadeUpClip;
/** The same with a tone. */
let sounding = '';

const place = (name: string): string => path.join(folder, name);
const rigOf = ({ rigFile }: MadeUpClip): Rig => parseRigFile(fs.readFileSync(rigFile, 'utf8'), rigFile).rig;
const files = (): string[] => fs.readdirSync(folder).sort();

/** Picture motion of a clip, px RMS. */
async function shakePx(file: string, rig: Rig): Promise<number> {
  return (await lookAgain(file, rig, SHAKES_FROM_HZ)).rmsPx;
}

beforeAll(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-proof-'));
  turning = await madeUpClip(singleAxisPass('pan'));
  sounding = await makeClip(
    place('tone.mp4'),
    ...['-i', turning.clipFile, '-f', 'lavfi', '-i', 'sine=frequency=440:duration=3'],
    ...['-c:v', 'copy', '-c:a', 'aac', '-shortest'],
  );
}, 300_000);
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

describe('trundle proof', { timeout: 300_000 }, () => {
  it('renders a clip that only turns: as long, as large, with its sound, and next to no shake is left', async () => {
    const file = place('steady.mp4');
    const words = ['proof', sounding, '--rig', turning.rigFile, '--file', file, '--layout', 'alone'];
    const { status, out, err } = await runWords(...words);
    expect(err).toBe('');
    expect(status).toBe(0);
    expect(out).toContain(`Proof: ${file}\n640x360, 75 frames, H.264 yuv420p\n`);
    expect(out).toMatch(/crop 0\.\d+ % of the width/);
    expect(out).toContain('No border shows in any frame.');
    expect(await probeClip(file, tools)).toMatchObject({
      ...{ widthPx: 640, heightPx: 360, frameCount: 75, fpsFraction: '25/1', hasAudio: true },
    });
    const before = await shakePx(sounding, rigOf(turning));
    expect(before).toBeGreaterThan(0.5);
    expect(await shakePx(file, rigOf(turning))).toBeLessThan(JITTER_SHARE * before);
  });

  it('leaves the shake of a clip that only moves sideways as it is', async () => {
    const moving = await madeUpClip(singleAxisPass('lateral'));
    const rig = rigOf(moving);
    const file = place('moving.mp4');
    const { record, cropPercent } = await prove(
      { clip: moving.clipFile, rig },
      { file, layout: 'alone', window: 'centred' },
      { threads: 1 },
    );
    expect(record.framesOutside).toBe(0);
    expect(cropPercent).toBeLessThan(0.1);
    const before = await shakePx(moving.clipFile, rig);
    const unchanged = { rel: 0.05, why: 'nearly unchanged: jitter of the tracks of two codings' };
    expectWithin(await shakePx(file, rig), before, unchanged, 'shake');
  });

  it('leaves no file and no process when it is stopped while it renders', async () => {
    const before = files();
    const stop = new AbortController();
    const words = [
      'proof',
      sounding,
      '--rig',
      turning.rigFile,
      '--out',
      '2s',
      '--file',
      place('stopped.mp4'),
    ];
    const { status, out, err } = await runWordsWith(
      {
        interactive: true,
        signal: stop.signal,
        onErr: (text) => text.includes('Rendering, frame') && stop.abort(),
      },
      ...words,
    );
    expect(err).toContain('Rendering, frame');
    expect(err).toMatch(/\[interrupted\]\n$/);
    expect(status).toBe(130);
    expect(out).toBe('');
    expect(files()).toEqual(before);
    expect(await processesNaming('stopped.mp4')).toEqual([]);
  });

  it('renders nothing of a clip that cannot be measured, says why, and leaves no folder behind', async () => {
    const blank = ['-f', 'lavfi', '-i', 'color=gray:size=320x180:rate=25:duration=2'];
    const clip = await makeClip(place('blank.mp4'), ...blank, '-pix_fmt', 'yuv420p');
    const before = files();
    const { status, out, err } = await runWords('proof', clip, '--out-dir', place('reports/today'));
    expect(status).toBe(4);
    expect(out).toBe('');
    expect(err).toMatch(
      /blank\.mp4" cannot be rendered stabilised: it is unmeasurable.*\[proof-impossible\]/,
    );
    expect(files()).toEqual(before);
  });
});

describe('trundle proof with words it cannot follow', () => {
  it.each<[string, () => string[], number, RegExp]>([
    [
      'an unknown layout',
      () => [sounding, '--layout', 'stacked'],
      2,
      /"--layout stacked" must be one of beside, above, split, alone.*\[argument-invalid\]/,
    ],
    [
      'an unknown window',
      () => [sounding, '--window', 'round'],
      2,
      /"--window round" must be one of centred, off-centre, moving.*\[argument-invalid\]/,
    ],
    ['no clip', () => [], 2, /\[argument-invalid\]/],
    [
      'two clips',
      () => [sounding, turning.clipFile],
      2,
      /one clip is rendered at a time.*\[argument-invalid\]/,
    ],
    ['a clip that is not there', () => [place('nowhere.mp4')], 3, /nowhere\.mp4.*\[clip-missing\]/],
    [
      'a file of another kind',
      () => [sounding, '--file', place('proof.avi')],
      2,
      /proof\.avi" must end in \.mp4 or \.mkv.*\.mov.*\[argument-invalid\]/,
    ],
    [
      'the clip itself as its file',
      () => [sounding, '--file', sounding],
      2,
      /tone\.mp4" is the clip itself and is not written over.*\[output-unwritable\]/,
    ],
    [
      'a folder that is not there',
      () => [sounding, '--file', place('nowhere/proof.mp4')],
      2,
      /\[output-unwritable\]/,
    ],
    [
      'a file where its folder should be',
      () => [sounding, '--out-dir', turning.rigFile],
      2,
      /\[output-unwritable\]/,
    ],
    [
      'a folder as its file',
      () => {
        fs.mkdirSync(place('folder.mp4'), { recursive: true });
        return [sounding, '--file', place('folder.mp4')];
      },
      2,
      /folder\.mp4" is a folder; name a file in it.*\[output-unwritable\]/,
    ],
    [
      'a file as the folder of its file',
      () => [sounding, '--file', path.join(turning.rigFile, 'proof.mp4')],
      2,
      /cannot be written: the folder.*\[output-unwritable\]/,
    ],
  ])('answers %s with one sentence before it measures', async (_, words, wanted, sentence) => {
    const given = words();
    const before = files();
    const { status, out, err } = await runWordsWith({ interactive: true }, 'proof', ...given);
    expect(err).toMatch(sentence);
    // Progress of a measurement would be drawn before it.
    expect(err).toMatch(/^trundle: [^\r\n]+\n$/);
    expect(status).toBe(wanted);
    expect(out).toBe('');
    expect(files()).toEqual(before);
  });
});
