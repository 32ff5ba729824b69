import { describe, expect, it } from 'vitest';
import { multitaperSpectrum } from '../../../src/numerics/index.js';
import { LINE_HEIGHT, lineLeak, lineShape, steadyLeak } from '../../../src/spectrum/peaks/line-shape.js';
import { expectWithin } from '../../support/expect-within.js';

const RATE_HZ = 25;
const FRAMES = 500;
const DURATION_S = FRAMES / RATE_HZ;
const LINE_HZ = 5;
const sine = Float64Array.from(
  { length: FRAMES },
  (_, i) => 2 * Math.cos(2 * Math.PI * LINE_HZ * (i / RATE_HZ)),
);
const one = multitaperSpectrum(sine, RATE_HZ, 1, 4 * FRAMES);
const five = multitaperSpectrum(sine, RATE_HZ, 5, 4 * FRAMES);
const at = (f: number): number => Math.round(f * 4 * DURATION_S);

describe('the shape of a line under the tapers', () => {
  it('stands 4 / pi^2 A^2 T high in the one-taper spectrum', () => {
    expectWithin(one.psd[at(LINE_HZ)], LINE_HEIGHT * 4 * DURATION_S, {
      rel: 0.01,
      why: 'taper of n + 1 steps',
    });
  });

  it('falls off as the taper does', () => {
    for (const x of [0.25, 0.5, 1, 1.25]) {
      const share = one.psd[at(LINE_HZ + x / DURATION_S)] / one.psd[at(LINE_HZ)];
      expectWithin(share, lineShape(x), { abs: 0.01, why: 'taper of n + 1 steps, mirrored line' });
    }
    expectWithin(lineShape(1), 1 / 9, { abs: 1e-12 });
  });

  it('leaves no more beyond its main lobe than the leaks allow, in both spectra', () => {
    for (let x = 2; x < 30; x += 0.25) {
      const height = one.psd[at(LINE_HZ)];
      expect(one.psd[at(LINE_HZ + x / DURATION_S)]).toBeLessThan(height * lineLeak(x));
      if (x >= 4) expect(five.psd[at(LINE_HZ + x / DURATION_S)]).toBeLessThan(height * steadyLeak(x));
    }
  });
});
