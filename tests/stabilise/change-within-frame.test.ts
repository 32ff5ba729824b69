import { describe, expect, it } from 'vitest';
import { gaussianRandom, rms, seededRandom } from '../../src/numerics/index.js';
import {
  changeNoiseGain,
  changesWithinFrame,
  changeWithinFrame,
} from '../../src/stabilise/turn/change-within-frame.js';
import { expectWithin } from '../support/expect-within.js';

const RATE_HZ = 25;

describe('change within a frame', () => {
  it('is exact on sines up to 0.8 of Nyquist, away from the ends', () => {
    for (const freqHz of [1, 4, 9]) {
      const y = (timeS: number) => Math.sin(2 * Math.PI * freqHz * timeS + 0.4);
      const series = Float64Array.from({ length: 500 }, (_, t) => y(t / RATE_HZ));
      const change = changeWithinFrame(series, RATE_HZ, -0.01, 0.012);
      for (let t = 100; t < 400; t += 7) {
        const at = t / RATE_HZ;
        expectWithin(change[t], y(at + 0.012) - y(at - 0.01), {
          abs: 0.01,
          why: 'odd continuation at the ends',
        });
      }
    }
  });

  it('is the slope times the span on a steady move, ends included', () => {
    const series = Float64Array.from({ length: 50 }, (_, t) => 3 + 0.2 * t);
    for (const value of changeWithinFrame(series, RATE_HZ, 0, 0.02)) {
      expectWithin(value, 0.2 * 0.5, { abs: 1e-12, why: 'double rounding' });
    }
  });

  it('is nothing over no time, and defined for the shortest series', () => {
    expect(rms(changeWithinFrame(Float64Array.of(1, 5, 2, 8), RATE_HZ, 0, 0))).toBeLessThan(1e-12);
    expect(changeWithinFrame(new Float64Array(0), RATE_HZ, 0, 0.02).length).toBe(0);
    expect(changeWithinFrame(Float64Array.of(4), RATE_HZ, 0, 0.02)).toEqual(Float64Array.of(0));
    expectWithin(changeWithinFrame(Float64Array.of(1, 2), RATE_HZ, 0, 0.02)[0], 0.5, {
      abs: 1e-12,
      why: 'line',
    });
  });

  it('gives over several spans at once what it gives over each', () => {
    const series = Float64Array.from({ length: 40 }, (_, t) => Math.sin(t) + 0.1 * t);
    const spans = [
      [-0.01, 0.01],
      [0, 0.015],
      [0, 0],
    ] as const;
    const alone = spans.map(([from, to]) => changeWithinFrame(series, RATE_HZ, from, to));
    expect(changesWithinFrame(series, RATE_HZ, spans)).toEqual(alone);
    expect(alone[0]).not.toEqual(alone[1]);
    expect(changesWithinFrame(new Float64Array(0), RATE_HZ, spans).map((column) => column.length)).toEqual([
      0, 0, 0,
    ]);
  });

  it('carries white noise as foretold, or a little less for the fade near Nyquist', () => {
    const gaussian = gaussianRandom(seededRandom(5));
    const noise = Float64Array.from({ length: 4000 }, gaussian);
    for (const spanS of [0.005, 0.01, 0.02]) {
      const measured = rms(changeWithinFrame(noise, RATE_HZ, -spanS / 2, spanS / 2)) ** 2;
      const foretold = changeNoiseGain(RATE_HZ, spanS);
      expect(measured).toBeLessThan(foretold);
      expect(measured).toBeGreaterThan(0.7 * foretold); // the fade takes the top 15 % of the band, where changes are largest
    }
  });
});
