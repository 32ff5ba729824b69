/** What the comparison with a motion log rests on, against SciPy and closed forms: integration, exposure, noise, delay, slope. */
import { describe, expect, it } from 'vitest';
import { compareMotionLog } from '../../src/motion/index.js';
import { noisySlope } from '../../src/motion/motion-log/agreement.js';
import { integrateRates, seenAngles } from '../../src/motion/motion-log/angles.js';
import { noiseAngle } from '../../src/motion/motion-log/spectrum.js';
import { fourthDifferenceSmooth, gaussianRandom, rms, seededRandom } from '../../src/numerics/index.js';
import { exposureGain } from '../../src/optics/index.js';
import { DEG, madeUpComparison } from '../motion/support/made-up-log.js';
import { expectWithin } from '../support/expect-within.js';

describe('integration of rates', () => {
  it('agrees with scipy.integrate.cumulative_trapezoid (SciPy 1.17.1) on uneven stamps', () => {
    let sum = 0;
    const timeS = Float64Array.from({ length: 12 }, (_, i) => (sum += 0.01 + 0.003 * ((7 * i) % 5)));
    const rates = timeS.map((_, i) => (((7 * i * i + 3 * i) % 23) - 11) / 10);
    const expected = [
      0, -0.0096, -0.0107, -0.0159, -0.0254, -0.0289, -0.0281, -0.0127, -0.00685, 0.0017, 0.0087, 0.0095,
    ];
    const { angle } = integrateRates(timeS, rates);
    // The mean turn is taken off: SciPy's last value shared out over the time.
    const steady = expected[11] / (timeS[11] - timeS[0]);
    angle.forEach((a, i) =>
      expectWithin(a, expected[i] - steady * (timeS[i] - timeS[0]), { abs: 1e-12 }, `sample ${i}`),
    );
  });

  it('lets white rate noise walk: variance of the angle = density / 2 * time (angle random walk, IEEE Std 952, from memory)', () => {
    const rateHz = 100;
    const density = 2 / rateHz; // one-sided, of unit variance
    const timeS = Float64Array.from({ length: 201 }, (_, i) => i / rateHz);
    let sum = 0;
    const runs = 400;
    for (let seed = 1; seed <= runs; seed++) {
      const normal = gaussianRandom(seededRandom(seed));
      // Without its mean turn the walk is pinned at both ends; at the middle a quarter of T stays.
      const { angle } = integrateRates(timeS, timeS.map(normal));
      sum += angle[100] ** 2 / runs;
    }
    expectWithin(sum, (density / 2) * 2 * 0.25, {
      rel: 0.2,
      why: 'a variance of 400 runs, to three deviations',
    });
  });
});

describe('the exposure', () => {
  it('keeps sinc(f T) of a sine (closed form), also beyond half the frame rate', () => {
    const timeS = Float64Array.from({ length: 4001 }, (_, i) => i / 2000);
    for (const freqHz of [3, 10, 40, 65]) {
      const turn = 2 * Math.PI * freqHz;
      const log = integrateRates(
        timeS,
        timeS.map((t) => turn * Math.cos(turn * t)),
      );
      const at = Float64Array.from({ length: 997 }, (_, k) => 0.5 + k / 997);
      expectWithin(
        rms(seenAngles(log, at, 0.02).rate) / turn,
        exposureGain(freqHz, 0.02) / Math.SQRT2,
        { rel: 0.01, why: 'straight lines between 30 samples a period' },
        `${freqHz} Hz`,
      );
    }
  });
});

