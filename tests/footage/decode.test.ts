/** Grey frames of a range: the right ones, at the right moment, upright, from clips whose frames carry their number. */
import { readFile, truncate, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  decodeGrey,
  grabPicture,
  probeClip,
  type DecodeOptions,
  type GreyFrame,
} from '../../src/footage/index.js';
import type { Warning } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import {
  clipFolder,
  CODED_HEIGHT_PX,
  CODED_WIDTH_PX,
  codedNumber,
  collect,
  failureOf,
  makeClip,
  makeCodedClip,
  packetTimesS,
  setDisplayMatrix,
  testSource,
  tools,
} from './made-clips.js';

const folder = clipFolder();
const at = (name: string) => path.join(folder, name);
const X264 = ['-c:v', 'libx264', '-preset', 'ultrafast', '-pix_fmt', 'yuv420p'];
/** Time stamps are whole container ticks taken exactly; what is left is floating-point rounding. */
const EXACT_S = { abs: 1e-9, why: 'container ticks are exact' };

async function decodeAll(file: string, options: DecodeOptions = {}): Promise<GreyFrame[]> {
  return collect(decodeGrey(file, await probeClip(file, tools), options, tools));
}

/** Mean grey of a part of the picture given in fractions of its size. */
function meanGrey(frame: GreyFrame, [fromX, toX]: [number, number], [fromY, toY]: [number, number]): number {
  const { widthPx, heightPx, grey } = frame;
  let sum = 0;
  let count = 0;
  for (let y = Math.ceil(fromY * heightPx); y < toY * heightPx; y++) {
    for (let x = Math.ceil(fromX * widthPx); x < toX * widthPx; x++, count++) sum += grey[y * widthPx + x];
  }
  return sum / count;
}

