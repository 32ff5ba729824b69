/** How near the split comes to the truth on simulated tracks, and whether its own floors say so. */
import { describe, expect, it } from 'vitest';
import { poseSeries, splitMotion, vibrationOf, type Motion } from '../../src/motion/index.js';
import { gaussianRandom, mean, rms, seededRandom } from '../../src/numerics/index.js';
import { ANGULAR_AXES, AXES, TRANSLATIONAL_AXES, type Axis } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { MDEG_PER_RAD, score, UM_PER_M } from './support/score.js';
import { simulatePass, type PassOptions, type SimulatedPass } from './support/simulated-tracks.js';

function measure(options: Partial<PassOptions>): { pass: SimulatedPass; motion: Motion } {
  const pass = simulatePass(options);
  const motion = splitMotion(pass.table, pass.camera, { travelM: pass.travelM, interCoded: false });
  return { pass, motion };
}

/** Error at most this many floors in a clip of 2-3 s after the ends are cut: the floor is an RMS, a clip a sample of it. */
const WORST_ERROR_FLOORS = 1.25;

describe('a travelling camera', () => {
  const moves = ['lateral', 'push', 'arc'] as const;
  const lenses = [24, 50, 85];
  const cases = moves.flatMap((move) => lenses.map((focalMm) => ({ move, focalMm })));
  const squares: Record<Axis, number[]> = {
    pan: [],
    tilt: [],
    roll: [],
    lateral: [],
    vertical: [],
    axial: [],
  };

  it.each(cases)('is measured to its floor on all six axes: $move, $focalMm mm', ({ move, focalMm }) => {
    const { pass, motion } = measure({ move, focalMm, durationS: 3.5, seed: 2 });
    const scores = score(motion, pass);
    expect(motion.mode).toBe('full');
    expect(motion.observable).toBe('yes');
    for (const axis of AXES) {
      expect(scores[axis].errorOverFloor, axis).toBeLessThan(WORST_ERROR_FLOORS);
      squares[axis].push(scores[axis].errorOverFloor ** 2);
      const { floor, rms: freed } = motion.axes[axis];
      if (scores[axis].trueRms > 1.5 * floor) {
        const allowed = { rel: 0.1, why: 'noise taken off, 75 samples' };
        expectWithin(freed ?? NaN, scores[axis].trueRms, allowed, axis);
      }
    }
  });

  it('has errors as large as its floors say, over these nine passes', () => {
    for (const axis of AXES) {
      const ratio = Math.sqrt(squares[axis].reduce((a, b) => a + b, 0) / squares[axis].length);
      expectWithin(ratio, 1, { abs: 0.15, why: 'nine clips of 75 samples: 3 %; floor formula: 10 %' }, axis);
    }
  });
});

