/** What lengths and angles are measured in: travel, focal length, the scale along a long clip; and that all of it repeats. */
import { describe, expect, it } from 'vitest';
import { poseSeries, splitMotion, vibrationOf, type Motion } from '../../src/motion/index.js';
import { mean } from '../../src/numerics/index.js';
import { TRANSLATIONAL_AXES, type Axis, type SixAxes } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { measurePass } from './support/measure-pass.js';
import { UM_PER_M } from './support/score.js';
import { simulatePass } from './support/simulated-tracks.js';

describe('scale', () => {
  const {
    pass,
    motion: right,
    scores,
  } = measurePass({
    angularDeg: 0.05,
    translationalMm: 0.5,
    durationS: 4,
    seed: 5,
  });
  const withFocal = (factor: number): Motion =>
    splitMotion(
      pass.table,
      { ...pass.camera, focalPx: pass.camera.focalPx * factor },
      { travelM: pass.travelM, interCoded: false },
    );
  const ratio = (motion: Motion, axis: Axis): number =>
    (motion.axes[axis].rms ?? NaN) / (right.axes[axis].rms ?? NaN);

  it.each([0.9, 1.1])(
    'with the focal length taken %s times: pan and tilt off by 7 to 12 per cent, lateral motion by less than 2',
    (factor) => {
      const off = withFocal(factor);
      for (const axis of ['pan', 'tilt'] as const) {
        // Angles are pixels over focal length; perspective bends that a little.
        expectWithin(ratio(off, axis), 1 / factor, { rel: 0.02, why: 'perspective' }, axis);
        expect(Math.abs(ratio(off, axis) - 1), axis).toBeGreaterThan(0.07);
        expect(Math.abs(ratio(off, axis) - 1), axis).toBeLessThan(0.12);
      }
      expectWithin(ratio(off, 'roll'), 1, { rel: 0.02, why: 'roll does not see the focal length' });
      for (const axis of ['lateral', 'vertical'] as const) {
        expectWithin(ratio(off, axis), 1, { rel: 0.02, why: 'set by the travel' }, axis);
      }
    },
  );

  it('of translation is that of the travel, and angles do not know it', () => {
    const twice = splitMotion(pass.table, pass.camera, { travelM: 2 * pass.travelM, interCoded: false });
    expectWithin(twice.axes.lateral.rms ?? NaN, 2 * (right.axes.lateral.rms ?? NaN), { rel: 1e-9 });
    expect(twice.axes.pan.rms).toBe(right.axes.pan.rms);
    expectWithin(twice.depth?.median ?? NaN, 2 * (right.depth?.median ?? NaN), { rel: 1e-9 });
  });

  it('of lateral motion is right to a few per cent in millimetres', () => {
    const why = 'a shake of 8 floors';
    expectWithin((right.axes.lateral.rms ?? NaN) * UM_PER_M, scores.lateral.trueRms * UM_PER_M, {
      rel: 0.03,
      why,
    });
  });

  it.each(['lateral', 'push', 'arc'] as const)(
    'does not drift along half a minute: six parts agree within 1.5 per cent, %s',
    { timeout: 180_000 },
    (move) => {
      const long = measurePass({ move, speedMps: 0.1, durationS: 30, fps: 25, liveTracks: 100, seed: 6 });
      const { rateHz, bandHz, intended } = long.motion;
      expect(long.motion.mode).toBe('full');
      const truth = vibrationOf(
        poseSeries(long.pass.rotations, long.pass.centres),
        rateHz,
        bandHz[0],
      ).intended;
      const local = Array.from({ length: 6 }, (_, part) => {
        const [from, to] = [part, part + 1].map((k) =>
          Math.min(Math.round(5 * k * rateHz), intended.pan.length - 1),
        );
        return distance(intended, from, to) / distance(truth, from, to);
      });
      // Depths are handed from track to track some ten times; each known to a fraction of a per cent by 100 tracks.
      local.forEach((scale, part) =>
        expectWithin(scale / mean(local), 1, { abs: 0.015, why: 'drift of the scale' }, `part ${part + 1}`),
      );
    },
  );
});

describe('a repeated measurement', () => {
  it('gives the same figures bit for bit, whatever was measured in between', () => {
    const pass = simulatePass({ durationS: 3, fps: 25, liveTracks: 120, subjectShare: 0.3, seed: 9 });
    const options = { travelM: pass.travelM, interCoded: null };
    const first = splitMotion(pass.table, pass.camera, options);
    measurePass({ durationS: 2, fps: 25, liveTracks: 60, move: 'push', seed: 10 });
    const second = splitMotion(structuredClone(pass.table), { ...pass.camera }, options);
    expect(first.mode).toBe('full');
    expect(second).toEqual(first);
  });
});

/** How far the camera moved between two frames, along its own axes. */
function distance(path: SixAxes, from: number, to: number): number {
  return Math.hypot(...TRANSLATIONAL_AXES.map((axis) => path[axis][to] - path[axis][from]));
}