describe('which frames come, and when', () => {
  let coded: string;
  beforeAll(async () => {
    coded = await makeCodedClip(at('coded.mp4'), 120, { fps: 23.976, fpsFraction: '24000/1001', bFrames: 3 });
  });

  it.each(['off', 'auto'] as const)(
    'lays frames into memory that was given back, contrast %s',
    async (stretchContrast) => {
      const kept = await decodeAll(coded, { stretchContrast });
      const memory = new Set<ArrayBufferLike>();
      let count = 0;
      const facts = await probeClip(coded, tools);
      for await (const frame of decodeGrey(coded, facts, { stretchContrast }, tools)) {
        memory.add(frame.grey.buffer);
        expect(Buffer.compare(frame.grey, kept[count].grey)).toBe(0);
        count += 1;
        frame.release?.();
      }
      expect(count).toBe(kept.length);
      expect(memory.size).toBeLessThan(4);
    },
  );

  it('gives every frame once, in order, with the time stamp of the container', async () => {
    const frames = await decodeAll(coded);
    expect(frames.map(codedNumber)).toEqual(Array.from({ length: 120 }, (_, n) => n));
    expect(frames.map(({ index }) => index)).toEqual(Array.from({ length: 120 }, (_, n) => n));
    const stamps = await packetTimesS(coded);
    frames.forEach(({ timeS }, n) => {
      expectWithin(timeS, stamps[n] - stamps[0], EXACT_S, `time of frame ${n}`);
      expectWithin(timeS, (n * 1001) / 24000, EXACT_S, `time of frame ${n}`);
    });
  });

  it('tells how frames were coded', async () => {
    const types = new Set((await decodeAll(coded)).map(({ type }) => type));
    expect(types).toEqual(new Set(['I', 'P', 'B']));
    const intra = await decodeAll(await makeCodedClip(at('intra.mov'), 10, { allIntra: true }));
    expect(new Set(intra.map(({ type }) => type))).toEqual(new Set(['I']));
  });

  it.each([
    { from: 0, to: 3 },
    { from: 1, to: 2 + 1 },
    { from: 23, to: 31 },
    { from: 47, to: 50 },
    { from: 60, to: 120 },
    { from: 117, to: 120 },
  ])('gives frames $from up to but not $to when in and out fall on them', async ({ from, to }) => {
    const inS = (from * 1001) / 24000;
    const frames = await decodeAll(coded, { inS, outS: (to * 1001) / 24000 });
    expect(frames.map(codedNumber)).toEqual(Array.from({ length: to - from }, (_, n) => from + n));
    expectWithin(frames[0].timeS, inS, EXACT_S, 'time of the first');
    expect(frames[0].index).toBe(0);
  });

  it('takes frames by their own moment when in and out fall between them', async () => {
    const frames = await decodeAll(coded, { inS: 62.4 / 23.976, outS: 65.6 / 23.976 });
    expect(frames.map(codedNumber)).toEqual([63, 64, 65]);
  });

  it('cuts a clip into ranges that share no frame and lose none', async () => {
    const cutS = 33 / 23.976;
    const before = await decodeAll(coded, { outS: cutS });
    const after = await decodeAll(coded, { inS: cutS });
    expect([...before, ...after].map(codedNumber)).toEqual(Array.from({ length: 120 }, (_, n) => n));
  });

  it('gives the last frame too, however late it is read', async () => {
    const file = await makeClip(at('last.mp4'), ...testSource(640, 360, '25', 2), ...X264);
    const facts = await probeClip(file, tools);
    const read = async (pauseMs: number): Promise<number> => {
      let count = 0;
      for await (const frame of decodeGrey(file, facts, {}, tools)) {
        count = frame.index + 1;
        if (pauseMs > 0) await new Promise((resolve) => setTimeout(resolve, pauseMs));
      }
      return count;
    };
    // FFmpeg is long gone when a slow reader asks for the last bytes.
    const counts = await Promise.all([0, 0, 3, 0, 15, 0, 3, 0, 15, 0, 3, 0].map(read));
    expect(counts).toEqual(counts.map(() => 50));
  });

  it('keeps uneven time stamps as they are, in MP4 and Matroska', async () => {
    const uneven = [
      '-vf',
      "settb=1/1000,setpts='(N+0.3*mod(N,3))/25/TB'",
      '{passthrough}',
      '-enc_time_base',
      '1/1000',
    ];
    for (const name of ['uneven.mp4', 'uneven.mkv']) {
      const file = await makeClip(at(name), ...testSource(64, 48, '25', 4), ...uneven, ...X264);
      const frames = await decodeAll(file);
      const stamps = await packetTimesS(file);
      expect(frames.length).toBe(stamps.length);
      expect(frames.length).toBeGreaterThan(98);
      frames.forEach(({ timeS }, n) =>
        expectWithin(timeS, stamps[n] - stamps[0], EXACT_S, `${name}, frame ${n}`),
      );
    }
  });

  it('starts clip time at the first frame where the container starts late, and stays exact far from zero', async () => {
    for (const name of ['late.ts', 'late.mkv']) {
      const file = await makeClip(at(name), '-i', coded, '-c', 'copy', '-output_ts_offset', '2000');
      const frames = await decodeAll(file, { inS: 2.002 });
      expect(frames.map(codedNumber)).toEqual(Array.from({ length: 72 }, (_, n) => 48 + n));
      frames.forEach(({ timeS }, n) => {
        expectWithin(timeS, ((48 + n) * 1001) / 24000, {
          abs: 0.0011,
          why: 'Matroska rounds to a millisecond',
        });
      });
    }
  });

  it('counts frames where the stream has no time stamps at all', async () => {
    const file = await makeClip(
      at('bare.h264'),
      '-i',
      coded,
      '-c',
      'copy',
      '-f',
      'h264',
      '-bsf:v',
      'h264_mp4toannexb',
    );
    const frames = await decodeAll(file);
    expect(frames.map(codedNumber)).toEqual(Array.from({ length: 120 }, (_, n) => n));
    frames.slice(1).forEach(({ timeS }, n) => expect(timeS).toBeGreaterThan(frames[n].timeS));
  });
});

