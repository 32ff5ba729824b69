/** Rolling shutter on simulated tracks: with the readout told, with the readout found, with knocks, and without any. */
import { describe, expect, it } from 'vitest';
import { meanAxisCovariance } from '../../src/motion/axis-noise.js';
import { passedShare } from '../../src/motion/estimate.js';
import { poseSeries, splitMotion, vibrationOf, type Motion } from '../../src/motion/index.js';
import { prepareObservations } from '../../src/motion/observations.js';
import { resolveSplitOptions } from '../../src/motion/options.js';
import { SEGMENT_LIMITS } from '../../src/motion/segments/plan.js';
import { reconstructClip } from '../../src/motion/segments/reconstruct-clip.js';
import { rms } from '../../src/numerics/index.js';
import { AXES, ANGULAR_AXES } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { score } from './support/score.js';
import { simulatePass, type PassOptions, type SimulatedPass } from './support/simulated-tracks.js';

/** Tilt 0.05 deg and vertical 0.5 mm RMS: a shaky dolly, seen by fewer tracks than a clip has: errors count in floors, which go with them. */
const SHAKY = { angularDeg: 0.05, translationalMm: 0.5, durationS: 4, liveTracks: 160 } as const;

let filmedLast: { readonly key: string; readonly pass: SimulatedPass } | null = null;

/** The pass, simulated once for the splits that follow one another. */
function film(options: Partial<PassOptions>): SimulatedPass {
  const key = JSON.stringify(options);
  if (filmedLast?.key !== key) filmedLast = { key, pass: simulatePass(options) };
  return filmedLast.pass;
}

function measure(
  options: Partial<PassOptions>,
  readoutS?: number,
): { pass: SimulatedPass; motion: Motion; scores: ReturnType<typeof score> } {
  const pass = film(options);
  const travelM = pass.travelM > 0 ? pass.travelM : undefined;
  const motion = splitMotion(pass.table, pass.camera, { travelM, interCoded: false, readoutS });
  return { pass, motion, scores: score(motion, pass) };
}

describe('a readout that is told', () => {
  const filmed = { ...SHAKY, readoutMs: 15, seed: 1 };

  it('is corrected to the noise floor on all six axes', () => {
    const { motion, scores } = measure(filmed, 0.015);
    expect(motion.readout).toEqual({
      source: 'given',
      readoutS: 0.015,
      ci95S: null,
      state: 'corrected',
      costFall: null,
    });
    expect(motion.unreliable).toEqual([]);
    for (const axis of AXES) {
      // One clip of 90 samples scatters about its floor; the motion within the frames costs up to a fifth more.
      const worst = axis === 'roll' || axis === 'axial' ? 1.5 : 1.3;
      expect(scores[axis].errorOverFloor, axis).toBeLessThan(worst);
    }
  });

  it('would leak many times the floor into every axis if it were ignored', () => {
    const { motion, scores } = measure(filmed, 0);
    expect(motion.readout.state).toBe('notNeeded');
    for (const axis of AXES) expect(scores[axis].errorOverFloor, axis).toBeGreaterThan(2);
    expect(scores.tilt.errorOverFloor).toBeGreaterThan(5);
    expect(scores.vertical.errorOverFloor).toBeGreaterThan(5);
  });

  it('is corrected near half the frame rate as well, where neighbouring frames do not tell the speed', () => {
    const { scores } = measure({ ...filmed, fps: 24, seed: 2 }, 0.015);
    for (const axis of AXES) expect(scores[axis].errorOverFloor, axis).toBeLessThan(1.5);
  });

  it('is corrected on a camera that only turns', () => {
    const still = { ...filmed, move: 'static', translationalMm: 0 } as const;
    const { motion, scores } = measure(still, 0.015);
    const ignored = measure(still, 0);
    expect(motion.mode).toBe('rotationOnly');
    for (const axis of ANGULAR_AXES) expect(scores[axis].errorOverFloor, axis).toBeLessThan(1.4);
    expect(ignored.scores.tilt.errorRms).toBeGreaterThan(2.5 * scores.tilt.errorRms);
  });
});

describe('a readout that is not told', () => {
  it.each([
    { readoutMs: 8, fps: 25, seed: 3 },
    { readoutMs: 15, fps: 30, seed: 4 },
    { readoutMs: 15, fps: 30, seed: 6, move: 'push' as const, focalMm: 28 },
  ])('is found within 2 ms from a vibration of 0.02 deg: %o', (options) => {
    const { motion, scores } = measure({
      angularDeg: 0.02,
      translationalMm: 0.2,
      durationS: 3.5,
      liveTracks: 160,
      ...options,
    });
    const { source, state, readoutS, ci95S, costFall } = motion.readout;
    expect(source).toBe('found');
    expect(state).toBe('corrected');
    expectWithin(1000 * readoutS!, options.readoutMs, { abs: 0.8, why: 'promised: 2 ms; seen: 0.4 ms' });
    expect(1000 * ci95S![0]).toBeLessThan(options.readoutMs);
    expect(1000 * ci95S![1]).toBeGreaterThan(options.readoutMs);
    expect(1000 * (ci95S![1] - ci95S![0])).toBeLessThan(3);
    expect(costFall!).toBeGreaterThan(0.02);
    for (const axis of AXES) expect(scores[axis].errorOverFloor, axis).toBeLessThan(1.5);
  });

  it.each([
    { angularDeg: 0.02, translationalMm: 0.2, seed: 7 },
    { angularDeg: 0.1, translationalMm: 1, seed: 8 },
  ])('is not made up for a global shutter: %o', (options) => {
    const passed = { ...options, durationS: 3, liveTracks: 160 };
    const { motion } = measure(passed);
    const told = measure(passed, 0);
    expect(motion.readout).toMatchObject({ source: 'none', readoutS: null, state: 'notNeeded' });
    expect(1000 * motion.readout.ci95S![1]).toBeLessThan(1);
    expect(motion.vibration).toEqual(told.motion.vibration);
  });

  it('is not looked for when nothing shakes', () => {
    const { motion } = measure({
      angularDeg: 0,
      translationalMm: 0,
      readoutMs: 15,
      durationS: 3,
      liveTracks: 160,
      seed: 9,
    });
    expect(motion.readout).toEqual({
      source: 'none',
      readoutS: null,
      ci95S: null,
      state: 'notNeeded',
      costFall: null,
    });
  });
});

