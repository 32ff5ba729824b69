/** Faults of a clip that end in a refusal: exit status, stable code, one plain sentence, and nothing written. */
import fs from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { STAGE_WORDS } from '../../../src/cli/clip-request.js';
import { runWordsWith } from '../../support/recorded-io.js';
import { makeClip } from '../../footage/made-clips.js';
import { measureClip } from './support/measure-clip.js';
import { lie } from './support/patch-movie.js';
import { faultBench, FFV1, X264 } from './support/shaken-pass.js';

const { at, fromPass, pass, makePass } = faultBench();
beforeAll(makePass);

/** A fault: how to make it, and what the person is told. */
interface Refusal {
  readonly fault: string;
  /** Gives the path to measure. */
  readonly make: () => Promise<string> | string;
  readonly words?: readonly string[];
  readonly expect: { readonly status: 2 | 3; readonly code: string; readonly says: RegExp };
}

function written(name: string, content: string | Buffer): string {
  fs.writeFileSync(at(name), content);
  return at(name);
}

function shortened(name: string, from: string, share: number): string {
  const bytes = fs.readFileSync(from);
  return written(name, bytes.subarray(0, Math.floor(share * bytes.length)));
}

/** The pass with another size in the header of its pictures. */
async function claiming(widthPx: number, heightPx: number): Promise<string> {
  const name = `claims-${widthPx}.y4m`;
  await fromPass(name, '-frames:v', '2');
  const bytes = fs.readFileSync(at(name)).toString('latin1');
  return written(name, Buffer.from(bytes.replace('W192 H108', `W${widthPx} H${heightPx}`), 'latin1'));
}

const noClip: Refusal[] = [
  {
    fault: 'no such file',
    make: () => at('nowhere.mp4'),
    expect: { status: 3, code: 'clip-missing', says: /nowhere\.mp4/ },
  },
  {
    fault: 'a text named .mp4',
    make: () => written('notes.mp4', 'roll 12, take 3\n'),
    expect: { status: 3, code: 'clip-unreadable', says: /notes\.mp4.*not a video file/ },
  },
  {
    fault: 'an empty file',
    make: () => written('empty.mp4', ''),
    expect: { status: 3, code: 'clip-unreadable', says: /empty; copy it again/ },
  },
  {
    fault: 'sound alone',
    make: () => makeClip(at('sound.mp4'), '-f', 'lavfi', '-i', 'sine=frequency=440:duration=0.5'),
    expect: { status: 3, code: 'clip-no-video', says: /sound but no moving picture/ },
  },
  {
    fault: 'one frame',
    make: () => fromPass('one.mp4', '-frames:v', '1'),
    expect: { status: 3, code: 'clip-too-short', says: /one frame only/ },
  },
  {
    fault: 'a video stream without a frame',
    make: () => fromPass('zero.mp4', '-frames:v', '0', '-f', 'mp4'),
    expect: { status: 3, code: 'clip-unreadable', says: /not a video file|size of its picture/ },
  },
  {
    fault: 'an MP4 whose index was lost with its end',
    make: async () => shortened('no-index.mp4', await fromPass('index-last.mp4', '-c', 'copy'), 0.6),
    expect: { status: 3, code: 'clip-unreadable', says: /table of contents is missing/ },
  },
  {
    fault: 'an edit list that shows none of the frames',
    make: () =>
      fromPass('hidden.mp4', '-c', 'copy', '-output_ts_offset', '-3', '-avoid_negative_ts', 'disabled'),
    expect: { status: 3, code: 'clip-too-short', says: /holds no frame/ },
  },
];

const noStamps = /pictures hold no time stamps.*Make a clip of them at the rate/;
const pictures: Refusal[] = [
  {
    fault: 'a single picture',
    make: () => fromPass('frame.png', '-frames:v', '1'),
    expect: { status: 3, code: 'clip-unsupported', says: noStamps },
  },
  {
    fault: 'a single JPEG picture',
    make: () => fromPass('frame.jpg', '-frames:v', '1'),
    expect: { status: 3, code: 'clip-unsupported', says: noStamps },
  },
  {
    fault: 'pictures strung together in one file',
    make: () => fromPass('strung.png', '-frames:v', '30', '-f', 'image2pipe', '-c:v', 'png'),
    expect: { status: 3, code: 'clip-unsupported', says: noStamps },
  },
  {
    fault: 'a folder of numbered pictures',
    make: async () => {
      fs.mkdirSync(at('frames'));
      await makeClip(at('frames/%04d.png'), '-i', pass, '-frames:v', '3');
      return at('frames');
    },
    expect: { status: 3, code: 'clip-unsupported', says: noStamps },
  },
  {
    fault: 'the pattern of numbered pictures',
    make: () => at('frames/%04d.png'),
    expect: { status: 3, code: 'clip-unsupported', says: noStamps },
  },
  {
    fault: 'a folder of other things',
    make: () => {
      fs.mkdirSync(at('card'));
      return at('card');
    },
    expect: {
      status: 3,
      code: 'clip-missing',
      says: /no clip in the folder ".*": no file with an ending of clips.*; --recursive looks into/,
    },
  },
];