describe('how the pictures come', () => {
  it('keeps grey levels from encoding to decoding', async () => {
    const [frame] = await decodeAll(await makeCodedClip(at('levels.mp4'), 3, { crf: 1 }));
    expect([frame.widthPx, frame.heightPx]).toEqual([CODED_WIDTH_PX, CODED_HEIGHT_PX]);
    // 220 coded levels for 256: half a coded step, and the coder's own loss.
    const tolerance = { abs: 2, why: 'limited range has 220 levels' };
    [0, 255, 8, 8].forEach((level, patch) => {
      expectWithin(
        meanGrey(frame, [patch / 4 + 0.1, patch / 4 + 0.15], [0, 1]),
        level,
        tolerance,
        `patch ${patch}`,
      );
    });
  });

  it('makes the analysis size from the width asked for, even and never larger than the clip', async () => {
    const file = await makeClip(at('size.mp4'), ...testSource(642, 362, '25', 0.2), ...X264);
    expect(await decodeAll(file)).toMatchObject([{ widthPx: 642, heightPx: 362 }, {}, {}, {}, {}]);
    expect((await decodeAll(file, { analysisWidthPx: 321 }))[0]).toMatchObject({
      widthPx: 320,
      heightPx: 180,
    });
  });

  it.each([
    { matrix: [0, 1, -1, 0], whiteAt: 'right', top: true },
    { matrix: [0, -1, 1, 0], whiteAt: 'left', top: false },
    { matrix: [-1, 0, 0, -1], whiteAt: 'right', top: false },
    { matrix: [-1, 0, 0, 1], whiteAt: 'right', top: true },
    { matrix: [1, 0, 0, 1], whiteAt: 'left', top: true },
  ])(
    'turns a picture whose white corner is stored top left upright: $matrix',
    async ({ matrix, whiteAt, top }) => {
      const file = await makeClip(
        at(`corner-${matrix.join('')}.mp4`),
        ...['-f', 'lavfi', '-i', 'color=c=black:s=128x64:r=25:d=0.2'],
        ...['-vf', 'drawbox=x=0:y=0:w=64:h=32:color=white:t=fill', ...X264],
      );
      await setDisplayMatrix(file, matrix);
      const [frame] = await decodeAll(file);
      const isTurned = matrix[0] === 0;
      expect([frame.widthPx, frame.heightPx]).toEqual(isTurned ? [64, 128] : [128, 64]);
      for (const x of ['left', 'right']) {
        for (const y of [true, false]) {
          const level = meanGrey(frame, x === 'left' ? [0.1, 0.4] : [0.6, 0.9], y ? [0.1, 0.4] : [0.6, 0.9]);
          const expected = x === whiteAt && y === top ? 255 : 0;
          expectWithin(level, expected, { abs: 3, why: 'coding noise' }, `${x}, ${y ? 'top' : 'bottom'}`);
        }
      }
    },
  );

  it('gives anamorphic footage square pixels, also on its side', async () => {
    const file = await makeClip(
      at('squeezed.mp4'),
      ...testSource(144, 108, '25', 0.2),
      '-vf',
      'setsar=4/3',
      ...X264,
    );
    expect((await decodeAll(file))[0]).toMatchObject({ widthPx: 192, heightPx: 108 });
    await setDisplayMatrix(file, [0, 1, -1, 0]);
    expect((await decodeAll(file))[0]).toMatchObject({ widthPx: 108, heightPx: 192 });
  });

  it('takes the comb out of interlaced footage, one frame per frame', async () => {
    // A white bar that jumps by its own width in each field: woven fields show it as rows of black and white.
    const bar = "geq=lum='if(lt(abs(X-20-8*N),8),235,16)':cb=128:cr=128";
    const fields = ['-vf', `${bar},tinterlace=interleave_top`, '-flags', '+ilme+ildct', '-x264opts', 'tff=1'];
    const source = ['-f', 'lavfi', '-i', 'color=c=black:s=160x64:r=50:d=0.4'];
    const file = await makeClip(at('fields.mp4'), ...source, ...fields, ...X264);
    const facts = await probeClip(file, tools);
    const comb = async (interlaced: boolean) => {
      const frames = await collect(decodeGrey(file, { ...facts, interlaced }, {}, tools));
      expect(frames.length).toBe(10);
      const { grey, widthPx, heightPx } = frames[4];
      let sum = 0;
      for (let i = widthPx; i < widthPx * (heightPx - 1); i++) {
        sum += Math.abs(2 * grey[i] - grey[i - widthPx] - grey[i + widthPx]);
      }
      return sum / grey.length;
    };
    expect(facts.interlaced).toBe(true);
    expect(await comb(true)).toBeLessThan(0.35 * (await comb(false)));
  });

  it('raises the contrast of flat 10-bit footage by one factor for the whole clip, without steps', async () => {
    const deep = ['-c:v', 'prores_ks', '-pix_fmt', 'yuv422p10le'];
    // A ramp that crosses the frame, the same in each: every frame must come out the same.
    const ramp = [
      '-f',
      'lavfi',
      '-i',
      "color=c=gray:s=512x32:r=25:d=0.4,format=yuv422p10le,geq=lum='440+105*X/511':cb=512:cr=512",
    ];
    const file = await makeClip(at('flat.mov'), ...ramp, ...deep);
    const warnings: Warning[] = [];
    const gains: number[] = [];
    const frames = await decodeAll(file, {
      onWarning: (warning) => warnings.push(warning),
      onStart: ({ contrastGain }) => gains.push(contrastGain),
    });
    expect(warnings.map(({ code }) => code)).toEqual(['low-contrast']);
    // 12 % of the range spans 31 levels; 98 % of it is brought to 200.
    expectWithin(
      gains[0],
      200 / (0.98 * 0.12 * 255),
      { rel: 0.05, why: 'ramp ends and coding noise' },
      'gain',
    );
    const row = (frame: GreyFrame) => [...frame.grey.subarray(10 * 512, 11 * 512)];
    for (const frame of frames) expect(row(frame)).toEqual(row(frames[0]));
    // 8-bit decoding would leave 31 levels, 6 apart once stretched; 10-bit footage has four times as many.
    expect(new Set(row(frames[0])).size).toBeGreaterThan(90);
    const plain = await decodeAll(file, { stretchContrast: 'off' });
    expectWithin(
      meanGrey(frames[0], [0.8, 0.9], [0, 1]) - meanGrey(frames[0], [0.1, 0.2], [0, 1]),
      gains[0] * (meanGrey(plain[0], [0.8, 0.9], [0, 1]) - meanGrey(plain[0], [0.1, 0.2], [0, 1])),
      { rel: 0.03, why: 'rounding of the plain picture to 8 bits' },
      'difference of two places',
    );
  });

  it('leaves footage of full contrast, and black, as it is', async () => {
    const gains: number[] = [];
    const onStart = ({ contrastGain }: { contrastGain: number }) => gains.push(contrastGain);
    const black = ['-f', 'lavfi', '-i', 'color=c=black:s=64x48:r=25:d=0.4'];
    await decodeAll(await makeClip(at('full.mp4'), ...testSource(160, 120, '25', 0.4), ...X264), { onStart });
    await decodeAll(await makeClip(at('black.mp4'), ...black, ...X264), { onStart });
    expect(gains).toEqual([1, 1]);
  });
});

