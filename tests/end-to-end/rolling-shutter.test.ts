/** A dolly over rough joints, filmed by a sensor that is read row by row: H.264 in, six axes out, against known truth. */
import fs from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { decodeGrey, findTools, probeClip } from '../../src/footage/index.js';
import { measure } from '../../src/measure.js';
import { poseSeries, splitMotion, vibrationOf, type Motion } from '../../src/motion/index.js';
import { rms } from '../../src/numerics/index.js';
import { cameraForFrame } from '../../src/optics/index.js';
import { AXES, parseRigFile, type Axis, type Rig } from '../../src/run/index.js';
import { trackFrames } from '../../src/tracking/index.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpClip, type MadeUpClip } from '../support/made-up-clip.js';

const READOUT_MS = 18;

/** Joints of 4 mm under a short deck: a quarter of a degree of tilt, in jumps of a few frames. */
const PASS = {
  name: 'rolling-shutter-joints',
  durationS: 4.5,
  fps: 30,
  widthPx: 960,
  heightPx: 540,
  colour: false,
  focalLengthMm: 35,
  move: 'lateral',
  speedMps: 0.3,
  readoutMs: READOUT_MS,
  seed: 51,
  cameraHeightM: 0.6,
  vibration: {
    angularDegRms: { pan: 0.04, tilt: 0.05, roll: 0.04 },
    translationMmRms: { lateral: 0.2, vertical: 0.3, axial: 0.1 },
    bandHz: [2, 10],
  },
  deck: { wheelbaseM: 0.3, trackWidthM: 0.25, floor: { joints: { spacingM: 0.3, lippageMm: 4 } } },
} as const;

/** Largest relative error of the RMS of each axis; truth is the pose of the middle row, no blur was drawn. */
const PROMISED: Record<Axis, number> = {
  pan: 0.04,
  tilt: 0.02,
  roll: 0.02,
  lateral: 0.05,
  vertical: 0.1,
  axial: 0.05,
};

describe('a clip of knocks under a rolling shutter', { timeout: 900_000 }, () => {
  let clip: MadeUpClip;
  let rig: Rig;
  /** Measured as a whole, the readout told by the rig. */
  let told: Motion;
  /** Splits the same tracks with a readout told (seconds), or with none. */
  let split: (readoutS?: number) => Motion;

  /** RMS of the truth and of the error on an axis; radians or metres. */
  function against(motion: Motion, axis: Axis): { truth: number; error: number } {
    const path = poseSeries(clip.truth.rotations, clip.truth.centres);
    const real = vibrationOf(path, motion.rateHz, motion.bandHz[0]).vibration[axis];
    const kept = (x: Float64Array): Float64Array =>
      x.subarray(motion.trimFrames, x.length - motion.trimFrames);
    const truth = kept(real);
    return { truth: rms(truth), error: rms(kept(motion.vibration[axis]).map((v, t) => v - truth[t])) };
  }

  beforeAll(async () => {
    clip = await madeUpClip(PASS);
    rig = parseRigFile(fs.readFileSync(clip.rigFile, 'utf8'), clip.rigFile).rig;
    const tools = await findTools();
    const facts = await probeClip(clip.clipFile, tools);
    const { table, interCoded } = await trackFrames(decodeGrey(clip.clipFile, facts, {}, tools), {
      seed: 1,
      threads: 1,
    });
    const { camera } = cameraForFrame(rig, facts, table);
    split = (readoutS) =>
      splitMotion(table, camera, {
        travelM: rig.travelM,
        speedMps: rig.speedMps,
        interCoded,
        sourceWidthPx: facts.widthPx,
        readoutS,
      });
    told = (await measure({ clip: clip.clipFile, rig }, { threads: 1 })).motion;
  }, 900_000);

  function expectTrue(motion: Motion): void {
    const doubtful = motion.unreliable.map(({ axis }) => axis);
    for (const axis of AXES) {
      const { truth, error } = against(motion, axis);
      const { rms: measured, floor, status } = motion.axes[axis];
      expect(error / floor, `${axis} error over floor`).toBeLessThan(1.6);
      if (doubtful.includes(axis)) continue;
      expect(status, axis).toBe('value');
      expectWithin(measured!, truth, { rel: PROMISED[axis], why: 'not marked as in doubt' }, axis);
    }
    for (const axis of ['tilt', 'roll', 'lateral'] as const) expect(doubtful).not.toContain(axis);
  }

  it('is measured as it was made when the rig tells the readout', () => {
    expect(rig.readoutMs).toBe(READOUT_MS);
    expect(told.readout).toMatchObject({
      source: 'given',
      readoutS: READOUT_MS / 1000,
      state: 'corrected',
    });
    expectTrue(told);
  });

  it('is measured as it was made when nobody knows the readout, which is then found', () => {
    const motion = split();
    const { source, state, readoutS, ci95S } = motion.readout;
    expect([source, state]).toEqual(['found', 'corrected']);
    expectWithin(1000 * readoutS!, READOUT_MS, { abs: 2, why: 'promised: 2 ms' });
    expect(1000 * ci95S![0]).toBeLessThan(READOUT_MS);
    expect(1000 * ci95S![1]).toBeGreaterThan(READOUT_MS);
    expectTrue(motion);
  });

  it('would be told with three times the vertical shake if the readout were ignored', () => {
    const motion = split(0);
    const { truth, error } = against(motion, 'vertical');
    expect(error).toBeGreaterThan(2 * truth);
    expect(motion.axes.vertical.rms!).toBeGreaterThan(2 * truth);
    expect(against(motion, 'tilt').error).toBeGreaterThan(10 * against(told, 'tilt').error);
  });
});
