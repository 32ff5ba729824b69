import { describe, expect, it } from 'vitest';
import { fitPairMove, fitPairRotation } from '../../src/motion/frame-pair.js';
import type { SharedTracks } from '../../src/motion/observations.js';
import { rotationVector } from '../../src/motion/rotation-steps.js';
import { sampsonError, tangentPlane } from '../../src/motion/sampson.js';
import { triangulate, twoViewMoves } from '../../src/motion/two-view.js';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import { multiply3, rotationFromVector } from '../../src/optics/index.js';
import { expectWithin } from '../support/expect-within.js';

const NOISE = 1e-4;
const TURN = [0.01, -0.02, 0.015] as const;

/** Points at 1..8 units seen before and after a turn and a displacement; some move by themselves. */
function makePair(
  move: readonly number[],
  strangers: number,
  noise: number,
  seed: number,
  unitDepth = false,
) {
  const random = seededRandom(seed);
  const normal = gaussianRandom(random);
  const rotation = rotationFromVector(...TURN);
  const count = 150;
  const pair = {
    track: Int32Array.from({ length: count }, (_, k) => k),
    x1: new Float64Array(count),
    y1: new Float64Array(count),
    x2: new Float64Array(count),
    y2: new Float64Array(count),
  } satisfies SharedTracks;
  const depth = new Float64Array(count);
  for (let k = 0; k < count; k++) {
    depth[k] = unitDepth ? 1 : 1 + 7 * random() ** 2;
    const x = 0.7 * (random() - 0.5);
    const y = 0.4 * (random() - 0.5);
    const walk = k < strangers * count ? 0.3 : 0;
    const p = [x * depth[k] - move[0] + walk, y * depth[k] - move[1], depth[k] - move[2]];
    const q = [0, 3, 6].map((r) => rotation[r] * p[0] + rotation[r + 1] * p[1] + rotation[r + 2] * p[2]);
    pair.x1[k] = x + noise * normal();
    pair.y1[k] = y + noise * normal();
    pair.x2[k] = q[0] / q[2] + noise * normal();
    pair.y2[k] = q[1] / q[2] + noise * normal();
  }
  const size = Math.hypot(move[0], move[1], move[2]);
  const t = [0, 3, 6].map(
    (r) => -(rotation[r] * move[0] + rotation[r + 1] * move[1] + rotation[r + 2] * move[2]) / size,
  );
  return { pair, rotation, t, depth, size };
}

describe('two views', () => {
  it('have a Sampson error that is zero at the true move and whose gradient matches differences', () => {
    const { pair, rotation, t } = makePair([0.2, 0.02, 0.05], 0, 0, 2);
    const tangents = tangentPlane(t);
    const gradient = new Float64Array(5);
    const rotated = multiply3(rotationFromVector(0.01, 0.004, -0.006), rotation);
    const direction = [t[0] + 0.02, t[1] - 0.01, t[2] + 0.03];
    for (const k of [0, 40, 149]) {
      expectWithin(sampsonError(pair, k, rotation, t, tangents, null), 0, {
        abs: 1e-14,
        why: 'double rounding',
      });
      sampsonError(pair, k, rotated, direction, tangents, gradient);
      for (let u = 0; u < 5; u++) {
        const at = (h: number): number => {
          const w = [0, 1, 2].map((j) => (j === u ? h : 0));
          const shifted = direction.map((v, j) => v + (u >= 3 ? h * tangents[3 * (u - 3) + j] : 0));
          const turned = multiply3(rotationFromVector(w[0], w[1], w[2]), rotated);
          return sampsonError(pair, k, turned, shifted, tangents, null);
        };
        const slope = (at(1e-6) - at(-1e-6)) / 2e-6;
        expectWithin(gradient[u], slope, { abs: 1e-8, why: 'central differences' }, `track ${k} by ${u}`);
      }
    }
  });

  it.each([
    ['sideways', [0.3, 0.01, 0.02]],
    ['forward', [0.01, 0.02, 0.4]],
    ['on an arc', [0.3, 0, 0.1]],
  ] as const)('give back a move %s with 30 %% of the tracks on a walking person', (_name, move) => {
    const { pair, rotation, t, depth, size } = makePair(move, 0.3, NOISE, 7);
    const start = fitPairRotation(pair).rotation;
    const [best] = twoViewMoves(pair, start, NOISE, 2, 1);
    const along = best.direction.reduce((sum, v, j) => sum + v * t[j], 0);
    // Noise of 1e-4 over a move of 0.3 in 1..8 units: directions to about half a degree.
    expect(Math.abs(along)).toBeGreaterThan(Math.cos((1 * Math.PI) / 180));
    const off = rotationVector(multiply3(best.rotation, transpose(rotation)));
    expect(Math.hypot(...off)).toBeLessThan(1e-3);
    const rho = triangulate(pair, best);
    const sign = Math.sign(along);
    for (let k = 100; k < 110; k++) {
      const noise = (3 * NOISE * depth[k]) / size;
      expectWithin(
        (sign * rho[k] * depth[k]) / size,
        1,
        { abs: 0.03 + noise, why: 'direction and noise' },
        `depth ${k}`,
      );
    }
  });

  it('fit a pure turn to the noise', () => {
    const { pair, rotation } = makePair([0, 0, 1e-9], 0, NOISE, 4);
    const fit = fitPairRotation(pair);
    const off = rotationVector(multiply3(fit.rotation, transpose(rotation)));
    // 150 tracks: about noise / sqrt(150) for pan and tilt, several times that for roll.
    expect(Math.hypot(off[0], off[1])).toBeLessThan(5e-5);
    expect(Math.abs(off[2])).toBeLessThan(4e-4);
    // Both views are noisy, so the residual is sqrt(2) of the noise.
    expectWithin(fit.scale, Math.SQRT2 * NOISE, { rel: 0.15, why: 'median of 150 lengths' });
  });

  it('fit roll and displacement of equally far tracks without panning', () => {
    const { pair } = makePair([0.02, 0.01, 0.015], 0, NOISE, 6, true);
    const { rollW, move } = fitPairMove(pair);
    // Pan of -0.02 and tilt of 0.01 rad are taken for displacement at distance 1, by the design of this start.
    expectWithin(rollW, TURN[2], { abs: 2e-3, why: 'second order of the turn' });
    expectWithin(move[0], 0.02 - TURN[1], { abs: 3e-3, why: 'second order of the turn' });
    expectWithin(move[1], 0.01 + TURN[0], { abs: 3e-3, why: 'second order of the turn' });
    expectWithin(move[2], 0.015, { abs: 3e-3, why: 'second order of the turn' });
  });
});

function transpose(m: Float64Array): Float64Array {
  return Float64Array.of(m[0], m[3], m[6], m[1], m[4], m[7], m[2], m[5], m[8]);
}
