/** The series file of a run holds everything that is computed from a motion: figures from it are those of the measurement itself. */
import fs from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { measure, type Measured } from '../src/measure.js';
import { restoreMotion, storeMotion } from '../src/motion/index.js';
import { proveStored } from '../src/prove.js';
import { readMeasured } from '../src/read-measured.js';
import { cropWindows } from '../src/report/crop-windows.js';
import { writeRun } from '../src/report/index.js';
import { restoreBundle } from '../src/restore-bundle.js';
import { AXES, parseRigFile, runSeriesSchema, type StoredMotion } from '../src/run/index.js';
import { planStabilisation, stabiliseSection } from '../src/stabilise/index.js';
import { madeUpMotion } from './report/support/made-up-motion.js';

const SAMPLE = path.resolve(import.meta.dirname, '../sample-clips/tiled-corridor');

describe('a run that is read back', () => {
  let folder: string;
  let measured: Measured;
  beforeAll(async () => {
    folder = await fs.mkdtemp(path.join(os.tmpdir(), 'trundle-read-'));
    const { rig, delivery } = parseRigFile(await fs.readFile(`${SAMPLE}.rig.json`, 'utf8'), 'rig');
    measured = await measure({
      clip: `${SAMPLE}.mp4`,
      rig,
      delivery,
      outPoint: '3s',
      analysisWidthPx: 480,
      pass: { floor: 'tiled corridor', lane: '2', direction: 'back', setup: 'hard wheels' },
    });
    await writeRun(folder, measured);
  });
  afterAll(() => fs.rm(folder, { recursive: true, force: true }));

  it('gives the same plan of stabilisation, bit for bit', async () => {
    const { run, pass } = await readMeasured(folder);
    const plan = planStabilisation(
      {
        motion: pass.motion,
        camera: pass.motion.camera,
        delivery: pass.delivery,
        rig: pass.rig,
        source: pass.source,
      },
      { mode: pass.choice.mode, takeS: pass.choice.takeS, seed: pass.choice.seed },
    );
    expect(JSON.parse(JSON.stringify(stabiliseSection(plan)))).toEqual(run.stabilise);
  });

  it('is not rendered from another clip than its own', async () => {
    const { run, series } = await readMeasured(folder);
    const clip = path.resolve(SAMPLE, '../plywood-loft.mp4');
    const wish = { file: path.join(folder, 'proof.mp4'), layout: 'alone', window: 'centred' } as const;
    await expect(proveStored({ run, series, clip }, wish)).rejects.toMatchObject({
      code: 'proof-impossible',
      message: expect.stringMatching(/is not the one that was measured/) as string,
    });
  });

  it('makes the same bundle again: frame, its time and points, and where its window lies', async () => {
    const { run, series } = await readMeasured(folder);
    const jpeg = await fs.readFile(path.join(folder, 'frame.jpg'));
    const back = await restoreBundle(run, series, jpeg);
    expect(back.series).toEqual(JSON.parse(JSON.stringify(measured.series)));
    expect(back.pictureAtS).toBe(measured.pictureAtS);
    expect(back.picture?.widthPx).toBe(measured.picture?.widthPx);
    expect(cropWindows(back)).toEqual(cropWindows(measured));
  });

  it('knows which points of the frame the fit kept', () => {
    const { frame, motion } = measured.series;
    const kept = frame!.kept.filter((one) => one === 1).length;
    const at = motion.timeS.findIndex((timeS) => timeS >= frame!.atS - 1e-3);
    expect(frame!.atS).toBe(measured.pictureAtS);
    expect(kept).toBe(motion.inliersPerFrame[at]);
    expect(frame!.kept.length).toBeGreaterThanOrEqual(motion.tracksPerFrame[at]);
    for (const place of [...frame!.pointsX, ...frame!.pointsY]) expect(place).toBeGreaterThan(0);
    for (const place of [...frame!.pointsX, ...frame!.pointsY]) expect(place).toBeLessThan(1);
  });

  it('opens a run that was written before points were stored', () => {
    const { frame, ...before } = measured.series;
    expect(frame).not.toBeNull();
    expect(runSeriesSchema.parse(JSON.parse(JSON.stringify(before))).frame).toBeNull();
  });

  it('keeps the sheet of the pass', async () => {
    const { run } = await readMeasured(folder);
    expect(run.pass).toEqual({ floor: 'tiled corridor', lane: '2', direction: 'back', setup: 'hard wheels' });
  });

  it('places the rear axle in every frame of the moving stretch', async () => {
    const { floor, motion } = (await readMeasured(path.join(folder, 'run.json'))).pass;
    expect(floor).not.toBeNull();
    const { fromFrame, rearM } = floor!;
    expect(fromFrame + rearM.length).toBeLessThanOrEqual(motion.timeS.length);
    expect(rearM.every((place, t) => t === 0 || place > rearM[t - 1])).toBe(true);
  });

  it('refuses series of another measurement, and a run without series', async () => {
    const file = path.join(folder, 'series.json');
    const text = await fs.readFile(file, 'utf8');
    await fs.writeFile(file, text.replace(/"createdAt":"[^"]*"/, '"createdAt":"2001-01-01T00:00:00.000Z"'));
    await expect(readMeasured(folder)).rejects.toMatchObject({
      code: 'run-invalid',
      message: expect.stringContaining('different measurements') as string,
    });
    await fs.rm(file);
    await expect(readMeasured(folder)).rejects.toMatchObject({
      code: 'run-invalid',
      message: expect.stringContaining('measure that clip again') as string,
    });
  });
});

function throughJson(stored: StoredMotion): StoredMotion {
  return JSON.parse(JSON.stringify(stored)) as StoredMotion;
}

describe('a stored motion', () => {
  it('comes back with every series and figure as it was', () => {
    const motion = madeUpMotion();
    const back = restoreMotion(throughJson(storeMotion(motion)));
    for (const axis of AXES) {
      expect(back.path[axis]).toEqual(motion.path[axis]);
      expect(back.vibration[axis]).toEqual(motion.vibration[axis]);
      expect(back.axes[axis]).toEqual(motion.axes[axis]);
    }
    expect(back.timeS).toEqual(motion.timeS);
  });

  it('keeps what is unknown or unbounded', () => {
    const motion = madeUpMotion();
    const noiseSd = { ...motion.noiseSd, pan: motion.noiseSd.pan.map((sd, t) => (t < 3 ? NaN : sd)) };
    const unbounded = { below: Infinity, floor: Infinity, plainFloor: Infinity };
    const axes = { ...motion.axes, axial: { ...motion.axes.axial, ...unbounded } };
    const back = restoreMotion(throughJson(storeMotion({ ...motion, noiseSd, axes })));
    expect(back.noiseSd.pan).toEqual(noiseSd.pan);
    expect(back.axes.axial).toEqual(axes.axial);
  });
});
