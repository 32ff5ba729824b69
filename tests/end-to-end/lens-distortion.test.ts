/** A wide lens that bends lines, measured with its distortion in the rig, without, and with a wrong one. */
import fs from 'node:fs';
import { describe, expect, it } from 'vitest';
import { measure } from '../../src/measure.js';
import { parseRigFile } from '../../src/run/index.js';
import { accuracyOf, type ClipAccuracy, type Pass } from '../support/accuracy.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpClip } from '../support/made-up-clip.js';

/** 24 mm on full frame with k1 = -0.1: the corners come in by 7 per cent. */
const WIDE_PASS: Pass = {
  name: 'lens-distortion',
  durationS: 4,
  fps: 25,
  widthPx: 960,
  heightPx: 540,
  colour: false,
  focalLengthMm: 24,
  lensK1: -0.1,
  move: 'lateral',
  speedMps: 0.2,
  seed: 41,
  vibration: {
    angularDegRms: { pan: 0.05, tilt: 0.05, roll: 0.03 },
    translationMmRms: { lateral: 0.3, vertical: 0.4, axial: 0.3 },
    bandHz: [1.5, 10],
    peaks: [{ freqHz: 4.3, share: 0.4 }],
  },
};

let calibrated: Promise<ClipAccuracy> | undefined;

/** The pass measured with the rig as it is, once for all tests. */
function withDistortion(): Promise<ClipAccuracy> {
  calibrated ??= accuracyOf(WIDE_PASS);
  return calibrated;
}

describe('a lateral pass on a wide lens of barrel distortion', { timeout: 300_000 }, () => {
  it('is measured as it was made when the rig holds the distortion', async () => {
    const { axes } = await withDistortion();
    const promised = { rel: 0.02, why: 'two per cent on the angles of a calibrated lens' };
    expectWithin(axes.pan.measured!, axes.pan.truth, promised, 'pan RMS');
    expectWithin(axes.tilt.measured!, axes.tilt.truth, promised, 'tilt RMS');
    expectWithin(
      axes.lateral.measured!,
      axes.lateral.truth,
      { abs: 0.05, why: 'as without distortion' },
      'lateral',
    );
    expect(axes.pan.correlation).toBeGreaterThan(0.995);
  });

  it('is measured nearly as well when the rig does not hold it, with a word on the lens', async () => {
    const { clipFile, rigFile } = await madeUpClip(WIDE_PASS);
    const { lensDistortion, ...rig } = parseRigFile(fs.readFileSync(rigFile, 'utf8'), rigFile).rig;
    expect(lensDistortion?.k1).toBe(-0.1);
    const { axes } = await withDistortion();
    const { run, motion } = await measure({ clip: clipFile, rig }, { threads: 1 });
    const promised = { rel: 0.03, why: 'three per cent on the angles of a lens that nobody calibrated' };
    expectWithin(run.motion.angular.pan.rmsDeg!, axes.pan.truth, promised, 'pan RMS');
    expectWithin(run.motion.angular.tilt.rmsDeg!, axes.tilt.truth, promised, 'tilt RMS');
    expectWithin(
      run.motion.translational.lateral.rms!,
      axes.lateral.truth,
      { rel: 0.1, why: 'a tenth on the axis that bent lines fill with pan' },
      'lateral RMS',
    );
    const { distortion } = run.motion;
    expect(distortion).toMatchObject({ source: 'found', state: 'corrected' });
    expect(distortion.ci95![0]).toBeLessThan(-0.1);
    expect(distortion.ci95![1]).toBeGreaterThan(-0.1);
    expect(motion.camera.distortion?.k1).toBe(distortion.k1);
    expect(run.warnings.map(({ code }) => code)).toContain('motion-distortion-found');
    const assumed = run.rig.assumed.find(({ name }) => name === 'lensDistortion');
    expect(assumed?.value).toContain('found in the clip');
  });

  it('was read a tenth too low in pan when such a lens was taken to bend nothing', async () => {
    const { clipFile, rigFile } = await madeUpClip(WIDE_PASS);
    const { rig } = parseRigFile(fs.readFileSync(rigFile, 'utf8'), rigFile);
    const straight = { ...rig, lensDistortion: { k1: 0, k2: 0, p1: 0, p2: 0, k3: 0 } };
    const { run } = await measure({ clip: clipFile, rig: straight }, { threads: 1 });
    expect(run.motion.angular.pan.rmsDeg!).toBeLessThan(0.95 * 0.05);
    expect(run.motion.translational.lateral.rms!).toBeGreaterThan(1.3 * 0.3);
    expect(run.motion.distortion.source).toBe('given');
    expect(run.rig.assumed.map(({ name }) => name)).not.toContain('lensDistortion');
  });
});
