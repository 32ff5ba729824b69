/** What the distortion in the rig is worth: a wide lens that bends lines, measured with and without it. */
import fs from 'node:fs';
import { describe, expect, it } from 'vitest';
import { measure } from '../../src/measure.js';
import { parseRigFile } from '../../src/run/index.js';
import { accuracyOf, type Pass } from '../support/accuracy.js';
import { expectWithin } from '../support/expect-within.js';
import { madeUpClip } from '../support/made-up-clip.js';

/** 24 mm on full frame with k1 = -0.1: the corners come in by 7 per cent. */
const WIDE_PASS: Pass = {
  name: 'lens-distortion',
  durationS: 4,
  fps: 25,
  widthPx: 960,
  heightPx: 540,
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

describe('a lateral pass on a wide lens of barrel distortion', { timeout: 300_000 }, () => {
  it('is measured as it was made when the rig holds the distortion', async () => {
    const { axes } = await accuracyOf(WIDE_PASS);
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

  it('loses pan to lateral, and lists the distortion as assumed, when the rig does not hold it', async () => {
    const { clipFile, rigFile } = await madeUpClip(WIDE_PASS);
    const { lensDistortion, ...rig } = parseRigFile(fs.readFileSync(rigFile, 'utf8'), rigFile).rig;
    expect(lensDistortion?.k1).toBe(-0.1);
    const { run } = await measure({ clip: clipFile, rig }, { threads: 1 });
    expect(run.motion.angular.pan.rmsDeg!).toBeLessThan(0.95 * 0.05);
    expect(run.motion.translational.lateral.rms!).toBeGreaterThan(1.3 * 0.3);
    expect(run.rig.assumed.map(({ name }) => name)).toContain('lensDistortion');
  });
});
