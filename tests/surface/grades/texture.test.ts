import { describe, expect, it } from 'vitest';
import {
  gaussianMeanLine,
  gaussianTransmission,
  texture,
  textureCutoffM,
} from '../../../src/surface/grades/texture.js';
import { expectWithin } from '../../support/expect-within.js';
import { gradedRun, lineProfile } from '../support/graded-profile.js';

describe('texture of a run', () => {
  it('takes the longest cut-off that lies inside the band', () => {
    expect(textureCutoffM([0.02, 0.31])).toBe(0.2);
    expect(textureCutoffM([0.04, 0.625])).toBe(0.2);
    expect(textureCutoffM([0.08, 1.25])).toBe(0.5);
    expect(textureCutoffM([0.02, 4])).toBe(2);
    expect(textureCutoffM([0.02, 0.06])).toBeNull();
  });

  it('gives the amplitude of a wave that the cut-off lets pass', () => {
    const stepM = 0.01;
    const wave = Float64Array.from(
      { length: 1001 },
      (_, i) => 1e-3 * Math.sin((2 * Math.PI * i * stepM) / 0.1),
    );
    const found = texture(lineProfile(wave, stepM, 1e-6), [0.02, 0.31]);
    const kept = 1e-3 * (1 - gaussianTransmission(0.1, 0.2));
    const sampled = { rel: 0.01, why: 'ten points a wave, and a run that ends within one' };
    expectWithin(found?.rqM ?? NaN, kept / Math.SQRT2, sampled);
    expectWithin(found?.raM ?? NaN, (kept * 2) / Math.PI, { rel: 0.05, why: 'ten points a wave' });
    expectWithin(found?.rzM ?? NaN, 2 * kept, { rel: 0.06, why: 'points beside the crests: cos 18 degrees' });
    expect(found?.sections).toBe(49);
    expect(found?.cutoffM).toBe(0.2);
    expect(found?.shortestM).toBe(0.02);
    expectWithin(found?.noiseRqM ?? NaN, 1e-6, { rel: 1e-9, why: 'the error is the same everywhere' });
  });

  it('adds the error of the profile to the variance that it shows', () => {
    const stepM = 0.01;
    const wave = Float64Array.from(
      { length: 1001 },
      (_, i) => 1e-4 * Math.sin((2 * Math.PI * i * stepM) / 0.1),
    );
    const sure = texture(lineProfile(wave, stepM, 0), [0.02, 0.31]);
    const unsure = texture(lineProfile(wave, stepM, 5e-5), [0.02, 0.31]);
    const rounding = { rel: 1e-9, why: 'rounding' };
    expectWithin(unsure?.rqM ?? NaN, Math.hypot(sure?.rqM ?? NaN, 5e-5), rounding);
    const raised = (unsure?.rqM ?? NaN) / (sure?.rqM ?? NaN);
    expectWithin(unsure?.rzM ?? NaN, raised * (sure?.rzM ?? NaN), rounding);
  });

  it('leaves a straight slope without texture, ends included', () => {
    const slope = Float64Array.from({ length: 300 }, (_, i) => 0.002 * i);
    const found = texture(lineProfile(slope, 0.01, 1e-6), [0.02, 0.31]);
    expect(found?.rqM).toBeLessThan(0.002 * 300 * 1e-3);
    const line = gaussianMeanLine(slope, 0.01, 0.2);
    expectWithin(line[150], slope[150], { abs: 1e-12, why: 'the weights are even' });
  });

  it('reads a w = 2 floor as its density behind the filter says', () => {
    const found = [1, 2, 3].map((seed) => {
      const { profile, bandM } = gradedRun(seed, 0.25, 30, 1e-6);
      return (texture(profile, bandM)?.rqM ?? NaN) ** 2;
    });
    // Gd n0^2 lc times the integral of (1 - 2^-t^2)^2 / t^2 = 0.8644 over t = n lc; sampling folds the short waves in.
    const whole = 1e-6 * 0.01 * 0.2 * 0.8644;
    const mean = found.reduce((sum, square) => sum + square, 0) / found.length;
    expectWithin(mean, whole, {
      rel: 0.12,
      why: 'three runs of two lines, and 5 % that the high-pass takes',
    });
  });

  it('is null for a run shorter than two cut-offs', () => {
    expect(texture(lineProfile(new Float64Array(30), 0.01, 1e-6), [0.02, 0.31])).toBeNull();
  });
});
