import { describe, expect, it } from 'vitest';
import { splitMotion } from '../../src/motion/index.js';
import { cruisingSpeed, pathLength } from '../../src/motion/metric-scale.js';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import { TRANSLATIONAL_AXES } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { rolledTime } from './support/rolled-time.js';
import { score } from './support/score.js';
import { simulatePass } from './support/simulated-tracks.js';

const RATE = 30;
const N = 300;

/** Three coordinates of a path, metres, with a millimetre of noise on each. */
function noisy(place: (s: number) => readonly [number, number, number]): Float64Array[] {
  const normal = gaussianRandom(seededRandom(5));
  return [0, 1, 2].map((j) =>
    Float64Array.from({ length: N }, (_, t) => place(t / RATE)[j] + 1e-3 * normal()),
  );
}

describe('the length of the path', () => {
  it('is that of a straight run and of an arc', () => {
    const straight = pathLength(
      noisy((s) => [0.2 * s, 0, 0]),
      RATE,
      0.8,
    );
    expectWithin(straight, 0.2 * ((N - 1) / RATE), { rel: 0.005, why: 'noise of 1 mm at the ends' });
    const arc = pathLength(
      noisy((s) => [2 * Math.sin(0.1 * s), 0, 2 - 2 * Math.cos(0.1 * s)]),
      RATE,
      0.8,
    );
    expectWithin(arc, 2 * 0.1 * ((N - 1) / RATE), { rel: 0.005, why: 'noise of 1 mm at the ends' });
  });

  it('counts a way there and back twice', () => {
    const length = pathLength(
      noisy((s) => [Math.abs(s - 5) * 0.2, 0, 0]),
      RATE,
      0.8,
    );
    expectWithin(length, 0.2 * ((N - 1) / RATE), { rel: 0.03, why: 'the smoother rounds the turning point' });
  });

  it('does not grow while the dolly stands', () => {
    const length = pathLength(
      noisy((s) => [0.2 * Math.max(0, s - 6), 0, 0]),
      RATE,
      0.8,
    );
    expectWithin(length, 0.2 * ((N - 1) / RATE - 6), { rel: 0.01, why: 'noise of 1 mm at the ends' });
  });
});

describe('the speed of the dolly', () => {
  const speedOf = (place: (s: number) => readonly [number, number, number]): number =>
    cruisingSpeed(noisy(place), RATE, 0.8);
  const rolling = (rampS: number, pause: { fromS: number; lengthS: number } | null): number => {
    const rolled = rolledTime({ rampS, pause, durationS: N / RATE });
    return speedOf((s) => [0.2 * rolled(s), 0, 0]);
  };

  it('is way over time for a pass that rolls throughout, evenly or not', () => {
    expectWithin(
      speedOf((s) => [0.2 * s, 0, 0.1 * s]),
      Math.hypot(0.2, 0.1),
      { rel: 0.005, why: 'noise of 1 mm at the ends' },
    );
    const slow = (s: number): number => (0.25 * Math.sin(2 * Math.PI * 0.13 * s)) / (2 * Math.PI * 0.13);
    const lastS = (N - 1) / RATE;
    expectWithin(
      speedOf((s) => [0.2 * (s + slow(s)), 0, 0]),
      (0.2 * (lastS + slow(lastS))) / lastS,
      { rel: 0.005, why: 'noise of 1 mm at the ends' },
    );
  });

  it('is that between the ramps when the dolly starts, stops or pauses inside the clip', () => {
    for (const rampS of [0.3, 1, 2]) {
      expectWithin(
        rolling(rampS, null),
        0.2,
        { rel: 0.01, why: 'the last twentieth of a ramp counts in' },
        `ramp of ${rampS} s`,
      );
    }
    expectWithin(rolling(1, { fromS: 4, lengthS: 2 }), 0.2, { rel: 0.01, why: 'four ramps' });
    expectWithin(
      speedOf((s) => [0.2 * Math.abs(s - 5), 0, 0]),
      0.2,
      { rel: 0.01, why: 'there and back' },
    );
  });

  it('is zero when nothing moves', () => {
    expect(cruisingSpeed([new Float64Array(60), new Float64Array(60), new Float64Array(60)], RATE, 0.8)).toBe(
      0,
    );
  });
});

describe('millimetres of a pass that starts and stops inside the clip', () => {
  const speedMps = 0.2;
  const pass = simulatePass({
    durationS: 6,
    fps: 25,
    liveTracks: 110,
    speedMps,
    rampS: 1.2,
    unevenness: 0,
    translationalMm: 0.6,
    seed: 3,
  });
  const known = [
    ['travel', { travelM: pass.travelM }],
    ['speed', { speedMps }],
  ] as const;

  it.each(known)('are right by the %s, to the noise floor', (_name, given) => {
    const motion = splitMotion(pass.table, pass.camera, { ...given, interCoded: false });
    expect(motion.translationUnit).toBe('m');
    // The path is shorter than speed times duration, by the two ramps.
    expectWithin(motion.travelM ?? NaN, pass.travelM, { rel: 0.015, why: 'ends of ramps count as rolling' });
    const scores = score(motion, pass);
    for (const axis of TRANSLATIONAL_AXES) {
      expect(scores[axis].errorOverFloor, axis).toBeLessThan(1.25);
      expectWithin(
        motion.axes[axis].rms ?? NaN,
        scores[axis].trueRms,
        { rel: 0.05, why: 'shake of some 3 to 10 floors, 125 samples' },
        axis,
      );
    }
  });
});
