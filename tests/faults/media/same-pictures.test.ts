/**
 * Faults of containers and odd pictures that must not change what is measured: the clip made from the pass gives the same
 * pictures at the same moments with the same facts. The rest of the program sees nothing else of a file, and is the same bit for
 * bit for the same input; `measured-clips.test.ts` goes all the way.
 */
import fs from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { decodeGrey, probeClip, type ClipFacts, type GreyFrame } from '../../../src/footage/index.js';
import type { Warning } from '../../../src/run/index.js';
import { expectWithin } from '../../support/expect-within.js';
import { collect, makeClip, setDisplayMatrix, tools } from '../../footage/made-clips.js';
import { lie } from './support/patch-movie.js';
import { lieInMatroska } from './support/patch-matroska.js';
import { faultBench, FFV1, FPS, FRAMES, X264 } from './support/shaken-pass.js';

const { at, fromPass, pass, makePass } = faultBench();
let plain: GreyFrame[] = [];
beforeAll(async () => {
  await makePass();
  plain = (await decoded(pass)).frames;
});

async function decoded(file: string): Promise<{ facts: ClipFacts; frames: GreyFrame[]; warnings: string[] }> {
  const facts = await probeClip(file, tools);
  const warnings: string[] = [];
  const onWarning = ({ code }: Warning): number => warnings.push(code);
  return { facts, frames: await collect(decodeGrey(file, facts, { onWarning }, tools)), warnings };
}

/** Mean difference of grey levels between two pictures of one size. */
function differenceGrey(a: ArrayLike<number>, b: ArrayLike<number>): number {
  expect(a.length).toBe(b.length);
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += Math.abs(a[i] - b[i]);
  return sum / a.length;
}

/** A fault that leaves pictures and moments as they are. */
interface Harmless {
  readonly fault: string;
  readonly make: () => Promise<unknown>;
  readonly file: string;
  /** Most that pictures may differ, in grey levels of 255; default 0. */
  readonly greyOff?: number;
  readonly facts?: Partial<ClipFacts>;
  readonly warns?: readonly string[];
}

const rewrapped: Harmless[] = [
  ...['mkv', 'mov', 'avi', 'flv', 'ts'].map((kind) => ({
    fault: `wrapped as .${kind}`,
    file: `wrapped.${kind}`,
    make: () => fromPass(`wrapped.${kind}`, '-c', 'copy'),
  })),
  {
    fault: 'AVI with H.264, which has no times of showing',
    file: 'again.avi',
    make: () => fromPass('again.avi', '-c', 'copy'),
    facts: { hasTimeStamps: false },
  },
  {
    fault: 'a bare stream',
    file: 'bare.h264',
    make: () => fromPass('bare.h264', '-c', 'copy', '-f', 'h264'),
    facts: { hasTimeStamps: false },
  },
  {
    fault: 'an MP4 in fragments',
    file: 'fragments.mp4',
    make: () => fromPass('fragments.mp4', '-c', 'copy', '-movflags', 'frag_keyframe+empty_moov'),
  },
  {
    fault: 'time stamps that start below zero',
    file: 'negative.ts',
    make: () =>
      fromPass('negative.ts', '-c', 'copy', '-output_ts_offset', '-3', '-avoid_negative_ts', 'disabled'),
  },
  {
    fault: 'time stamps that wrap round in the middle',
    file: 'wraps.ts',
    // 33 bits at 90 kHz.
    make: () => fromPass('wraps.ts', '-c', 'copy', '-output_ts_offset', String(2 ** 33 / 90_000 - 2.2)),
  },
  {
    fault: 'a container without any time stamp',
    file: 'stampless.mkv',
    make: () =>
      fromPass('stampless.mkv', '-c', 'copy', '-output_ts_offset', '-3', '-avoid_negative_ts', 'disabled'),
    facts: { hasTimeStamps: false, frameCount: 0, durationS: 0 },
  },
  {
    fault: 'a stream of JPEG pictures, which states no rate',
    file: 'stream.mjpeg',
    make: () => fromPass('stream.mjpeg', '-c:v', 'mjpeg', '-q:v', '2', '-f', 'mjpeg'),
    greyOff: 3,
    facts: { hasTimeStamps: false },
  },
  {
    fault: 'an animated PNG',
    file: 'animated.png',
    make: () => fromPass('animated.png', '-f', 'apng'),
    greyOff: 2,
  },
];

const sound = (seconds: number): string[] => ['-f', 'lavfi', '-i', `sine=duration=${seconds}`];
const withSound = (name: string, seconds: number, codec: string): Harmless => ({
  fault: `sound of ${seconds} s beside 1.6 s of picture (${name})`,
  file: name,
  make: () => makeClip(at(name), '-i', pass, ...sound(seconds), '-c:v', 'copy', '-c:a', codec),
  facts: { hasAudio: true },
});
const soundLengths: Harmless[] = [
  withSound('sound-longer.mp4', 4, 'aac'),
  withSound('sound-longer.mkv', 4, 'pcm_s16le'),
  withSound('sound-longer.ts', 4, 'mp2'),
  withSound('sound-longer.avi', 4, 'pcm_s16le'),
  withSound('sound-shorter.mp4', 0.5, 'aac'),
];

