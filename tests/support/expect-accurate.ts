/** What a made-up pass must come out as: the accuracy the tool promises, axis by axis. */
import { expect } from 'vitest';
import { AXES, type Axis } from '../../src/run/index.js';
import type { ClipAccuracy } from './accuracy.js';
import { DOMINANT_HZ } from './accuracy-passes.js';
import { expectWithin } from './expect-within.js';

/** Promised accuracy of the de-biased RMS: relative, and absolute in degrees or millimetres. */
const PROMISED: Record<Axis, { readonly rel: number; readonly abs: number }> = {
  pan: { rel: 0.03, abs: 0.001 },
  tilt: { rel: 0.03, abs: 0.001 },
  roll: { rel: 0.03, abs: 0.002 },
  lateral: { rel: 0.1, abs: 0.05 },
  vertical: { rel: 0.1, abs: 0.05 },
  axial: { rel: 0.1, abs: 0.1 },
};

/** Largest bound that an axis without vibration may be told as, degrees or millimetres. */
const SILENT_BELOW: Record<Axis, number> = {
  pan: 0.003,
  tilt: 0.003,
  roll: 0.003,
  lateral: 0.15,
  vertical: 0.15,
  axial: 0.15,
};

/** True RMS below which an axis counts as silent; the made-up slow moves leave a little above 0.8 Hz. */
const SILENT: Record<Axis, number> = {
  pan: 0.0003,
  tilt: 0.0003,
  roll: 0.0003,
  lateral: 0.02,
  vertical: 0.02,
  axial: 0.02,
};

/** Checks RMS, series, sign, dominant frequency and zoom of one clip against its truth. */
export function expectAccurate(clip: ClipAccuracy): void {
  for (const axis of AXES) {
    const { truth, measured, below, floor, correlation, dominantHz, trueDominantHz, status } =
      clip.axes[axis];
    const what = `${clip.name} ${axis}`;
    if (truth < SILENT[axis]) {
      expect(status, what).toBe('below');
      expect(below!, `${what} below`).toBeLessThanOrEqual(SILENT_BELOW[axis]);
      continue;
    }
    expect(['value', 'wide'], `${what} is ${status}`).toContain(status);
    expectWithin(measured!, truth, PROMISED[axis], `${what} RMS`);
    const bin = { abs: clip.run.spectrum.resolutionHz, why: 'one resolution bin' };
    if (truth > 5 * floor!) {
      expect(correlation, `${what} correlation with the truth`).toBeGreaterThan(0.98);
      expectWithin(dominantHz ?? NaN, trueDominantHz ?? NaN, bin, `${what} dominant frequency`);
    } else {
      expect(correlation, `${what} sign`).toBeGreaterThan(0.5);
    }
    // The made-up peak holds two fifths of the power; on the angles nothing else comes near it.
    if (axis in clip.run.motion.angular)
      expectWithin(dominantHz ?? NaN, DOMINANT_HZ, bin, `${what} made-up peak`);
  }
  // Per cent of the frame width; the exact one is computed from the true path by the same definition.
  expectWithin(100 / clip.zoomMeasured, 100 / clip.zoomTrue, { abs: 0.3 }, `${clip.name} zoom`);
}