describe('ranges and clips that cannot be used', () => {
  it('refuses ranges outside the clip and says how long it is', async () => {
    const file = await makeCodedClip(at('short.mp4'), 50);
    const said = await failureOf('range-invalid', () => decodeAll(file, { inS: 2 }));
    expect(said).toContain('2.000 s long');
    await failureOf('range-invalid', () => decodeAll(file, { inS: -1 }));
    await failureOf('range-invalid', () => decodeAll(file, { inS: 1, outS: 1 }));
    await failureOf('range-invalid', () => decodeAll(file, { inS: 1.5, outS: 0.5 }));
    await failureOf('range-invalid', () => decodeAll(file, { inS: NaN }));
    await failureOf('clip-too-short', () => decodeAll(file, { inS: 1.01, outS: 1.02 }));
    expect((await decodeAll(file, { inS: 1.9, outS: 99 })).map(codedNumber)).toEqual([48, 49]);
  });

  it('says that one frame is too short', async () => {
    const one = await makeCodedClip(at('one.mp4'), 1);
    expect(await failureOf('clip-too-short', () => decodeAll(one))).toContain('holds one frame only');
  });

  it.each(['mp4', 'mkv'])('gives the frames of a %s cut short, then says so', async (kind) => {
    const file = await makeCodedClip(at(`cut.${kind}`), 150, { crf: 0, allIntra: true });
    await truncate(file, Math.floor((await readFile(file)).length * 0.6));
    const warnings: Warning[] = [];
    const frames = await decodeAll(file, { onWarning: (warning) => warnings.push(warning) });
    // The share of bytes left is the share of frames, give or take what headers take.
    expectWithin(frames.length, 90, { abs: 15, why: 'headers and the uneven size of frames' }, 'frames left');
    frames.slice(0, -1).forEach((frame, n) => expect(codedNumber(frame)).toBe(n));
    expect(warnings.map(({ code }) => code)).toContain('clip-truncated');
  });

  it('warns of nothing on a sound clip', async () => {
    const warnings: Warning[] = [];
    const onWarning = (warning: Warning) => warnings.push(warning);
    const file = await makeCodedClip(at('sound.mkv'), 60);
    await decodeAll(file, { onWarning });
    await decodeAll(file, { onWarning, inS: 1.3, outS: 2 });
    await decodeAll(file, { onWarning, inS: 1.3 });
    expect(warnings).toEqual([]);
  });

  it('sets a repeated time stamp one frame on, and says so', async () => {
    // Rounded to 25 a second, two frames fall on the same tick.
    const same = ['-vf', "setpts='(N+0.3*mod(N,3))/25/TB'", '{passthrough}'];
    const file = await makeClip(at('same.mkv'), ...testSource(64, 48, '25', 4), ...same, ...X264);
    const stamps = await packetTimesS(file);
    expect(stamps.some((timeS, n) => n > 0 && timeS === stamps[n - 1])).toBe(true);
    const warnings: Warning[] = [];
    const frames = await decodeAll(file, { onWarning: (warning) => warnings.push(warning) });
    expect(frames.length).toBe(100);
    frames.slice(1).forEach(({ timeS }, n) => expect(timeS).toBeGreaterThan(frames[n].timeS));
    expect(warnings.map(({ code }) => code)).toEqual(['time-stamps-repeat']);
  });

  it('says that nothing can be decoded when the pictures are destroyed', async () => {
    const file = await makeCodedClip(at('destroyed.mp4'), 50);
    const facts = await probeClip(file, tools);
    const bytes = await readFile(file);
    bytes.fill(0xff, bytes.indexOf('mdat') + 4);
    await writeFile(file, bytes);
    await failureOf('decode-failed', () => collect(decodeGrey(file, facts, {}, tools)));
  });
});

