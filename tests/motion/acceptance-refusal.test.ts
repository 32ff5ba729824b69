/** Where the tracks cannot tell translation from rotation, the split says so: flat scenes, cameras that do not travel. */
import { describe, expect, it } from 'vitest';
import { rms } from '../../src/numerics/index.js';
import { ANGULAR_AXES, TRANSLATIONAL_AXES } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { measurePass, measuredVibration, trueVibration } from './support/measure-pass.js';
import { MDEG_PER_RAD } from './support/score.js';

describe('a scene at one distance, 50 mm', () => {
  it.each([
    ['a wall', 'wall'],
    ['points between 3.9 and 4.1 m', [3.9, 4.1]],
  ] as const)('is refused its translation, and its combined turn is within 3 %: %s', (_name, scene) => {
    const measured = measurePass({ scene, durationS: 4, seed: 3 });
    const { motion } = measured;
    expect(motion.observable).toBe('no');
    expect(motion.observableReason).toMatch(/distance/);
    for (const axis of TRANSLATIONAL_AXES) expect(motion.axes[axis].status).toBe('notObservable');
    expect(motion.angularShare.value).toBeNull();

    const truth = trueVibration(measured);
    const found = measuredVibration(measured);
    const perMetre = motion.depth?.meanInverse ?? NaN;
    for (const [turn, shift] of [
      ['pan', 'lateral'],
      ['tilt', 'vertical'],
    ] as const) {
      const combined = truth[turn].map((v, t) => v + perMetre * truth[shift][t]);
      const why = 'a shake of 60 floors';
      expectWithin(motion.axes[turn].rms ?? NaN, rms(combined), { rel: 0.03, why }, turn);
      // Floor of the combination 0.2 mdeg; the weight of the translation is known to a few per cent.
      expect(rms(found[turn].map((v, t) => v - combined[t])) * MDEG_PER_RAD).toBeLessThan(0.35);
      // If all of it were translation: the bound covers the true one.
      expect(motion.axes[shift].below).toBeGreaterThan(rms(truth[shift]));
    }
  });
});

describe('a camera on a stand', () => {
  const small = { move: 'static', translationalMm: 0, durationS: 3, fps: 25, liveTracks: 100 } as const;
  const cases = [24, 50, 85].flatMap((focalMm, lens) =>
    [0.02, 0.1, 0.3].flatMap((angularDeg, shake) =>
      [0, 3].map((panRateDegPerS, pan) => ({
        focalMm,
        angularDeg,
        panRateDegPerS,
        noisePx: [0.03, 0.08, 0.15][(lens + shake + pan) % 3],
        seed: 1 + 6 * lens + 2 * shake + pan,
      })),
    ),
  );

  it.each(cases)(
    'never gets a translation for a shake of its angles: $focalMm mm, $angularDeg deg, panned $panRateDegPerS deg/s, $noisePx px',
    (options) => {
      const { motion, scores } = measurePass({ ...small, ...options });
      expect([motion.mode, motion.observable]).toEqual(['rotationOnly', 'no']);
      expect(motion.observableReason).toMatch(/did not travel/);
      for (const axis of TRANSLATIONAL_AXES) {
        expect(motion.axes[axis].status, axis).toBe('notObservable');
        expect(motion.axes[axis].rms, axis).toBeNull();
      }
      for (const axis of ANGULAR_AXES) {
        expect(scores[axis].errorOverFloor, axis).toBeLessThan(1.4);
        // Two per cent, or what noise of 50 samples does to a shake near the floor.
        const { floor, rms: freed } = motion.axes[axis];
        const abs = Math.max(0.02 * scores[axis].trueRms, 0.35 * floor);
        expectWithin(freed ?? NaN, scores[axis].trueRms, { abs, why: 'noise of 50 samples' }, axis);
      }
    },
  );

  it.each([1, 3, 5])('is not set moving by a person who walks past it, pass %s', (seed) => {
    // On one of these the person holds most of the tracks that last: as if near and still before a moving camera.
    const { motion, scores } = measurePass({
      ...small,
      focalMm: 24,
      angularDeg: 0.3,
      subjectShare: 0.35,
      seed,
    });
    expect([motion.mode, motion.observable]).toEqual(['rotationOnly', 'no']);
    for (const axis of ANGULAR_AXES) expect(scores[axis].errorOverFloor, axis).toBeLessThan(1.4);
  });

  it.each([24, 50, 85])(
    'shows too little parallax for travel when only its angles shake: %s mm',
    (focalMm) => {
      const { motion } = measurePass({ ...small, focalMm, liveTracks: 250, seed: 1 });
      // Two noisy positions differ by 1.4 times the noise of one, 0.08 px against an expected 0.1 px.
      expect(motion.parallaxP).toBeLessThan(2);
    },
  );

  it.each([0.03, 0.08, 0.15])('is below the noise on all axes when locked off: %s px', (noisePx) => {
    for (const [k, focalMm] of [24, 50, 85].entries()) {
      const { motion } = measurePass({ ...small, angularDeg: 0, focalMm, noisePx, seed: 40 + k });
      expect(motion.mode).toBe('rotationOnly');
      for (const axis of [...ANGULAR_AXES, ...TRANSLATIONAL_AXES]) {
        expect(motion.axes[axis].status, `${axis} at ${focalMm} mm`).toBe('below');
      }
    }
  });
});
