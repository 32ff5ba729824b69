/** The penalised smoother and differencing against closed forms and numpy. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fourthDifferenceGain, fourthDifferenceSmooth, realFft } from '../../src/numerics/index.js';
import { expectWithin } from '../support/expect-within.js';

describe('penalised smoother of fourth differences (Whittaker 1923; order and lambda: own derivation)', () => {
  it('passes .02 of a vibration at .5 Hz, .5 at .8 Hz and .993 at 1.5 Hz at 30 frames a second', () => {
    expectWithin(fourthDifferenceGain(0.5, 30, 0.8), 0.02, { abs: 0.005, why: 'one digit is stated' });
    expectWithin(fourthDifferenceGain(0.8, 30, 0.8), 0.5, { abs: 1e-12 });
    expectWithin(fourthDifferenceGain(1.5, 30, 0.8), 0.993, { abs: 0.0005, why: 'three digits are stated' });
  });

  it('agrees with numpy 2.4 linalg.solve of the normal equations', () => {
    const y = Float64Array.from({ length: 12 }, (_, i) => ((7 * i * i + 3 * i) % 23) - 11);
    const expected = [
      -6.468560947310925, -6.31905639088582, -5.327159190307386, -3.669997156555643, -1.5416704166755077,
      0.815753941999386, 3.0901275400382793, 4.892671481953889, 5.771960381178151, 5.23162511111707,
      2.74585856542042, -2.221552919972169,
    ];
    fourthDifferenceSmooth(y, 10, 0.8).forEach((z, i) =>
      expectWithin(z, expected[i], { abs: 1e-9 }, `sample ${i}`),
    );
  });

  it('leaves under 10 micrometres of a 20 cm/s move whose speed changes slowly by a quarter', () => {
    const rateHz = 30;
    const periodS = 6;
    const amplitudeM = (0.25 * 0.2 * periodS) / (2 * Math.PI);
    const path = Float64Array.from({ length: 5 * rateHz }, (_, i) => {
      const t = i / rateHz;
      return 0.2 * t + amplitudeM * Math.sin((2 * Math.PI * t) / periodS + 1);
    });
    const intended = fourthDifferenceSmooth(path, rateHz, 0.8);
    const left = path.map((v, i) => v - intended[i]).slice(rateHz / 2, -rateHz / 2);
    const rmsM = Math.sqrt(left.reduce((sum, v) => sum + v * v, 0) / left.length);
    expectWithin(rmsM, 0, { abs: 10e-6, why: 'own simulation: 6-9 micrometres with half a second cut' });
  });
});

describe('difference from frame to frame (closed form 2 |sin(pi f / fs)|; case interframe-gain)', () => {
  it('has the stated gain', () => {
    const { cases } = JSON.parse(readFileSync(new URL('./worked.json', import.meta.url), 'utf8')) as {
      cases: { id: string; expected: { f_Hz: number; fps: number; gain: number }[] }[];
    };
    const rows = cases.find((c) => c.id === 'interframe-gain')?.expected ?? [];
    expect(rows.length).toBe(6);
    for (const { f_Hz: freqHz, fps, gain } of rows) {
      // The transform of the two-point difference, long enough to have a bin at every frequency of the table.
      const size = fps * 2;
      const { re, im } = realFft(Float64Array.of(1, -1), size);
      const bin = (freqHz * size) / fps;
      expectWithin(Math.hypot(re[bin], im[bin]), gain, { rel: 1e-9 }, `${freqHz} Hz at ${fps} fps`);
    }
  });
});
