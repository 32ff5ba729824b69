/**
 * Doubts about the pictures through the whole measurement: an exposure that changes and coding that leaves fine shake out are
 * told; an ordinary file, one without prediction and a camera that stands still on few bits are not.
 */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { measure } from '../../src/measure.js';
import type { Warning } from '../../src/run/index.js';
import { makeClip } from '../footage/made-clips.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpClip } from '../support/made-up-clip.js';

let folder = '';
let pass = '';

beforeAll(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'trundle-doubt-'));
  // The clip of bad-input.test.ts: filmed once for both.
  const clip = await madeUpClip({
    name: 'small-lateral',
    durationS: 3,
    fps: 25,
    widthPx: 640,
    heightPx: 360,
    move: 'lateral',
    speedMps: 0.2,
    focalLengthMm: 35,
  });
  pass = clip.clipFile;
});
afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

const file = (name: string): string => path.join(folder, name);

/** Doubts about the pictures of a clip, measured up to 1.6 s. */
async function doubtsOf(clip: string): Promise<Warning[]> {
  const { run } = await measure({ clip, outPoint: '1.6s' }, { threads: 1 });
  return run.warnings.filter(({ code }) => code === 'exposure-change' || code === 'heavy-compression');
}

describe('the pictures of a pass', () => {
  it('raise no doubt in steady light at an ordinary bit rate', async () => {
    expect(await doubtsOf(pass)).toEqual([]);
  });

  it('raise a doubt when the exposure falls by a stop: when, and about how much', async () => {
    const gain = 'pow(2,-clip((t-0.8)/0.4,0,1)/2.2)';
    // Black of video levels stays where it is: (1 - 2 * 16/255) / 2 of the change is taken from all.
    const darker = `eq=contrast='${gain}':brightness='0.437*(${gain}-1)':eval=frame`;
    const clip = await makeClip(
      file('darker.mp4'),
      '-i',
      pass,
      '-vf',
      darker,
      '-c:v',
      'libx264',
      '-crf',
      '16',
    );
    const doubts = await doubtsOf(clip);
    expect(doubts.map(({ code }) => code)).toEqual(['exposure-change']);
    expectWithin(doubts[0].atS ?? NaN, 0.82, {
      abs: 0.06,
      why: 'a tenth of the change is left out; frames of 40 ms',
    });
    const [, stops] = /about (\d\.\d) stops darker/.exec(doubts[0].text) ?? [];
    expectWithin(Number(stops), 1, { abs: 0.2, why: 'grey as coded, by a supposed curve' });
  });

  it.each([
    ['coded with few bits', ['-crf', '38']],
    [
      'coded with few bits and then once more with many',
      ['-crf', '38'],
      ['-preset', 'veryfast', '-crf', '8'],
    ],
  ])('raise a doubt when %s', async (name, ...codings) => {
    let clip = pass;
    for (const [i, coding] of codings.entries())
      clip = await makeClip(file(`${name} ${i}.mp4`), '-i', clip, '-c:v', 'libx264', ...coding);
    expect((await doubtsOf(clip)).map(({ code }) => code)).toEqual(['heavy-compression']);
  });

  it('raise no doubt when each frame is coded by itself, as ProRes does', async () => {
    const clip = await makeClip(file('prores.mov'), '-i', pass, '-c:v', 'prores_ks', '-profile:v', '1');
    expect(await doubtsOf(clip)).toEqual([]);
  });

  it('raise no doubt when a camera that stands still needs hardly any bits', async () => {
    const still = file('still.png');
    await makeClip(still, '-i', pass, '-frames:v', '1');
    const noisy = 'noise=alls=3:allf=t';
    const shown = ['-loop', '1', '-framerate', '25', '-t', '2', '-i', still, '-vf', noisy];
    const clip = await makeClip(
      file('still.mp4'),
      ...shown,
      '-pix_fmt',
      'yuv420p',
      '-c:v',
      'libx264',
      '-crf',
      '36',
    );
    expect(fs.statSync(clip).size * 8).toBeLessThan(0.02 * 640 * 360 * 50);
    expect(await doubtsOf(clip)).toEqual([]);
  });
});
