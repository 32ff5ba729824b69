/**
 * Faults of a clip that is measured all the same: a right figure, or a warning that says what is wrong, or a report that says
 * that nothing can be measured. The roll of the pass is known.
 */
import fs from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import type { RunDocument } from '../../../src/run/index.js';
import { makeClip } from '../../footage/made-clips.js';
import { expectWithin, type Tolerance } from '../../support/expect-within.js';
import { measureClip, type MeasuredClip } from './support/measure-clip.js';
import { lieInMatroska } from './support/patch-matroska.js';
import { faultBench, FFV1, ROLL, ROLL_RMS_DEG, X264 } from './support/shaken-pass.js';

const { at, fromPass, pass, makePass } = faultBench();
let plain: RunDocument;
beforeAll(async () => {
  await makePass();
  plain = (await measureClip(pass)).run!;
});

/** A fault, and what the person gets. */
interface Measurable {
  readonly fault: string;
  /** Gives the path to measure. */
  readonly make: () => Promise<string>;
  readonly words?: readonly string[];
  /** Warnings that have to be among those of the run. */
  readonly warns?: readonly string[];
  /** How near the roll has to come to that of the plain clip; null when nothing can be measured. */
  readonly roll: Tolerance | null;
  readonly run?: (run: RunDocument) => void;
}

const SAME: Tolerance = { rel: 1e-3, why: 'the same pictures at the same moments' };
const RECODED: Tolerance = { rel: 0.06, why: 'other grey levels, other points, a noise floor of 1.4 %' };
const OTHER_STRETCH: Tolerance = { rel: 0.15, why: 'other whole periods of the roll lie in the statistics' };

function written(name: string, bytes: Buffer): string {
  fs.writeFileSync(at(name), bytes);
  return at(name);
}

const container: Measurable[] = [
  {
    fault: 'a container that claims twice the rate and a quarter of the length',
    make: async () => {
      const file = await fromPass('claims.mkv', '-c', 'copy');
      await lieInMatroska(file, { claimedFps: 50, claimedS: 0.4 });
      return file;
    },
    warns: ['rate-misstated', 'length-misstated'],
    roll: SAME,
    run: ({ clip }) => {
      expect(clip).toMatchObject({ fps: 25, variableRate: false });
      expectWithin(clip.durationS, 1.6, {
        abs: 0.021,
        why: 'half a frame, the length it claims for the last',
      });
    },
  },
  {
    fault: 'a variable rate: every fifth frame is missing',
    make: () => fromPass('variable.mp4', '-vf', "select='mod(n,5)-3'", '{passthrough}', ...X264),
    warns: ['variable-rate'],
    roll: OTHER_STRETCH,
    run: ({ clip }) => expect(clip).toMatchObject({ variableRate: true, frameCount: 32 }),
  },
  {
    fault: 'a file that was cut short',
    make: async () => {
      const whole = fs.readFileSync(await fromPass('whole.mkv', '-c', 'copy'));
      return written('cut-short.mkv', whole.subarray(0, Math.floor(0.85 * whole.length)));
    },
    warns: ['clip-truncated'],
    roll: OTHER_STRETCH,
    run: ({ clip }) => expect(clip.frameCount).toBeLessThan(40),
  },
  {
    fault: 'a recording that paused for ten seconds',
    make: () =>
      fromPass(
        'paused.mkv',
        ...['-vf', "settb=1/1000,setpts='PTS+10000*gte(N,10)'", '{passthrough}'],
        ...['-enc_time_base', '1/1000', ...X264],
      ),
    warns: ['time-stamps-jump', 'cut'],
    roll: OTHER_STRETCH,
    run: ({ clip }) => expectWithin(clip.rangeS[0], 10.4, { abs: 0.001 }, 'start of the longer side'),
  },
  {
    fault: 'the end of a clip of an hour',
    make: async () => {
      const still = ['-frames:v', '1500', '-vf', 'loop=loop=1500:size=1,setpts=N/25/TB'];
      const coded = ['-c:v', 'libx264', '-preset', 'ultrafast', '-g', '250', '-pix_fmt', 'yuv420p'];
      const minute = path.basename(await fromPass('minute.ts', ...still, ...coded, '-f', 'mpegts'));
      const end = path.basename(await fromPass('end.ts', '-c', 'copy'));
      const parts = [...Array.from({ length: 59 }, () => minute), end].map((name) => `file '${name}'\n`);
      const list = written('hour.txt', Buffer.from(parts.join('')));
      return makeClip(at('hour.mp4'), '-f', 'concat', '-i', list, '-c', 'copy');
    },
    words: ['--in', '00:59:00:00', '--out', '3541.6s'],
    roll: SAME,
    run: ({ clip }) => expectWithin(clip.rangeS[0], 3540, { abs: 0.001 }, 'in point'),
  },
];

