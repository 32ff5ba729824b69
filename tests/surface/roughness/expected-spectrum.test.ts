import { describe, expect, it } from 'vitest';
import { fourthDifferenceGain, inverseRealFft, realFft, sineTapers } from '../../../src/numerics/index.js';
import {
  CLASS_SHAPE,
  expectedSpectra,
  TAPER_COUNT,
} from '../../../src/surface/roughness/expected-spectrum.js';
import { readPass } from '../../../src/surface/deck/pass.js';
import { rolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { fitPass } from '../../../src/surface/roughness/pass-fit.js';
import { expectWithin } from '../../support/expect-within.js';
import { madeUpPass, madeUpRig, WHEELBASE_M } from '../support/made-up-pass.js';

const settings = {
  rateHz: 25,
  frameCount: 300,
  speedsMps: Float64Array.of(0.1),
  dolly: { wheelbaseM: WHEELBASE_M, trackWidthM: 0.4 },
  exposureS: 0.02,
  cutoffHz: 0.8,
};
const HARD = [118];

describe('expected multitaper spectra', () => {
  it('agree with the model density taken through autocovariance and lag window', () => {
    // The plain way: density on half bins -> autocovariance -> times the tapers' autocorrelation -> spectrum.
    const n = settings.frameCount;
    const density = Float64Array.from(
      { length: n + 1 },
      (_, i) => fourthDifferenceGain((i * 25) / (2 * n), 25, 0.8) ** 2,
    );
    const power = new Float64Array(n + 1);
    for (const taper of sineTapers(n, TAPER_COUNT)) {
      const { re, im } = realFft(taper, 2 * n);
      for (let i = 0; i <= n; i++) power[i] += (re[i] ** 2 + im[i] ** 2) / TAPER_COUNT;
    }
    const zeros = new Float64Array(n + 1);
    const covariance = inverseRealFft(density, zeros, 2 * n);
    const window = inverseRealFft(power, zeros, 2 * n);
    const plain = realFft(covariance.map((c, i) => c * window[i])).re;
    const { noise } = expectedSpectra(settings);
    for (let bin = 12; bin < noise.length; bin++) {
      const cut = { rel: 2e-3, why: 'the window is cut off at 24 bins' };
      expectWithin(noise[bin], plain[2 * bin], cut, `bin ${bin}`);
    }
  });

  it('are filled in at the notches of the wheelbase as measured spectra are, at 0.1 m/s', () => {
    // Notches lie v / L = 0.22 Hz apart, 2.7 bins of this 12 s pass; a bare model falls to nothing there.
    const [expected] = expectedSpectra(settings).floors('pitch', CLASS_SHAPE, HARD, 1);
    const noiseless = { seed: 0, gdM3: 1e-6, speedMps: 0.1, durationS: 12, noiseFactor: 0 };
    const passes = 8;
    const ratios = new Float64Array(expected.length);
    for (let seed = 1; seed <= passes; seed++) {
      const motion = madeUpPass({ ...noiseless, seed });
      const { channels } = fitPass(rolledDeck(readPass(motion, madeUpRig(0.1)).pass!, motion));
      const psd = channels.find(({ channel }) => channel === 'pitch')!.psd;
      for (let i = 0; i < ratios.length; i++) ratios[i] += psd[i] / (noiseless.gdM3 * expected[i]) / passes;
    }
    // Bins next to a notch, 1.2-6 Hz: |sin(pi f L / v)| below 0.4.
    let sum = 0;
    let count = 0;
    for (let i = 15; i < 72; i++) {
      if (Math.abs(Math.sin((Math.PI * i * WHEELBASE_M) / (12 * 0.1))) > 0.4) continue;
      sum += ratios[i];
      count++;
    }
    expect(count).toBeGreaterThan(15);
    // Mean track only: half of a floor's power where the tracks are unlike (m = G / 2).
    const spread = {
      rel: 0.3,
      why: 'some 20 bins times 8 passes with 10 degrees of freedom, tracks 0.5-0.6',
    };
    expectWithin(sum / count, 0.55, spread);
  });

  it('keep the power of the model: smearing moves it, no more', () => {
    const { noise } = expectedSpectra(settings);
    const middle = noise.slice(40, 130);
    for (const value of middle)
      expectWithin(value, 1, { rel: 1e-3, why: 'white noise far above the cut-off' });
  });
});
