/** Clips of hours are followed stretch by stretch: here a clip of three seconds, with limits so short that it counts as one. */
import path from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { followClip } from '../src/follow-clip.js';
import type { Followed, FollowPlan } from '../src/follow-plan.js';
import { findTools, probeClip, type Tools } from '../src/footage/index.js';
import type { MeasureHooks } from '../src/measure-request.js';
import { rms } from '../src/numerics/index.js';
import { AXES, type Warning } from '../src/run/index.js';
import { clipFolder, makeClip } from './footage/made-clips.js';
import { madeUpClip } from './support/made-up-clip.js';

const RIG = {
  focalLengthMm: 35,
  sensorWidthMm: 36,
  speedMps: 0.2,
  readoutMs: 0,
  lensDistortion: { k1: 0, k2: 0, p1: 0, p2: 0, k3: 0 },
};
/** Two stretches of the 75 frames. */
const SHORT = { atOnce: 40, stretch: 40, shared: 20 };
const LENGTH = { atOnce: 1000, stretch: 1000, shared: 20 };

let tools: Tools;
let clip: string;
let withCut: string;

/** A clip followed, and what was told meanwhile. */
interface Told {
  readonly warnings: readonly Warning[];
  readonly progress: readonly (readonly [stage: string, done: number, total: number | null])[];
}

async function follow(
  file: string,
  limits: typeof SHORT,
  change: Partial<FollowPlan['facts']> = {},
  hooks: MeasureHooks = {},
): Promise<Followed & Told> {
  const facts = { ...(await probeClip(file, tools)), ...change };
  const warnings: Warning[] = [];
  const progress: [string, number, number | null][] = [];
  const plan: FollowPlan = {
    request: { clip: file, rig: RIG },
    facts,
    seed: 1,
    reading: { onWarning: (warning) => warnings.push(warning) },
  };
  const onProgress = (stage: string, done: number, total: number | null): void =>
    void progress.push([stage, done, total]);
  const followed = await followClip(plan, { threads: 1, onProgress, ...hooks }, tools, limits);
  return { ...followed, warnings, progress };
}

beforeAll(async () => {
  tools = await findTools();
  const small = { durationS: 3, fps: 25, widthPx: 640, heightPx: 360, focalLengthMm: 35 } as const;
  ({ clipFile: clip } = await madeUpClip({
    name: 'small-lateral',
    ...small,
    move: 'lateral',
    speedMps: 0.2,
  }));
  // The second half stands on its head: another picture, as after a cut.
  withCut = await makeClip(
    path.join(clipFolder(), 'cut.mp4'),
    ...['-i', clip, '-vf', "rotate=PI:enable='gte(n,30)'", '-c:v', 'libx264', '-crf', '8'],
  );
}, 300_000);

describe('a clip followed in stretches, which states more than it holds', { timeout: 120_000 }, () => {
  let whole: Followed;
  let parts: Followed & Told;
  beforeAll(async () => {
    whole = await follow(clip, LENGTH);
    parts = await follow(clip, SHORT, { durationS: 9 });
  });

  it('has the frames of the clip followed at once, and no track', () => {
    expect(parts.tracking.table.timeS).toEqual(whole.tracking.table.timeS);
    expect(parts.tracking.table.trackCount).toBe(0);
  });

  it('has its motion, within what either cannot see', () => {
    expect(parts.motion.timeS).toEqual(whole.motion.timeS);
    expect(parts.motion.mode).toBe('full');
    expect(parts.motion.translationUnit).toBe('m');
    for (const axis of AXES) {
      const [one, other] = [whole.motion.vibration[axis], parts.motion.vibration[axis]];
      expect(rms(one.map((value, i) => value - other[i])), axis).toBeLessThan(
        2 * whole.motion.axes[axis].floor,
      );
    }
  });

  it('tells once that the rest is missing', () => {
    expect(parts.warnings.filter(({ code }) => code === 'clip-truncated')).toHaveLength(1);
  });

  it('counts its frames on from stretch to stretch', () => {
    for (const stage of ['track', 'split']) {
      const done = parts.progress.filter(([name]) => name === stage).map(([, n]) => n);
      expect(done, stage).toEqual(done.toSorted((a, b) => a - b));
    }
  });
});

describe('a clip with a cut', { timeout: 120_000 }, () => {
  it('is measured on the longer side of it, and says so', async () => {
    const { tracking } = await follow(withCut, SHORT);
    expect(tracking.table.timeS[0]).toBeCloseTo(30 / 25, 3);
    expect(tracking.table.frameCount).toBe(45);
    const [cut] = tracking.warnings;
    expect(cut.code).toBe('cut');
    expect(cut.atS).toBeCloseTo(30 / 25, 3);
    expect(cut.text).toContain('1.20 s');
  });
});

describe('a wish to stop', () => {
  it('is heard between stretches', async () => {
    const stop = new AbortController();
    const onProgress = (stage: string): void => {
      if (stage === 'split') stop.abort();
    };
    await expect(follow(clip, SHORT, {}, { signal: stop.signal, onProgress })).rejects.toMatchObject({
      code: 'interrupted',
    });
  });
});