const bFrames = ['-c:v', 'libx264', '-preset', 'veryfast', '-crf', '1', '-bf', '3', '-g', '30'];
const reordered: Harmless[] = [
  { file: 'reordered.mp4', fault: 'frames coded out of order, with an edit list', options: [] },
  { file: 'reordered-bare.mp4', fault: 'frames coded out of order, none', options: ['-use_editlist', '0'] },
  { file: 'reordered.mkv', fault: 'frames coded out of order in Matroska', options: [] },
  { file: 'reordered.avi', fault: 'frames coded out of order in AVI', options: [] },
].map(({ file, fault, options }) => ({
  fault,
  file,
  make: () => fromPass(file, ...bFrames, ...options),
  greyOff: 1,
}));

const lies: Harmless[] = [
  ...[10, 0.3].map((times) => ({
    fault: `an MP4 that claims ${times} times its length`,
    file: `claims-${times}.mp4`,
    make: async () => {
      await fromPass(`claims-${times}.mp4`, '-c', 'copy');
      await lie(at(`claims-${times}.mp4`), { lengthTimes: times });
    },
  })),
  {
    fault: 'the same with frames coded out of order',
    file: 'reordered-claims.mp4',
    make: async () => {
      await fromPass('reordered-claims.mp4', ...bFrames);
      await lie(at('reordered-claims.mp4'), { lengthTimes: 0.3 });
    },
    greyOff: 1,
  },
  {
    fault: 'a Matroska file that claims 0.4 s',
    file: 'claims-short.mkv',
    make: async () => {
      await fromPass('claims-short.mkv', '-c', 'copy');
      await lieInMatroska(at('claims-short.mkv'), { claimedS: 0.4 });
    },
    facts: { misstatedLengthS: 0.4 },
  },
  {
    fault: 'a Matroska file that claims 16 s, as one that was cut short does',
    file: 'claims-long.mkv',
    make: async () => {
      await fromPass('claims-long.mkv', '-c', 'copy');
      await lieInMatroska(at('claims-long.mkv'), { claimedS: 16 });
    },
    facts: { durationS: 16, frameCount: 400 },
    warns: ['clip-truncated'],
  },
  {
    fault: 'a Matroska file that claims 50 frames/s',
    file: 'claims-fast.mkv',
    make: async () => {
      await fromPass('claims-fast.mkv', '-c', 'copy');
      await lieInMatroska(at('claims-fast.mkv'), { claimedFps: 50 });
    },
    facts: { misstatedFps: 50 },
  },
];

const pixels: Harmless[] = [
  ...['gray', 'yuv422p', 'yuv444p', 'yuva420p'].map((format) => ({ format, greyOff: 0 })),
  // Red, green and blue are rounded on the way there and back; more bits are rounded once on the way back.
  ...['bgr0', 'bgra'].map((format) => ({ format, greyOff: 2.5 })),
  ...['gray10le', 'gray12le', 'yuv420p10le', 'yuv444p12le'].map((format) => ({ format, greyOff: 0.6 })),
].map(({ format, greyOff }) => ({
  fault: `pixels of the kind ${format}`,
  file: `${format}.mkv`,
  make: () => fromPass(`${format}.mkv`, ...FFV1, '-pix_fmt', format),
  greyOff,
  facts: { pixelFormat: format },
}));
const pngPixels: Harmless[] = [
  { format: 'rgb24', greyOff: 2.5 },
  { format: 'rgba', greyOff: 2.5 },
  { format: 'ya8', greyOff: 0 },
].map(({ format, greyOff }) => ({
  fault: `pixels of the kind ${format}`,
  file: `${format}.mov`,
  make: () => fromPass(`${format}.mov`, '-c:v', 'png', '-pix_fmt', format),
  greyOff,
  facts: { pixelFormat: format },
}));
const oddPictures: Harmless[] = [
  ...pixels,
  ...pngPixels,
  {
    fault: 'an odd number of rows and columns',
    file: 'odd.mkv',
    make: () => fromPass('odd.mkv', '-vf', 'scale=193:109', ...FFV1, '-pix_fmt', 'yuv444p'),
    greyOff: 4,
    facts: { widthPx: 193, heightPx: 109 },
  },
  {
    fault: 'pixels twice as wide as high',
    file: 'anamorphic.mkv',
    make: () => fromPass('anamorphic.mkv', '-vf', 'scale=96:108,setsar=2', ...FFV1),
    // Half of the columns are not there.
    greyOff: 7,
    facts: { widthPx: 96 * 2, heightPx: 108 },
  },
];

const TRUE_FACTS: Partial<ClipFacts> = {
  fps: FPS,
  fpsFraction: '25/1',
  variableRate: false,
  frameCount: FRAMES,
};

