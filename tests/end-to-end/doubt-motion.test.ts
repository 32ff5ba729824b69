/**
 * Doubts about the motion through the whole measurement: a lens that zooms or breathes, a picture that slides under it against the
 * shake, a readout that the rows contradict, a figure that fills the picture. The same passes without them raise none.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { measure } from '../../src/measure.js';
import { doubtsAmong, type Rig } from '../../src/run/index.js';
import { fastTurn } from '../motion/support/doctored-tracks.js';
import { madeUpClip, type MadeUpClip } from '../support/made-up-clip.js';
import { warpedClip, type Warp } from '../support/warped-clip.js';

const SMALL = {
  durationS: 3,
  fps: 25,
  widthPx: 640,
  heightPx: 360,
  move: 'lateral',
  speedMps: 0.2,
} as const;
/** A tenth of a degree: what stabilising is switched on for. */
const SHAKY = {
  ...SMALL,
  focalLengthMm: 24,
  vibration: { angularDegRms: { pan: 0.1, tilt: 0.1, roll: 0.05 } },
};
const LENS = { focalLengthMm: 35, sensorWidthMm: 36, readoutMs: 0 } as const;
const WIDE = { ...LENS, focalLengthMm: 24 } as const;

let plain: MadeUpClip;
let shaky: MadeUpClip;
beforeAll(async () => {
  // The clip of bad-input.test.ts: filmed once for both.
  plain = await madeUpClip({ name: 'small-lateral', ...SMALL, focalLengthMm: 35 });
  shaky = await madeUpClip({ name: 'small-shaky', ...SHAKY });
}, 300_000);

/** Doubts of a clip, measured up to two seconds unless said otherwise. */
async function doubtsOf(
  clip: string,
  rig: Rig,
  outPoint = '2s',
): Promise<{ codes: string[]; texts: string }> {
  const { run } = await measure({ clip, rig, outPoint }, { threads: 1 });
  const doubts = doubtsAmong(run.warnings);
  return {
    codes: doubts.map(({ code }) => code),
    texts: doubts.map(({ text }) => text).join('\n'),
  };
}

/** All of the picture larger by the same factor from frame to frame. */
const scaled =
  (logFocalAt: (timeS: number) => number) =>
  ({ timeS }: MadeUpClip['truth']): Warp =>
  (t, x, y) => {
    const factor = Math.exp(-logFocalAt(timeS[t]));
    return [x * factor, y * factor];
  };

describe('the motion of a pass', { timeout: 600_000 }, () => {
  it('raises no doubt on ordinary passes, shaken little or much', async () => {
    expect((await doubtsOf(plain.clipFile, LENS)).codes).toEqual([]);
    expect((await doubtsOf(shaky.clipFile, WIDE, '3s')).codes).toEqual([]);
  });

  it('raises one when the lens zooms: how far, and what not to trust', async () => {
    const zoomed = await warpedClip(
      plain,
      'zoom-2-a-second',
      scaled((s) => 0.02 * s),
    );
    const { codes, texts } = await doubtsOf(zoomed, LENS);
    expect(codes).toEqual(['zoom-during-pass']);
    const percent = Number(/about ([\d.]+) %/.exec(texts)?.[1]);
    expect(percent).toBeGreaterThan(2);
    expect(percent).toBeLessThan(6);
    expect(texts).toMatch(/Do not trust axial.*grade of the floor/);
  });

  it('raises one when the picture breathes with the focus', async () => {
    const pulled = await warpedClip(
      plain,
      'breathes-1',
      scaled((s) => 0.01 * Math.sin((Math.PI * s) / 2) ** 2),
    );
    expect((await doubtsOf(pulled, LENS)).codes).toEqual(['focus-breathing']);
  });

  it('raises one when the picture slides under the lens against the shake', async () => {
    const steadied = await warpedClip(shaky, 'slid-90', ({ rotations, centres }) => {
      const w = fastTurn({ rotations, centres }, 25, 1);
      return (t, x, y) => [x + 0.9 * w[3 * t + 1], y - 0.9 * w[3 * t]];
    });
    const { codes, texts } = await doubtsOf(steadied, WIDE, '3s');
    expect(codes).toEqual(['stabilised-in-camera']);
    expect(texts).toMatch(/grade of the floor.*Switch stabilising off/);
  });

  it('raises one when the rows speak against the readout that was given, and none against the right one', async () => {
    const rolled = await madeUpClip({ name: 'small-rolling', ...SHAKY, readoutMs: 15 });
    const wrong = await doubtsOf(rolled.clipFile, WIDE);
    expect(wrong.codes).toEqual(['rolling-artefacts']);
    const [low, high] = (/show (\d+) to (\d+) ms/.exec(wrong.texts) ?? []).slice(1).map(Number);
    expect(low).toBeLessThanOrEqual(15);
    expect(high).toBeGreaterThanOrEqual(15);
    expect((await doubtsOf(rolled.clipFile, { ...WIDE, readoutMs: 15 })).codes).toEqual([]);
  });

  it('raises one when a figure near the lens holds much of the picture', async () => {
    const crowded = await madeUpClip({
      name: 'small-crowded',
      ...SMALL,
      focalLengthMm: 35,
      subjectDistanceM: 1.3,
    });
    const { codes, texts } = await doubtsOf(crowded.clipFile, LENS);
    expect(codes).toContain('subject-dominates');
    expect(texts).toMatch(/moves by itself.*--in, --out/);
  });
});
