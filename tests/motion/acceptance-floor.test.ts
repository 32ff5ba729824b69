/** What the split promises of a travelling camera: errors as small as its own noise floors, and floors that are honest. */
import { describe, expect, it } from 'vitest';
import { splitMotion } from '../../src/motion/index.js';
import { gaussianRandom, mean, seededRandom } from '../../src/numerics/index.js';
import { AXES, type Axis } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { measurePass } from './support/measure-pass.js';
import { score } from './support/score.js';
import { simulatePass } from './support/simulated-tracks.js';

/** Error at most this many floors: 120 samples scatter by 6 %, and this is the largest of 54 axes. */
const WORST_ERROR_FLOORS = 1.25;

describe('a travelling camera', () => {
  const moves = ['lateral', 'push', 'arc'] as const;
  const cases = moves.flatMap((move) => [24, 50, 85].map((focalMm) => ({ move, focalMm })));
  const ratios: Record<Axis, number[]> = {
    pan: [],
    tilt: [],
    roll: [],
    lateral: [],
    vertical: [],
    axial: [],
  };

  it.each(cases)('is measured to its floor on all six axes: $move, $focalMm mm', ({ move, focalMm }) => {
    const { motion, scores } = measurePass({ move, focalMm, durationS: 5, seed: 2 });
    expect([motion.mode, motion.observable]).toEqual(['full', 'yes']);
    for (const axis of AXES) {
      expect(scores[axis].errorOverFloor, axis).toBeLessThan(WORST_ERROR_FLOORS);
      ratios[axis].push(scores[axis].errorOverFloor);
      const { floor, rms } = motion.axes[axis];
      if (scores[axis].trueRms < 1.5 * floor) continue;
      const why = 'noise and motion of 120 samples, added by chance';
      expectWithin(rms ?? NaN, scores[axis].trueRms, { rel: 0.1, why }, `${axis} RMS freed of noise`);
    }
  });

  it('has errors as large as its floors say: each within 0.8 to 1.3, and together on every axis', () => {
    for (const axis of AXES) {
      for (const ratio of ratios[axis]) {
        // Floor over error between 0.8 and 1.3.
        expect(1 / ratio, axis).toBeGreaterThan(0.8);
        expect(1 / ratio, axis).toBeLessThan(1.3);
      }
      const together = Math.sqrt(mean(ratios[axis].map((ratio) => ratio ** 2)));
      expectWithin(
        together,
        1,
        { abs: 0.1, why: 'nine clips of 120 samples: 2 %; floor formula: 7 %' },
        axis,
      );
    }
  });
});

describe('error that regions of the picture share', () => {
  // A shift of 0.012 px in each sixth of the picture and frame, as inter-frame coding leaves it, under quiet tracks.
  const pass = simulatePass({ durationS: 3.5, noisePx: 0.02, seed: 2 });
  const normal = gaussianRandom(seededRandom(77));
  const shifts = Float64Array.from({ length: 12 * pass.table.frameCount }, () => 0.012 * normal());
  const table = structuredClone(pass.table);
  for (let o = 0; o < table.xPx.length; o++) {
    const cell = Math.floor(table.xPx[o] / 320) + 3 * Math.floor(table.yPx[o] / 270);
    table.xPx[o] += shifts[12 * table.obsFrame[o] + 2 * cell];
    table.yPx[o] += shifts[12 * table.obsFrame[o] + 2 * cell + 1];
  }
  const motion = splitMotion(table, pass.camera, { travelM: pass.travelM, interCoded: true });
  const scores = score(motion, pass);

  it('is missing from the plain floor and in the wide one, which still ranks the axes', () => {
    const ratios = AXES.map((axis) => scores[axis].errorOverFloor);
    const plain = AXES.map((axis) => scores[axis].errorRms / (motion.axes[axis].plainFloor ?? NaN));
    // Twelve shifts a frame excite six axes: single axes scatter by a third.
    ratios.forEach((ratio, a) =>
      expectWithin(ratio, 1, { abs: 0.35, why: 'a default shape of error' }, AXES[a]),
    );
    expect(mean(plain)).toBeGreaterThan(1.5);
  });
});