/** A curve on the luma of 10 bits, v from 0 to 1. */
function curved(name: string, curve: string, transfer: string): Promise<string> {
  const v = 'clip((val-64)/876,0,1)';
  const filter = `format=yuv420p10le,lutyuv=y='64+876*(${curve.replaceAll('v', v)})'`;
  const tags = ['-color_trc', transfer, '-color_primaries', 'bt2020', '-colorspace', 'bt2020nc'];
  return fromPass(name, '-vf', filter, ...FFV1, ...tags);
}
/** SMPTE ST 2084 with the white of the pass at 200 cd/m2 and a display gamma of 2.4. */
const LIGHT = 'pow(0.02*pow(v,2.4),0.1593017578125)';
const PQ = `pow((0.8359375+18.8515625*${LIGHT})/(1+18.6875*${LIGHT}),78.84375)`;

const pictures: Measurable[] = [
  {
    fault: 'ten bits of a flat log curve',
    make: () => curved('log.mkv', '0.2+0.22*v', 'bt709'),
    warns: ['low-contrast'],
    roll: RECODED,
    run: ({ clip }) => expect(clip.bitDepth).toBe(10),
  },
  {
    fault: 'HDR by the PQ curve',
    make: () => curved('pq.mkv', PQ, 'smpte2084'),
    warns: ['low-contrast'],
    roll: RECODED,
    run: ({ clip }) => expect(clip.colourTransfer).toBe('smpte2084'),
  },
  {
    fault: 'HDR by a curve like HLG',
    make: () => curved('hlg.mkv', '0.75*pow(v,1.2)', 'arib-std-b67'),
    roll: RECODED,
    run: ({ clip }) => expect(clip.colourTransfer).toBe('arib-std-b67'),
  },
  {
    fault: 'interlaced pictures',
    make: () =>
      fromPass('fields.mp4', '-vf', 'setfield=tff', '-flags', '+ilme+ildct', '-x264opts', 'tff=1', ...X264),
    warns: ['interlaced'],
    roll: { rel: 0.25, why: 'every second row of 108 is made up, as the warning says' },
  },
  {
    fault: '256 colours',
    // Ten frames are enough to be told of it; all of them are not measurable either.
    make: () => fromPass('colours.gif', '-frames:v', '10'),
    warns: ['few-colours'],
    roll: null,
  },
  {
    fault: 'a hard cut',
    make: () =>
      fromPass(
        'cut.mp4',
        '-filter_complex',
        '[0:v]split[a][b];[a]hflip,vflip,trim=end_frame=12[x];[b]trim=start_frame=12,setpts=PTS-STARTPTS[y];[x][y]concat',
        ...X264,
      ),
    warns: ['cut'],
    roll: OTHER_STRETCH,
    run: ({ clip }) => expectWithin(clip.rangeS[0], 0.48, { abs: 0.001 }, 'first frame after the cut'),
  },
  {
    fault: 'frames that stand still for half a second',
    make: () => fromPass('frozen.mp4', '-vf', 'loop=loop=12:size=1:start=27,setpts=N/25/TB', ...X264),
    warns: ['frozen-frames', 'motion-gap'],
    roll: OTHER_STRETCH,
  },
  {
    fault: 'frames given twice by a change of rate',
    make: () => fromPass('doubled.mp4', '-vf', 'fps=30', ...X264),
    warns: ['duplicate-frames'],
    roll: OTHER_STRETCH,
  },
  {
    fault: 'a camera that was locked off',
    make: () =>
      fromPass(
        'locked.mp4',
        '-vf',
        'loop=loop=40:size=1,setpts=N/25/TB,noise=alls=3:allf=t',
        '-frames:v',
        '40',
        ...X264,
      ),
    roll: null,
    run: ({ motion }) => expect(motion.angular.roll.noiseDeg).toBeLessThan(0.05 * ROLL_RMS_DEG),
  },
];

