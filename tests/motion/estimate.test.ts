import { describe, expect, it } from 'vitest';
import { estimateAxis, passedShare } from '../../src/motion/estimate.js';
import { vibrationOf } from '../../src/motion/index.js';
import { gaussianRandom, rms, seededRandom } from '../../src/numerics/index.js';
import { sixAxes } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';

const RATE = 30;
const CUTOFF = 0.8;
const N = 180;
const TRIM = 15;

/** A 4 Hz shake of the RMS given under white noise of unit deviation, high-passed, ends cut. */
function measure(motionRms: number, seed: number) {
  const normal = gaussianRandom(seededRandom(seed));
  const clean = Float64Array.from(
    { length: N },
    (_, t) => Math.SQRT2 * motionRms * Math.sin((2 * Math.PI * 4 * t) / RATE + seed),
  );
  const noisy = clean.map((v) => v + normal());
  const cut = (x: Float64Array): Float64Array => x.subarray(TRIM, N - TRIM);
  const split = (x: Float64Array): Float64Array =>
    cut(
      vibrationOf(
        sixAxes(() => x),
        RATE,
        CUTOFF,
      ).vibration.pan,
    );
  return {
    truth: rms(split(clean)),
    estimate: estimateAxis(split(noisy), { plain: 1, wide: 1 }, RATE, CUTOFF),
  };
}

const seeds = Array.from({ length: 200 }, (_, k) => k + 1);

describe('the estimate of one axis', () => {
  it('puts the floor at the noise that the high-pass lets through', () => {
    const raw = seeds.map((seed) => measure(0, seed).estimate.rawRms ** 2);
    const mean = raw.reduce((a, b) => a + b, 0) / raw.length;
    // 200 runs of about 140 samples: a mean square to under 1 %; the smoother's own band edge adds some.
    expectWithin(mean, passedShare(RATE, CUTOFF), { rel: 0.02, why: 'band edge of the smoother' });
  });

  it('frees the RMS of noise without bias', () => {
    for (const motion of [1.5, 3]) {
      const ratios = seeds.map((seed) => {
        const { truth, estimate } = measure(motion, seed);
        return (estimate.rms ?? NaN) / truth;
      });
      const mean = ratios.reduce((a, b) => a + b, 0) / ratios.length;
      expectWithin(mean, 1, { abs: 0.02, why: 'single runs scatter by 10 % or less, 200 of them' });
    }
  });

  it('covers the truth with its interval in at least nine runs of ten', () => {
    for (const motion of [1, 2, 5]) {
      const covered = seeds.filter((seed) => {
        const { truth, estimate } = measure(motion, seed);
        const [low, high] = estimate.ci95 ?? [NaN, NaN];
        return truth >= low && truth <= high;
      });
      expect(covered.length / seeds.length).toBeGreaterThan(0.9);
    }
  });

  it('calls a silent axis "below" and keeps the bound over the truth', () => {
    const silent = seeds.map((seed) => measure(0, seed).estimate);
    expect(silent.filter((e) => e.status === 'below').length / seeds.length).toBeGreaterThan(0.95);
    const faint = seeds.map((seed) => measure(0.3, seed));
    expect(
      faint.filter(({ truth, estimate }) => estimate.below >= truth).length / seeds.length,
    ).toBeGreaterThan(0.95);
  });

  it('goes from "below" to "wide" to "value" as the motion grows out of the noise', () => {
    const status = (motion: number): string => measure(motion, 4).estimate.status;
    expect([status(0.1), status(0.8), status(3)]).toEqual(['below', 'wide', 'value']);
  });

  it('widens bounds, but not the figure itself, by the error that tracks share', () => {
    const column = Float64Array.from({ length: 150 }, (_, t) => 3 * Math.sin(t));
    const plain = estimateAxis(column, { plain: 1, wide: 1 }, RATE, CUTOFF);
    const wide = estimateAxis(column, { plain: 1, wide: 2 }, RATE, CUTOFF);
    expect(wide.rms).toBe(plain.rms);
    expect(wide.floor).toBeGreaterThan(plain.floor);
    expect(wide.below).toBeGreaterThan(plain.below);
    expect(wide.ci95?.[0]).toBeLessThan(plain.ci95?.[0] ?? 0);
  });
});