describe('one picture', () => {
  it('shows the frame on screen at that moment, the first before and the last after the clip', async () => {
    const file = await makeCodedClip(at('pictures.mp4'), 100);
    const facts = await probeClip(file, tools);
    for (const [atS, number] of [
      [0, 0],
      [-1, 0],
      [2, 50],
      [2.035, 50],
      [2.04, 51],
      [3.96, 99],
      [1000, 99],
    ]) {
      const { widthPx, heightPx, rgb } = await grabPicture(file, facts, atS, 640, tools);
      const grey = rgb.filter((_, i) => i % 3 === 1);
      expect(codedNumber({ index: 0, timeS: 0, type: '?', widthPx, heightPx, grey }), `at ${atS}`).toBe(
        number,
      );
    }
  });

  it('shows colours, upright, at the width asked for', async () => {
    const source = ['-f', 'lavfi', '-i', 'color=c=black:s=128x64:r=25:d=0.2'];
    const red = ['-vf', 'drawbox=x=0:y=0:w=64:h=64:color=red:t=fill', ...X264];
    const file = await makeClip(at('red.mp4'), ...source, ...red);
    await setDisplayMatrix(file, [0, 1, -1, 0]);
    const picture = await grabPicture(file, await probeClip(file, tools), 0, 32, tools);
    expect([picture.widthPx, picture.heightPx]).toEqual([32, 64]);
    const pixel = (x: number, y: number) => [...picture.rgb.subarray(3 * (y * 32 + x), 3 * (y * 32 + x) + 3)];
    pixel(16, 10).forEach((level, i) => expectWithin(level, [255, 0, 0][i], { abs: 6, why: '4:2:0 coding' }));
    pixel(16, 54).forEach((level) => expectWithin(level, 0, { abs: 6, why: '4:2:0 coding' }));
  });
});