describe('one kind of motion alone', () => {
  const turning = measure({ angularDeg: 0.1, translationalMm: 0, durationS: 4, seed: 1 });
  const shifting = measure({ angularDeg: 0, translationalMm: 1, durationS: 4, seed: 1 });

  it('shakes only the angles when only angles shake', () => {
    const { pass, motion } = turning;
    const scores = score(motion, pass);
    for (const axis of ANGULAR_AXES) {
      const rel = axis === 'roll' ? 0.03 : 0.01;
      expectWithin(
        motion.axes[axis].rms ?? NaN,
        scores[axis].trueRms,
        { rel, why: 'shake of 100 floors' },
        axis,
      );
    }
    for (const axis of ['lateral', 'vertical'] as const) {
      expect(motion.axes[axis].status).toBe('below');
      expect(motion.axes[axis].below * 1000).toBeLessThan(0.06);
    }
  });

  it('shakes only the translation when only translation shakes', () => {
    const { pass, motion } = shifting;
    const scores = score(motion, pass);
    for (const axis of ['lateral', 'vertical'] as const) {
      expectWithin(
        motion.axes[axis].rms ?? NaN,
        scores[axis].trueRms,
        { rel: 0.03, why: 'shake of 10 floors' },
        axis,
      );
    }
    for (const axis of ANGULAR_AXES) expect(motion.axes[axis].status, axis).toBe('below');
  });

  it('does not leak from angle to translation or back', () => {
    const q = turning.motion.depth?.meanInverse ?? NaN;
    // Slope of the false motion on the true one, as a share of the motion that would look alike at mean depth.
    const slope = (motion: Motion, to: Axis, pass: SimulatedPass, from: Axis): number => {
      const truth = vibrationOf(
        poseSeries(pass.rotations, pass.centres),
        motion.rateHz,
        motion.bandHz[0],
      ).vibration;
      const cut = (x: Float64Array): Float64Array =>
        x.subarray(motion.trimFrames, x.length - motion.trimFrames);
      const a = cut(truth[from]);
      const b = cut(motion.vibration[to]).map((v, t) => v - cut(truth[to])[t]);
      return b.reduce((sum, v, t) => sum + v * a[t], 0) / a.reduce((sum, v) => sum + v * v, 0);
    };
    expect(Math.abs(slope(turning.motion, 'lateral', turning.pass, 'pan') * q)).toBeLessThan(0.005);
    expect(Math.abs(slope(turning.motion, 'vertical', turning.pass, 'tilt') * q)).toBeLessThan(0.005);
    expect(Math.abs(slope(shifting.motion, 'pan', shifting.pass, 'lateral') / q)).toBeLessThan(0.015);
    expect(Math.abs(slope(shifting.motion, 'tilt', shifting.pass, 'vertical') / q)).toBeLessThan(0.015);
  });

  const alone: [Axis, Partial<PassOptions>][] = [
    ['tilt', { axisDeg: [0.05, 0, 0] }],
    ['pan', { axisDeg: [0, 0.05, 0] }],
    ['roll', { axisDeg: [0, 0, 0.05] }],
    ['lateral', { axisMm: [1, 0, 0] }],
    ['vertical', { axisMm: [0, 1, 0] }],
    ['axial', { axisMm: [0, 0, 1] }],
  ];
  it.each(alone)('moves %s and no other axis, with the right sign', (axis, shake) => {
    const { pass, motion } = measure({
      angularDeg: 0,
      translationalMm: 0,
      ...shake,
      durationS: 2.5,
      seed: 2,
    });
    const scores = score(motion, pass);
    expect(scores[axis].correlation).toBeGreaterThan(0.95);
    for (const other of AXES) {
      if (other !== axis) expect(motion.axes[other].status, other).toBe('below');
    }
    expect(motion.axes[axis].status).toBe('value');
  });
});

describe('scenes that cannot tell translation from pan', () => {
  it.each([
    ['a wall', 'wall'],
    ['points between 3.9 and 4.1 m', [3.9, 4.1]],
  ] as const)('are refused, but the combined turn is measured: %s', (_name, scene) => {
    const { pass, motion } = measure({ scene, durationS: 4, seed: 3 });
    expect(motion.observable).toBe('no');
    expect(motion.observableReason).toMatch(/distance/);
    for (const axis of TRANSLATIONAL_AXES) expect(motion.axes[axis].status).toBe('notObservable');
    expect(motion.angularShare.value).toBeNull();

    const truth = vibrationOf(
      poseSeries(pass.rotations, pass.centres),
      motion.rateHz,
      motion.bandHz[0],
    ).vibration;
    const q = motion.depth?.meanInverse ?? NaN;
    const cut = (x: Float64Array): Float64Array =>
      x.subarray(motion.trimFrames, x.length - motion.trimFrames);
    for (const [turn, shift] of [
      ['pan', 'lateral'],
      ['tilt', 'vertical'],
    ] as const) {
      const combined = cut(truth[turn]).map((v, t) => v + q * cut(truth[shift])[t]);
      expectWithin(
        motion.axes[turn].rms ?? NaN,
        rms(combined),
        { rel: 0.03, why: 'shake of 60 floors' },
        turn,
      );
      const error = rms(cut(motion.vibration[turn]).map((v, t) => v - combined[t])) * MDEG_PER_RAD;
      expect(error).toBeLessThan(0.35);
      // If all of it were translation: the bound covers the true one.
      expect(motion.axes[shift].below).toBeGreaterThan(rms(cut(truth[shift])));
    }
  });
});

