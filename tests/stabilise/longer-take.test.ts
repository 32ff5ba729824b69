import { describe, expect, it } from 'vitest';
import { gaussianRandom, inverseRealFft, seededRandom } from '../../src/numerics/index.js';
import { predictTakes } from '../../src/stabilise/index.js';
import { expectWithin } from '../support/expect-within.js';

const RATE_HZ = 25;
const UP_CROSSINGS_HZ = 4.4;

/** Gaussian series of RMS 1, flat from 1 to 7 Hz: sqrt(mean f^2) = 4.4 upward crossings a second (Rice 1944). */
function gaussianShake(n: number, gaussian: () => number): Float64Array {
  const size = 2 ** Math.ceil(Math.log2(n + 100));
  const re = new Float64Array(size / 2 + 1);
  const im = new Float64Array(size / 2 + 1);
  let power = 0;
  for (let k = 0; k < re.length; k++) {
    const freqHz = (k * RATE_HZ) / size;
    if (freqHz < 1 || freqHz > 7) continue;
    re[k] = gaussian();
    im[k] = gaussian();
    power += 4;
  }
  const scale = size / Math.sqrt(power);
  return inverseRealFft(re, im, size)
    .slice(0, n)
    .map((v) => v * scale);
}

/** Crop fractions of a clip and of a take further on, with pass-to-pass changes of 8 %. */
function crops(
  clipS: number,
  takeS: number,
  gaussian: () => number,
): { clip: Float64Array; takeMaximum: number } {
  const clipFrames = clipS * RATE_HZ;
  const n = clipFrames + 50 + takeS * RATE_HZ;
  const [pan, tilt, roll] = [0.006, 0.01, 0.005].map((size) =>
    gaussianShake(n, gaussian).map((v) => size * v),
  );
  const need = pan.map((v, t) => Math.max(Math.abs(v), Math.abs(tilt[t])) + 0.5 * Math.abs(roll[t]));
  const passes = [Math.exp(0.08 * gaussian()), Math.exp(0.08 * gaussian())];
  return {
    clip: need.slice(0, clipFrames).map((v) => v * passes[0]),
    takeMaximum: need.slice(clipFrames + 50).reduce((a, b) => Math.max(a, b), 0) * passes[1],
  };
}

function steadyClip(seconds: number): Float64Array {
  return crops(seconds, 1, gaussianRandom(seededRandom(8))).clip;
}

describe('longer takes on a steady floor', () => {
  it('exceed the test as often, and stay below the bound as often, as is foretold', () => {
    const gaussian = gaussianRandom(seededRandom(20));
    const trials = 250;
    let exceeds = 0;
    let within = 0;
    const ratios: number[] = [];
    let foretold = NaN;
    for (let i = 0; i < trials; i++) {
      const { clip, takeMaximum } = crops(10, 60, gaussian);
      const pass = { cropFraction: clip, rateHz: RATE_HZ, upCrossingsHz: UP_CROSSINGS_HZ };
      const [take] = predictTakes(pass, [60], i);
      foretold = take.chanceExceeds;
      if (takeMaximum > Math.max(...clip)) exceeds++;
      if (100 * takeMaximum <= (take.upper95Percent ?? NaN)) within++;
      ratios.push((100 * takeMaximum) / (take.medianPercent ?? NaN));
    }
    expectWithin(exceeds / trials, foretold, {
      abs: 0.05,
      why: 'exchangeable stretches; 2 points of sampling error',
    });
    expect(within / trials).toBeGreaterThanOrEqual(0.93);
    const typical = ratios.sort((a, b) => a - b)[trials / 2];
    expectWithin(typical, 1, { abs: 0.06, why: 'median of the growth formula; 2 points of sampling error' });
  });
});

describe('what is foretold for takes', () => {
  const pass = { cropFraction: steadyClip(12), rateHz: RATE_HZ, upCrossingsHz: UP_CROSSINGS_HZ };

  it('gives the chance T / (T + t), whatever the floor', () => {
    expect(predictTakes(pass, [12, 36]).map((take) => take.chanceExceeds)).toEqual([0.5, 0.75]);
  });

  it('grows with the length of the take', () => {
    const takes = predictTakes(pass, [5, 12, 30, 60, 120]);
    for (let i = 1; i < takes.length; i++) {
      expect(takes[i].medianPercent ?? NaN).toBeGreaterThan(takes[i - 1].medianPercent ?? NaN);
      expect(takes[i].upper95Percent ?? NaN).toBeGreaterThan(takes[i - 1].upper95Percent ?? NaN);
      expect(takes[i].upper95Percent ?? NaN).toBeGreaterThan(takes[i].medianPercent ?? NaN);
    }
    const most = 100 * Math.max(...pass.cropFraction);
    expectWithin(takes[1].medianPercent ?? NaN, most, {
      rel: 1e-12,
      why: 'a take as long as the clip: its own maximum',
    });
  });

  it('repeats bit by bit', () => {
    expect(predictTakes(pass, [60], 4)).toEqual(predictTakes(pass, [60], 4));
  });

  it('gives no bound beyond twelve clip lengths, from clips under 5 s, or without peaks', () => {
    const bounds = (cropFraction: Float64Array, takeS: number) =>
      predictTakes({ ...pass, cropFraction }, [takeS])[0].upper95Percent;
    expect(bounds(pass.cropFraction, 144)).not.toBeNull();
    expect(bounds(pass.cropFraction, 145)).toBeNull();
    expect(bounds(pass.cropFraction.slice(0, 124), 10)).toBeNull();
    expect(bounds(pass.cropFraction.slice(0, 125), 10)).not.toBeNull();
    expect(bounds(new Float64Array(300).fill(0.01), 10)).toBeNull();
    expect(bounds(new Float64Array(300), 10)).toBeNull();
  });

  it('gives no typical value from a clip without vibration to speak of', () => {
    const still = predictTakes(
      { cropFraction: new Float64Array(250), rateHz: RATE_HZ, upCrossingsHz: 0 },
      [30],
    );
    expect(still[0].medianPercent).toBeNull();
  });

  it('never foretells more than the whole picture', () => {
    const wild = pass.cropFraction.map((v) => Math.min(0.95, 30 * v));
    const [take] = predictTakes({ ...pass, cropFraction: wild }, [120]);
    expect(take.upper95Percent ?? NaN).toBeLessThanOrEqual(100);
    expect(take.medianPercent ?? NaN).toBeLessThanOrEqual(100);
  });
});
