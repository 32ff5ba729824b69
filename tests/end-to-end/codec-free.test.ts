/** Pictures straight from the renderer, no codec between: what the tracker and the split do by themselves. */
import { beforeAll, describe, expect, it } from 'vitest';
import type { GreyFrame } from '../../src/footage/index.js';
import { poseSeries, splitMotion, vibrationOf, type Motion } from '../../src/motion/index.js';
import { cameraForFrame } from '../../src/optics/index.js';
import { AXES, type Axis } from '../../src/run/index.js';
import {
  resolveSynthOptions,
  rigOf,
  startFilm,
  truthOf,
  type PartialSynthOptions,
  type SynthTruth,
} from '../../src/synth/index.js';
import { trackFrames, type TrackingOptions } from '../../src/tracking/index.js';

const VIBRATION = {
  angularDegRms: { pan: 0.02, tilt: 0.025, roll: 0.018 },
  translationMmRms: { lateral: 0.3, vertical: 0.4, axial: 0.3 },
  bandHz: [1.5, 10],
  peaks: [{ freqHz: 4.3, share: 0.4 }],
} as const;

/** A film held in memory, as the decoder would give its frames. */
interface Footage {
  readonly frames: readonly GreyFrame[];
  readonly truth: SynthTruth;
  readonly rig: ReturnType<typeof rigOf>;
}

function shoot(given: PartialSynthOptions): Footage {
  const options = resolveSynthOptions({ fps: 30, colour: false, vibration: VIBRATION, ...given });
  const film = startFilm(options);
  const { widthPx, heightPx } = options;
  const truth = truthOf(film);
  const frames = Array.from({ length: film.frameCount }, (_, index) => ({
    index,
    timeS: film.path.timesS[index],
    type: 'I' as const,
    widthPx,
    heightPx,
    grey: film.frame(index),
  }));
  return { frames, truth, rig: rigOf(options, truth.travelM) };
}

async function* feed(frames: readonly GreyFrame[]): AsyncGenerator<GreyFrame> {
  for (const frame of frames) {
    await Promise.resolve();
    yield frame;
  }
}

interface Outcome {
  readonly refinedShare: number;
  /** RMS of measured less true vibration, radians and metres. */
  readonly error: Record<Axis, number>;
  /** The same over the part of the floor that is independent from track to track. */
  readonly overFloor: Record<Axis, number>;
}

async function measured({ frames, truth, rig }: Footage, options: TrackingOptions): Promise<Outcome> {
  const { table, interCoded, refinedShare } = await trackFrames(feed(frames), { threads: 1, ...options });
  const { camera } = cameraForFrame(rig, { widthPx: table.widthPx, heightPx: table.heightPx }, table);
  const motion = splitMotion(table, camera, { travelM: truth.travelM, interCoded });
  const error = errorsOf(motion, truth);
  const floor = (axis: Axis): number => motion.axes[axis].plainFloor ?? motion.axes[axis].floor;
  return {
    refinedShare,
    error,
    overFloor: Object.fromEntries(AXES.map((axis) => [axis, error[axis] / floor(axis)])) as Record<
      Axis,
      number
    >,
  };
}

function errorsOf(motion: Motion, truth: SynthTruth): Record<Axis, number> {
  const path = poseSeries(truth.rotations, truth.centres);
  const { vibration } = vibrationOf(path, motion.rateHz, motion.bandHz[0]);
  const [from, to] = [motion.trimFrames, motion.timeS.length - motion.trimFrames];
  const rms = (axis: Axis): number => {
    let squares = 0;
    for (let k = from; k < to; k++) squares += (motion.vibration[axis][k] - vibration[axis][k]) ** 2;
    return Math.sqrt(squares / (to - from));
  };
  return Object.fromEntries(AXES.map((axis) => [axis, rms(axis)])) as Record<Axis, number>;
}

/** Geometric mean over the six axes: one figure for angles and lengths. */
function overAxes(figure: (axis: Axis) => number): number {
  return Math.exp(AXES.reduce((sum, axis) => sum + Math.log(figure(axis)), 0) / AXES.length);
}

describe('a lateral move without codec', () => {
  let footage: Footage;
  let plain: Outcome;

  beforeAll(async () => {
    const lateral = { move: 'lateral', focalLengthMm: 35, speedMps: 0.2, durationS: 3, seed: 11 } as const;
    footage = shoot({ ...lateral, widthPx: 640, heightPx: 360 });
    plain = await measured(footage, {});
  }, 120_000);

  it('is followed by Lucas-Kanade alone and errs by the floor that the split states', () => {
    expect(plain.refinedShare).toBe(0);
    // Measured 0.9 to 1.4 by axis and 1.1 on the mean: the floor is the whole error when no codec adds its own.
    for (const axis of AXES) expect(plain.overFloor[axis], axis).toBeLessThan(1.8);
    expect(overAxes((axis) => plain.overFloor[axis])).toBeLessThan(1.4);
  });

  it('errs more on the mean of the axes when the starts of the tracks are not dithered', async () => {
    const bare = await measured(footage, { ditherPx: 0 });
    // Measured 1.2. Blur and the staggered ends of the tracks take most of the shared sub-pixel error away by themselves.
    expect(overAxes((axis) => bare.error[axis] / plain.error[axis])).toBeGreaterThan(1.08);
  }, 60_000);
});

describe('a push-in without codec', () => {
  it('is refined against templates, errs by its floor, and clearly less than Lucas-Kanade alone', async () => {
    const pushIn = { move: 'pushIn', focalLengthMm: 28, speedMps: 0.4, durationS: 2.5, seed: 10 } as const;
    const footage = shoot({ ...pushIn, widthPx: 960, heightPx: 540 });
    const chosen = await measured(footage, {});
    const plain = await measured(footage, { refine: 'never' });
    expect(chosen.refinedShare).toBeGreaterThan(0.85);
    for (const axis of AXES) expect(chosen.overFloor[axis], axis).toBeLessThan(1.8);
    // Measured 0.68 on the mean of the six axes.
    expect(overAxes((axis) => chosen.error[axis] / plain.error[axis])).toBeLessThan(0.8);
  }, 180_000);
});
