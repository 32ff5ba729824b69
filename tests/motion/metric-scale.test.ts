import { describe, it } from 'vitest';
import { pathLength } from '../../src/motion/metric-scale.js';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import { expectWithin } from '../support/expect-within.js';

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
