/** What is left on another lens or at another speed, by the code that judges the clip itself. */
import { describe, expect, it } from 'vitest';
import type { Camera } from '../../src/optics/index.js';
import type { Motion } from '../../src/motion/index.js';
import {
  cropAtSpeed,
  focalTable,
  residualOf,
  type Corrections,
  type SpeedMethod,
} from '../../src/stabilise/index.js';
import { plainCamera } from '../optics/support/plain-camera.js';
import { expectWithin } from '../support/expect-within.js';
import { madeMotion, unitShake, type MadeMotion } from './support/made-motion.js';

const camera = plainCamera(960, 540, 933);
const delivery = { widthPx: 1920, heightPx: 1080, viewingDistanceHeights: 3.1 };
const SHAPE = 9 / 16;
const passAt = (speedFactor: number, more: MadeMotion = {}) =>
  madeMotion({
    durationS: 20 / speedFactor,
    path: {
      tilt: (s) => 0.002 * unitShake(2)(s * speedFactor),
      lateral: (s) => 0.2 * s * speedFactor + 3e-4 * unitShake(4)(s * speedFactor),
    },
    noiseSd: { tilt: 1e-5, lateral: 2e-5, vertical: 2e-5, axial: 4e-5 },
    ...more,
  });

function left(
  motion: Motion,
  { vibration }: Corrections,
  each: Camera,
  zoom: number,
  readoutS: number | null,
) {
  return residualOf({
    motion,
    band: { series: motion.vibration, rms: rmsOf(motion), rawRms: rmsOf(motion) },
    correctionsVibration: vibration,
    camera: each,
    pxScale: 2 * zoom,
    times: { exposureS: 0.02, readoutS },
    rowsCorrected: false,
    delivery,
  });
}

function rmsOf({ axes }: Motion) {
  const { pan, tilt, roll, lateral, vertical, axial } = axes;
  return {
    pan: pan.rms ?? 0,
    tilt: tilt.rms ?? 0,
    roll: roll.rms ?? 0,
    lateral: lateral.rms ?? 0,
    vertical: vertical.rms ?? 0,
    axial: axial.rms ?? 0,
  };
}

describe('what is left on another lens', () => {
  it('grows with focal length and zoom where the camera moves sideways', () => {
    const motion = passAt(1);
    const corrections = { vibration: motion.vibration, rows: null };
    const rows = focalTable({
      corrections,
      camera,
      shape: SHAPE,
      focalLengthMm: 35,
      residualPx: (each, zoom) =>
        left(motion, corrections, each, zoom, null).causes.translation?.rmsPx ?? null,
    });
    const used = rows.find((row) => row.used);
    for (const row of rows) {
      const scale = (row.focalFactor * row.zoom) / (used?.zoom ?? NaN);
      expectWithin((row.residualPx ?? NaN) / (used?.residualPx ?? NaN), scale, {
        rel: 0.01,
        why: 'the noise of the axial axis does not go with the focal length',
      });
    }
  });
});

describe('what is left at another speed', () => {
  const method: SpeedMethod = {
    corrections: (motion) => ({ vibration: motion.vibration, rows: null }),
    residualPx: (motion, corrections, zoom) =>
      left(motion, corrections, camera, zoom, 0.012).total?.rmsPx ?? null,
  };
  const at = (motion: Motion, factor: number) =>
    cropAtSpeed({ motion, camera, shape: SHAPE, speedMps: null, method }, factor).allFloor?.residualPx ?? NaN;

  it.each([0.5, 2])('is that of a pass at %s times the speed, wobble of the rows included', (factor) => {
    const predicted = at(passAt(1), factor);
    expectWithin(predicted, at(passAt(factor, { rateHz: 25 * factor }), 1), {
      rel: 0.01,
      why: 'half a second left out at the ends may differ by a sample',
    });
    if (factor > 1) expect(predicted).toBeGreaterThan(1.3 * at(passAt(1), 1));
  });
});