describe.each([
  ['another container', rewrapped],
  ['sound of another length', soundLengths],
  ['reordered frames', reordered],
  ['a container that lies', lies],
  ['unusual pictures', oddPictures],
])('%s', (_, rows) => {
  it.each(rows)('leaves figures as they are: $fault', async (row) => {
    await row.make();
    const { facts, frames, warnings } = await decoded(at(row.file));
    expect(facts).toMatchObject({ ...TRUE_FACTS, ...row.facts });
    expect(facts.misstatedFps).toBe(row.facts?.misstatedFps);
    if (row.facts?.durationS === undefined)
      expectWithin(facts.durationS, 1.6, { abs: 0.041, why: 'one frame' }, 'length');
    expect(warnings).toEqual(row.warns ?? []);
    expect(frames).toHaveLength(FRAMES);
    frames.forEach(({ timeS, grey }, k) => {
      expectWithin(timeS, k / FPS, { abs: 0.0011, why: 'Matroska and FLV count milliseconds' }, 'moment');
      expect(differenceGrey(grey, plain[k].grey)).toBeLessThanOrEqual(row.greyOff ?? 0);
    });
  });
});

describe('a picture on its side', () => {
  it('is turned upright, pixel by pixel', async () => {
    fs.copyFileSync(pass, at('side.mp4'));
    await setDisplayMatrix(at('side.mp4'), [0, 1, -1, 0]);
    const { facts, frames } = await decoded(at('side.mp4'));
    expect(facts).toMatchObject({ widthPx: 108, heightPx: 192, rotationDeg: 90 });
    frames.forEach(({ grey, widthPx, heightPx }, k) => {
      const upright = new Uint8Array(grey.length);
      // Clockwise: what was at the bottom left comes to the top left.
      for (let y = 0; y < heightPx; y++)
        for (let x = 0; x < widthPx; x++)
          upright[y * widthPx + x] = plain[k].grey[(widthPx - 1 - x) * heightPx + y];
      expect(differenceGrey(grey, upright)).toBe(0);
    });
  });
});

describe('rates and sizes at the ends of the scale', () => {
  it('keeps every moment of 400 frames a second', async () => {
    await makeClip(at('fast.mp4'), '-i', pass, '-vf', 'setpts=N/400/TB', '-r', '400', ...X264);
    const { facts, frames } = await decoded(at('fast.mp4'));
    expect(facts).toMatchObject({ fpsFraction: '400/1', variableRate: false, frameCount: FRAMES });
    frames.forEach(({ timeS }, k) => expectWithin(timeS, k / 400, { abs: 1e-6 }, 'moment'));
  });

  it('takes the rate from time stamps that an MP4 states twice as dense', async () => {
    for (const [name, said] of [
      ['ticks.mp4', { mediaTicksPerS: 25600 }],
      ['samples.mp4', { sampleTimes: 0.5 }],
    ] as const) {
      await fromPass(name, '-c', 'copy');
      await lie(at(name), said);
      const { facts, frames } = await decoded(at(name));
      expect(facts).toMatchObject({ fpsFraction: '50/1', frameCount: FRAMES });
      expectWithin(facts.durationS, 0.8, { abs: 1e-6 }, 'length');
      expectWithin(frames[39].timeS, 39 / 50, { abs: 1e-6 }, 'last moment');
    }
  });

  it('reads an 8K picture at the analysis size, pixel for pixel', async () => {
    const large = ['-frames:v', '2', '-vf', 'scale=7680:4320:flags=neighbor', ...FFV1, '-pix_fmt', 'gray'];
    await fromPass('8k.mkv', ...large, '-slices', '4');
    const { facts, frames } = await decoded(at('8k.mkv'));
    expect(facts).toMatchObject({ widthPx: 7680, heightPx: 4320 });
    expect(frames[1]).toMatchObject({ widthPx: 960, heightPx: 540 });
    // Each pixel of the pass became 40 x 40, and these 5 x 5.
    const middles = plain[1].grey.map((_, i) => {
      const [x, y] = [i % 192, Math.floor(i / 192)];
      return frames[1].grey[(5 * y + 2) * 960 + 5 * x + 2];
    });
    expect(differenceGrey(middles, plain[1].grey)).toBeLessThanOrEqual(0.5);
  });
});

describe('time stamps that run backwards or repeat', () => {
  it.each([
    ['backwards', [1, 0]],
    ['over again', [0, 0]],
  ] as const)('go on one frame after the one before when they run %s', async (name, order) => {
    const pieces = at('piece%d.ts');
    await makeClip(
      pieces,
      '-i',
      pass,
      ...X264,
      ...['-f', 'segment', '-segment_time', '0.8', '-segment_format', 'mpegts'],
    );
    const file = at(`${name.replace(' ', '-')}.ts`);
    fs.writeFileSync(file, Buffer.concat(order.map((k) => fs.readFileSync(at(`piece${k}.ts`)))));
    const { frames, warnings } = await decoded(file);
    expect(warnings).toEqual(['time-stamps-repeat']);
    frames.forEach(({ timeS }, k) => expectWithin(timeS, k / FPS, { abs: 1e-6 }, 'moment'));
  });
});