const grey = (level: number): string[] => [
  ...['-f', 'lavfi', '-i', `color=0x${level.toString(16).repeat(3)}:size=192x108:rate=25:duration=1.6`],
  ...X264,
];
const nothingToMeasure: (Measurable & { readonly says: RegExp })[] = [
  {
    fault: 'too dark (and a name full of traps)',
    make: () => makeClip(at(`it's "so" 100%d:1 Fußboden 床 ✓.mp4`), ...grey(0x11)),
    warns: ['too-dark'],
    roll: null,
    says: /too dark, too soft or has no texture/,
  },
  {
    fault: 'no texture (and a name that begins with a dash)',
    make: () => makeClip(at('-dash.mp4'), ...grey(0x80)),
    warns: ['no-texture'],
    roll: null,
    says: /too dark, too soft or has no texture/,
  },
  {
    fault: 'shorter than two periods of the slowest shake',
    make: () => fromPass('short.mp4', '-frames:v', '10', '-c', 'copy'),
    roll: null,
    says: /range is too short: 10 frames/,
  },
  {
    fault: 'a whip pan',
    make: () =>
      fromPass(
        'whip.mp4',
        '-vf',
        "scale=960:540,crop=192:108:x='mod(n*120,768)':y=100",
        '-frames:v',
        '27',
        ...X264,
      ),
    warns: ['few-tracks'],
    roll: null,
    says: /range is too short/,
  },
  {
    fault: 'a subject that fills the frame (cloth in the wind)',
    make: () =>
      fromPass(
        'cloth.mp4',
        ...['-vf', "geq=lum='lum(X+3*sin(Y/11+N/5),Y+3*sin(X/13-N/4))':cb=128:cr=128", ...X264],
      ),
    roll: null,
    says: /No one camera path explains.*things that move by themselves fill the frame/,
  },
];

function check(row: Measurable, told: MeasuredClip): void {
  for (const code of row.warns ?? []) expect(told.codes).toContain(code);
  const { rmsDeg } = told.run!.motion.angular.roll;
  if (row.roll === null) expect(rmsDeg).toBeNull();
  else expectWithin(rmsDeg!, plain.motion.angular.roll.rmsDeg!, row.roll, row.fault);
  row.run?.(told.run!);
}

describe('the pass itself', () => {
  it('reads the roll that was put in, and its frequency', () => {
    const { rmsDeg } = plain.motion.angular.roll;
    expectWithin(rmsDeg!, ROLL_RMS_DEG, { rel: 0.12, why: 'bilinear turning of 192 px' }, 'roll');
    const { freqHz, psd } = plain.spectrum.series.roll!;
    const top = freqHz[psd.indexOf(Math.max(...psd))];
    expectWithin(top, ROLL.freqHz, { abs: 0.7, why: 'resolution of 1.6 s' }, 'its frequency');
  });
});

describe('a fault of the container', () => {
  it.each(container)('$fault', async (row) => {
    const told = await measureClip(await row.make(), ...(row.words ?? []));
    expect(told.status).toBe(0);
    check(row, told);
  });
});

describe('a fault of the pictures', () => {
  it.each(pictures)('$fault', async (row) => {
    const told = await measureClip(await row.make());
    expect([0, 4]).toContain(told.status);
    check(row, told);
  });
});

describe('a clip of which nothing can be measured', () => {
  it.each(nothingToMeasure)('says so: $fault', async (row) => {
    const clip = await row.make();
    const here = process.cwd();
    // By its bare name, so that a leading dash stands in front.
    process.chdir(path.dirname(clip));
    const told = await measureClip(path.basename(clip)).finally(() => process.chdir(here));
    expect(told.status).toBe(4);
    check(row, told);
    expect(told.run!.clip.file).toBe(path.basename(clip));
    expect(told.run!.verdict.grade).toBe('unmeasurable');
    expect(told.run!.verdict.reasons.map(({ text }) => text).join(' ')).toMatch(row.says);
  });
});