describe('knocks of floor joints under a rolling shutter', { timeout: 120_000 }, () => {
  const hits = {
    everyS: 0.45,
    freqHz: [5, 15],
    decayS: 0.08,
    deg: [1.6, 0.3, 1.6],
    mm: [3, 6, 0.6],
  } as const;
  const filmed = { readoutMs: 18, noisePx: 0.05, durationS: 4, liveTracks: 160, seed: 2, hits };

  it('are measured although the frames do not show what happens between them', () => {
    const { motion, scores } = measure(filmed);
    const ignored = measure(filmed, 0);
    expect(motion.readout.state).toBe('corrected');
    expect(
      1000 * motion.readout.ci95S![1],
      'knocks hide the readout, so that it may be longer',
    ).toBeGreaterThan(filmed.readoutMs);
    const allowed = { pan: 0.04, tilt: 0.04, roll: 0.04, lateral: 0.1, vertical: 0.1, axial: 0.15 };
    const doubtful = motion.unreliable.map(({ axis }) => axis);
    for (const axis of AXES) {
      const what = { rel: allowed[axis], why: 'promised for hard knocks' };
      if (!doubtful.includes(axis)) expectWithin(motion.axes[axis].rms!, scores[axis].trueRms, what, axis);
      expect(scores[axis].errorOverFloor, `${axis}: the floor must own up to the error`).toBeLessThan(3);
    }
    for (const axis of ['tilt', 'vertical'] as const)
      expect(ignored.scores[axis].errorRms, axis).toBeGreaterThan(8 * scores[axis].errorRms);
  });

  it('raise the floor and put axes in doubt when they ring faster than a cubic within the frame can follow', () => {
    const fast = { ...hits, freqHz: [25, 45], decayS: 0.06 } as const;
    const seen = { ...filmed, noisePx: 0.03 };
    const { motion, scores } = measure({ ...seen, hits: fast }, 0.018);
    const calm = measure({ ...seen, hits: null }, 0.018);
    expect(motion.unreliable.map(({ axis }) => axis)).toContain('vertical');
    for (const { reason } of motion.unreliable) expect(reason).toMatch(/row by row/);
    expect(calm.motion.unreliable).toEqual([]);
    for (const axis of AXES) {
      expect(motion.axes[axis].floor, axis).toBeGreaterThan(calm.motion.axes[axis].floor);
      expect(scores[axis].errorOverFloor, axis).toBeLessThan(3);
    }
  });
});

describe('a long clip solved in pieces', () => {
  it('learns the readout from one piece and corrects all of them', () => {
    const pass = simulatePass({ ...SHAKY, durationS: 11, fps: 25, liveTracks: 90, readoutMs: 15, seed: 1 });
    const { observations } = prepareObservations(pass.table, pass.camera);
    const clip = { rateHz: 25, timeS: pass.table.timeS, unitPerPx: 1 / pass.camera.focalPx };
    const limits = { ...SEGMENT_LIMITS, observations: 10_000, inOne: 1.2 };
    const fused = reconstructClip(observations, pass.camera, clip, resolveSplitOptions({}, 11), limits);
    expect(fused.segments.length).toBeGreaterThan(1);
    expect(fused.readout).toMatchObject({ source: 'found', state: 'corrected' });
    expectWithin(1000 * fused.readout.readoutS!, 15, { abs: 0.8, why: 'promised: 2 ms' });

    const { scene, covariances } = fused;
    const fast = vibrationOf(poseSeries(scene.rotations, scene.centres), 25, 0.8).vibration;
    const real = vibrationOf(poseSeries(pass.rotations, pass.centres), 25, 0.8).vibration;
    const frames = Array.from({ length: 250 }, (_, k) => 12 + k);
    const { plain } = meanAxisCovariance(covariances.white, covariances.coherent, frames, 0, 1);
    for (const axis of ANGULAR_AXES) {
      const floor = Math.sqrt(passedShare(25, 0.8) * plain[7 * AXES.indexOf(axis)]);
      const error = rms(Float64Array.from(frames, (t) => fast[axis][t] - real[axis][t]));
      expect(error / floor, axis).toBeLessThan(1.5);
    }
  });
});

describe('splitMotion', () => {
  it('refuses a readout that is negative or not finite', () => {
    const { table, camera } = simulatePass({ durationS: 1 });
    for (const readoutS of [-0.001, NaN, Infinity])
      expect(() => splitMotion(table, camera, { readoutS })).toThrow(RangeError);
  });
});