describe('people in the picture', () => {
  it.each([
    [0.2, 'lateral', 50],
    [0.35, 'push', 24],
  ] as const)('are thrown out at %s of the tracks: %s, %s mm', (subjectShare, move, focalMm) => {
    const { pass, motion } = measure({ subjectShare, move, focalMm, durationS: 4, seed: 2 });
    const still = 1 - pass.onSubject.reduce((sum, s) => sum + s, 0) / pass.onSubject.length;
    expectWithin(
      motion.keptShare,
      still,
      { abs: 0.03, why: 'at most 3 % of the good tracks lost' },
      'kept share',
    );
    const scores = score(motion, pass);
    for (const axis of AXES) expect(scores[axis].errorOverFloor, axis).toBeLessThan(WORST_ERROR_FLOORS);
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
    const plain = AXES.map((axis) => scores[axis].errorRms / motion.axes[axis].plainFloor);
    // Twelve shifts a frame excite six axes: single axes scatter by a third.
    ratios.forEach((ratio, a) =>
      expectWithin(ratio, 1, { abs: 0.35, why: 'a default shape of error' }, AXES[a]),
    );
    expect(mean(plain)).toBeGreaterThan(1.5);
  });
});

describe('scale', () => {
  const pass = simulatePass({ angularDeg: 0.05, translationalMm: 0.5, durationS: 4, seed: 5 });
  const run = (factor: number): Motion =>
    splitMotion(
      pass.table,
      { ...pass.camera, focalPx: pass.camera.focalPx * factor },
      { travelM: pass.travelM, interCoded: false },
    );
  const right = run(1);
  const ratio = (motion: Motion, axis: Axis): number =>
    (motion.axes[axis].rms ?? NaN) / (right.axes[axis].rms ?? NaN);

  it('of pan and tilt goes with one over the focal length, and lateral motion keeps the scale of the travel', () => {
    for (const factor of [0.9, 1.1]) {
      const off = run(factor);
      for (const axis of ['pan', 'tilt'] as const) {
        expectWithin(ratio(off, axis), 1 / factor, { rel: 0.02, why: 'perspective bends it a little' }, axis);
      }
      expectWithin(ratio(off, 'roll'), 1, { rel: 0.02, why: 'roll does not see the focal length' });
      for (const axis of ['lateral', 'vertical'] as const) {
        expectWithin(ratio(off, axis), 1, { rel: 0.02, why: 'set by the travel' }, axis);
      }
    }
  });

  it('of translation is that of the travel, and angles do not know it', () => {
    const twice = splitMotion(pass.table, pass.camera, { travelM: 2 * pass.travelM, interCoded: false });
    expectWithin(twice.axes.lateral.rms ?? NaN, 2 * (right.axes.lateral.rms ?? NaN), { rel: 1e-9 });
    expect(twice.axes.pan.rms).toBe(right.axes.pan.rms);
    expectWithin(twice.depth?.median ?? NaN, 2 * (right.depth?.median ?? NaN), { rel: 1e-9 });
  });

  it('of lateral motion is right to a few per cent in millimetres', () => {
    const { lateral } = score(right, pass);
    expectWithin((right.axes.lateral.rms ?? NaN) * UM_PER_M, lateral.trueRms * UM_PER_M, {
      rel: 0.03,
      why: 'shake of 8 floors',
    });
  });
});
