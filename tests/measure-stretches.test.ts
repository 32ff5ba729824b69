/** Stretches of a clip measured as jobs of their own and joined: against the same clip at once, and against the same stretches in a row. */
import { beforeAll, describe, expect, it } from 'vitest';
import { followClip } from '../src/follow-clip.js';
import { findTools, type Tools } from '../src/footage/index.js';
import { countStretches, measureJoined, measureStretch } from '../src/measure-stretches.js';
import { measure, measureFollowed, type Measured } from '../src/measure.js';
import type { MeasureRequest } from '../src/measure-request.js';
import { rms } from '../src/numerics/index.js';
import { AXES } from '../src/run/index.js';
import { singleAxisPass } from './support/accuracy-passes.js';
import { madeUpClip } from './support/made-up-clip.js';
import { expectWithin } from './support/expect-within.js';

/** Three stretches of the 75 frames, so that each stands for minutes. */
const LIMITS = { atOnce: 30, stretch: 30, shared: 20 };
const HOOKS = { threads: 1 };

let tools: Tools;
let request: MeasureRequest;
let records: Uint8Array[];

beforeAll(async () => {
  tools = await findTools();
  // Three seconds at 25 frames/s in which nothing but the tilt shakes.
  const { clipFile } = await madeUpClip(singleAxisPass('tilt'));
  request = {
    clip: clipFile,
    rig: { focalLengthMm: 28, sensorWidthMm: 36, speedMps: 0.2, readoutMs: 0 },
  };
  const first = await measureStretch(request, 0, null, { ...HOOKS, tools }, LIMITS);
  // The last comes before the middle one: each is a job of its own.
  const last = await measureStretch(request, 2, first, { ...HOOKS, tools }, LIMITS);
  records = [first, await measureStretch(request, 1, first, { ...HOOKS, tools }, LIMITS), last];
}, 300_000);

describe('a clip measured by stretches that are jobs of their own', { timeout: 120_000 }, () => {
  let joined: Measured;
  let whole: Measured;
  beforeAll(async () => {
    joined = await measureJoined(request, records, { ...HOOKS, tools }, LIMITS);
    whole = await measure(request, { ...HOOKS, tools });
  }, 120_000);

  it('is cut where it is too long, and only there', async () => {
    expect(await countStretches(request, { tools }, LIMITS)).toBe(3);
    expect(await countStretches(request, { tools })).toBe(0);
  });

  it('has the same frames and the vibration of the clip as one piece, within what either cannot see', () => {
    expect(joined.motion.timeS).toEqual(whole.motion.timeS);
    for (const axis of AXES) {
      const [one, other] = [whole.motion.vibration[axis], joined.motion.vibration[axis]];
      const off = rms(one.map((value, i) => value - other[i]));
      expect(off, axis).toBeLessThan(2 * whole.motion.axes[axis].floor);
    }
  });

  it('has its figures within their own ranges: shake, crop and verdict', () => {
    const [low, high] = whole.run.motion.angular.tilt.ci95Deg ?? [NaN, NaN];
    const { rmsDeg } = joined.run.motion.angular.tilt;
    expect(rmsDeg).toBeGreaterThan(low);
    expect(rmsDeg).toBeLessThan(high);
    for (const axis of ['pan', 'roll'] as const)
      expect(joined.run.motion.angular[axis].status, axis).toBe(whole.run.motion.angular[axis].status);
    const { cropPercent } = whole.run.stabilise;
    expectWithin(joined.run.stabilise.cropPercent, cropPercent, {
      abs: 0.1 * cropPercent,
      why: 'the largest excursion of three seconds, seen in three stretches of one',
    });
    expect(joined.run.verdict.grade).toBe(whole.run.verdict.grade);
  });

  it('is, to the bit, what stretches that are followed in a row give', async () => {
    const inARow = await measureFollowed(request, HOOKS, tools, (plan) =>
      followClip(plan, HOOKS, tools, LIMITS),
    );
    expect(joined.motion).toEqual(inARow.motion);
    const undated = ({ run, series }: Measured): object => ({
      run: { ...run, createdAt: '' },
      series: { ...series, createdAt: '' },
    });
    expect(undated(joined)).toEqual(undated(inARow));
  });
});

describe('records of stretches', () => {
  it('are refused when some are missing, and when they cannot be read', async () => {
    const joined = (some: Uint8Array[]): Promise<Measured> =>
      measureJoined(request, some, { ...HOOKS, tools }, LIMITS);
    await expect(joined(records.slice(0, 2))).rejects.toThrow('those of 3 stretches, got 2');
    await expect(joined([...records.slice(0, 2), records[2].slice(0, 99)])).rejects.toMatchObject({
      code: 'stretch-unreadable',
    });
    await expect(measureStretch(request, 3, null, { tools }, LIMITS)).rejects.toThrow(RangeError);
  });
});
