/** Angles stay angles and translation stays translation: passes on which only one kind of motion shakes. */
import { describe, expect, it } from 'vitest';
import { ANGULAR_AXES, AXES, type Axis } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { leak, measurePass } from './support/measure-pass.js';
import type { PassOptions } from './support/simulated-tracks.js';

/** Turn that looks like a translation at mean depth, and the sign of the likeness does not matter. */
const ALIKE = [
  ['pan', 'lateral'],
  ['tilt', 'vertical'],
] as const;

const CASES = [
  { focalMm: 24, move: 'lateral' },
  { focalMm: 50, move: 'lateral' },
  { focalMm: 85, move: 'lateral' },
  { focalMm: 50, move: 'push' },
] as const;

describe.each(CASES)('a shake of 0.1 degrees and no translation: $move, $focalMm mm', ({ focalMm, move }) => {
  const measured = measurePass({ move, focalMm, angularDeg: 0.1, translationalMm: 0, durationS: 4, seed: 1 });
  const { motion, scores } = measured;

  it('is measured within 1 % on pan and tilt and 3 % on roll', () => {
    for (const axis of ANGULAR_AXES) {
      const rel = axis === 'roll' ? 0.03 : 0.01;
      const why = 'floors are a hundredth of the shake, a twentieth for roll';
      expectWithin(motion.axes[axis].rms ?? NaN, scores[axis].trueRms, { rel, why }, axis);
    }
  });

  it('leaks less than 0.5 % of itself into translation', () => {
    const perMetre = motion.depth?.meanInverse ?? NaN;
    for (const [turn, shift] of ALIKE) {
      // As a share of the translation that would look like the turn at mean depth.
      expect(Math.abs(leak(measured, turn, shift) * perMetre), shift).toBeLessThan(0.005);
    }
  });

  it('leaves sideways and vertical motion below 0.06 mm', () => {
    for (const axis of ['lateral', 'vertical'] as const) {
      // Floors of 0.03 to 0.04 mm; the slow move itself leaves less than 0.01 mm in the band.
      expect(motion.axes[axis].status, axis).toBe('below');
      expect(motion.axes[axis].below * 1000, axis).toBeLessThan(0.06);
    }
  });
});

describe.each(CASES)('a shake of 1 mm and no turning: $move, $focalMm mm', ({ focalMm, move }) => {
  const measured = measurePass({ move, focalMm, angularDeg: 0, translationalMm: 1, durationS: 4, seed: 1 });
  const { motion, scores } = measured;

  it('is measured within 3 % sideways and vertically', () => {
    for (const axis of ['lateral', 'vertical'] as const) {
      const why = 'floors are a twentieth of the shake';
      expectWithin(motion.axes[axis].rms ?? NaN, scores[axis].trueRms, { rel: 0.03, why }, axis);
    }
  });

  it('leaks less than 1.5 % of itself into the angles, which stay below their floors', () => {
    const perMetre = motion.depth?.meanInverse ?? NaN;
    for (const [turn, shift] of ALIKE) {
      expect(Math.abs(leak(measured, shift, turn) / perMetre), turn).toBeLessThan(0.015);
    }
    for (const axis of ANGULAR_AXES) expect(motion.axes[axis].status, axis).toBe('below');
  });
});

describe('a shake of one axis alone', () => {
  const alone: [Axis, Partial<PassOptions>][] = [
    ['tilt', { axisDeg: [0.05, 0, 0] }],
    ['pan', { axisDeg: [0, 0.05, 0] }],
    ['roll', { axisDeg: [0, 0, 0.05] }],
    ['lateral', { axisMm: [1, 0, 0] }],
    ['vertical', { axisMm: [0, 1, 0] }],
    ['axial', { axisMm: [0, 0, 1] }],
  ];
  it.each(alone)('moves %s and no other axis, with the right sign', (axis, shake) => {
    const still = { angularDeg: 0, translationalMm: 0, durationS: 2.5, seed: 2 };
    const { motion, scores } = measurePass({ ...still, ...shake });
    // Noise of a tenth of the shake leaves 0.995.
    expect(scores[axis].correlation).toBeGreaterThan(0.95);
    for (const other of AXES) {
      if (other !== axis) expect(motion.axes[other].status, other).toBe('below');
    }
    expect(motion.axes[axis].status).toBe('value');
  });
});