describe("the log's noise as an angle in the band", () => {
  it('is that of simulated white rate noise, integrated, exposed, sampled and high-passed', () => {
    const [logHz, fps, cutoffHz, exposureS, sigma] = [200, 25, 0.8, 0.02, 0.001];
    const timeS = Float64Array.from({ length: 200 * 41 }, (_, i) => i / logHz);
    const at = Float64Array.from({ length: 25 * 40 }, (_, k) => 0.3 + k / fps);
    let power = 0;
    const runs = 10;
    for (let seed = 1; seed <= runs; seed++) {
      const normal = gaussianRandom(seededRandom(seed));
      const { angle } = seenAngles(
        integrateRates(
          timeS,
          timeS.map(() => sigma * normal()),
        ),
        at,
        exposureS,
      );
      const slow = fourthDifferenceSmooth(angle, fps, cutoffHz);
      power += rms(angle.map((v, k) => v - slow[k]).slice(12, -12)) ** 2 / runs;
    }
    const spectrum = {
      freqHz: new Float64Array(0),
      psd: new Float64Array(0),
      parts: 1,
      degreesOfFreedom: 6,
      noisePsd: (2 * sigma ** 2) / logHz,
      nyquistHz: logHz / 2,
    };
    expectWithin(Math.sqrt(power), noiseAngle(spectrum, fps, cutoffHz, exposureS), {
      rel: 0.06,
      why: '400 s of a band 2.4 Hz wide: 1.6 % each, and straight lines between samples',
    });
  });
});

describe('the delay between log and pictures', () => {
  it('scatters no less than the Cramer-Rao bound of a known signal in white noise, and no more than 1.6 times it (Kay 1993, from memory)', () => {
    // Bound: sigma^2 / sum of squared slopes, over all axes and frames.
    const errors: number[] = [];
    const bounds: number[] = [];
    const stated: number[] = [];
    for (let seed = 1; seed <= 24; seed++) {
      const { motion, log, exposureS, offsetS } = madeUpComparison({
        seed,
        logNoiseDegPerS: 0.001,
        videoNoiseDeg: 0.01,
      });
      const found = compareMotionLog(motion, log, exposureS);
      let slopes = 0;
      for (const rates of Object.values(log.ratesRadPerS)) {
        const { rate } = seenAngles(
          integrateRates(log.timeS, rates),
          motion.timeS.slice(motion.trimFrames, -motion.trimFrames).map((t) => t + offsetS),
          exposureS,
        );
        slopes += rate.reduce((sum, v) => sum + v * v, 0);
      }
      bounds.push((0.01 * DEG) ** 2 / slopes);
      stated.push((found.offsetSdS ?? NaN) ** 2);
      errors.push(((found.offsetS ?? NaN) - offsetS) ** 2);
    }
    const total = (values: number[]): number => Math.sqrt(values.reduce((sum, v) => sum + v, 0));
    // 24 errors give their deviation to 14 %.
    expect(total(errors) / total(bounds)).toBeGreaterThan(0.65);
    expect(total(errors) / total(bounds)).toBeLessThan(1.6);
    expect(total(stated) / total(bounds)).toBeGreaterThan(0.95);
    expect(total(stated) / total(bounds)).toBeLessThan(1.6);
  });
});

describe('the slope of two noisy columns', () => {
  it('agrees with scipy.odr (SciPy 1.17.1), model y = b x with known deviations 0.02 and 0.03', () => {
    const video = Float64Array.from(
      { length: 40 },
      (_, i) => Math.sin(0.7 * i) + (0.02 * (((7 * i * i + 3 * i) % 23) - 11)) / 11,
    );
    const log = Float64Array.from(
      { length: 40 },
      (_, i) => 1.1 * Math.sin(0.7 * i) + (0.03 * (((5 * i * i + 11 * i) % 19) - 9)) / 9,
    );
    const { gain, gainCi95 } = noisySlope(video, log, (0.03 / 0.02) ** 2, 25);
    expectWithin(gain, 1.0862621743931207, { abs: 1e-8, why: 'where the iteration of odr stops' });
    // odr states a deviation of 0.0053 from residuals that are taken as independent.
    expectWithin((gainCi95[1] - gainCi95[0]) / (2 * 1.96), 0.0053, {
      rel: 0.5,
      why: 'ours allows for residuals that hang together',
    });
  });
});