const sizesAndRates: Refusal[] = [
  {
    fault: 'a claim of 30000 x 30000 pixels',
    make: () => claiming(30000, 30000),
    expect: { status: 3, code: 'clip-unsupported', says: /30000 x 30000 px; up to 16384 px a side/ },
  },
  {
    fault: 'a claim of 20000 x 10000 pixels, which FFmpeg would try',
    make: () => claiming(20000, 10000),
    expect: { status: 3, code: 'clip-unsupported', says: /134 million pixels/ },
  },
  {
    fault: 'pixels stated as a thousand times as wide as high',
    make: () => fromPass('needles.mkv', '-vf', 'setsar=1000/1', ...X264),
    expect: { status: 3, code: 'clip-unsupported', says: /times as wide as high/ },
  },
  ...['1x1', '2x2'].map((size): Refusal => ({
    fault: `a picture of ${size}`,
    make: () => fromPass(`${size}.mkv`, '-vf', `scale=${size.replace('x', ':')}`, ...FFV1),
    expect: { status: 3, code: 'clip-unsupported', says: /at least 32 px a side/ },
  })),
  {
    fault: 'one frame a second',
    make: () => makeClip(at('slow.mp4'), '-r', '1', '-i', pass, ...X264),
    expect: {
      status: 3,
      code: 'clip-unsupported',
      says: /1 frame a second, too few to see shake: at least 5/,
    },
  },
];

const ranges: Refusal[] = [
  {
    fault: 'in after out',
    make: () => pass,
    words: ['--in', '1.2s', '--out', '1s'],
    expect: { status: 2, code: 'range-invalid', says: /must come after.*1\.600 s long/ },
  },
  {
    fault: 'in beyond the end',
    make: () => pass,
    words: ['--in', '00:01:00:00'],
    expect: { status: 2, code: 'range-invalid', says: /beyond the end.*1\.600 s long/ },
  },
  {
    fault: 'in beyond the end of a clip that claims to be longer',
    make: async () => {
      await fromPass('boasts.mp4', '-c', 'copy');
      await lie(at('boasts.mp4'), { lengthTimes: 10 });
      return at('boasts.mp4');
    },
    words: ['--in', '5s'],
    expect: { status: 2, code: 'range-invalid', says: /beyond the end.*1\.600 s long/ },
  },
];

describe.each([
  ['that is no clip', noClip],
  ['of pictures', pictures],
  ['with a size or a rate that cannot be used', sizesAndRates],
  ['asked for a range it has not', ranges],
])('a file %s', (_, rows) => {
  it.each(rows)('is refused: $fault', async ({ make, words = [], expect: { status, code, says } }) => {
    const told = await measureClip(await make(), ...words);
    expect(told.status).toBe(status);
    expect(told.err).toMatch(says);
    expect(told.err).toContain(`[${code}]`);
  });
});

describe('a clip that is still being copied', () => {
  it('is refused when it grew while it was measured', async () => {
    await fromPass('growing.mkv', '-frames:v', '8', '-c', 'copy');
    const file = at('growing.mkv');
    let grew = false;
    const grow = (told: string): void => {
      if (grew || !told.includes(STAGE_WORDS.track)) return;
      fs.appendFileSync(file, Buffer.alloc(1000));
      grew = true;
    };
    const outDir = at('grown');
    const told = await runWordsWith(
      { interactive: true, onErr: grow },
      ...['measure', '--unlogged', '--out-dir', outDir, file],
    );
    expect(grew).toBe(true);
    expect(told.status).toBe(3);
    expect(told.err).toMatch(/changed while it was measured.*\[clip-changed\]/);
    expect(fs.existsSync(path.join(outDir, 'growing'))).toBe(false);
  });
});
