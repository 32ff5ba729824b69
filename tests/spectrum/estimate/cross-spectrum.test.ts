import { describe, expect, it } from 'vitest';
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import { coherenceThreshold, crossSpectrum } from '../../../src/spectrum/estimate/cross-spectrum.js';
import { welch } from '../../../src/spectrum/estimate/welch.js';
import { expectWithin } from '../../support/expect-within.js';

const RATE = 25;
function noise(n: number, seed: number): Float64Array {
  return Float64Array.from({ length: n }, gaussianRandom(seededRandom(seed)));
}

describe('crossSpectrum', () => {
  it('of a series with itself is its Welch spectrum, fully coherent', () => {
    const x = noise(500, 1);
    const { re, im, psdX, psdY, coherence } = crossSpectrum(x, x, RATE);
    welch(x, RATE).psd.forEach((s, k) => {
      for (const column of [re, psdX, psdY]) expectWithin(column[k], s, { rel: 1e-12 });
      expect(Math.abs(im[k])).toBeLessThan(1e-12 * s);
      expectWithin(coherence[k], 1, { abs: 1e-9 });
    });
  });

  it('turns by -360 degrees times frequency times delay where the second series comes later', () => {
    const long = noise(1010, 2);
    const late = 3;
    const { freqHz, re, im } = crossSpectrum(long.slice(late), long.slice(0, -late), RATE, {
      segmentSamples: 100,
    });
    for (let k = 2; k < 48; k += 5) {
      const turn = Math.atan2(im[k], re[k]) + (2 * Math.PI * freqHz[k] * late) / RATE;
      expectWithin(Math.sin(turn / 2), 0, { abs: 0.05, why: 'segments differ by 3 % of their samples' });
    }
  });

  it('of unrelated series passes its threshold at the share of frequencies that was asked for', () => {
    const alpha = 0.05;
    let above = 0;
    let all = 0;
    for (let seed = 0; seed < 60; seed++) {
      const { coherence, independentSegments } = crossSpectrum(
        noise(500, seed),
        noise(500, seed + 100),
        RATE,
      );
      const least = coherenceThreshold(independentSegments, alpha);
      // Every third ordinate: neighbours share the main lobe of the window.
      for (let k = 3; k < coherence.length - 3; k += 3) {
        all++;
        if (coherence[k] > least) above++;
      }
    }
    expectWithin(above / all, alpha, { abs: 0.02, why: 'three standard errors of a share of 1000' });
  });

  it('finds the tone that two noisy series share and nothing else', () => {
    const tone = (n: number): number => Math.sin((2 * Math.PI * 6 * n) / RATE);
    const x = noise(500, 5).map((v, i) => v + tone(i));
    const y = noise(500, 6).map((v, i) => v + tone(i + 1));
    const { freqHz, coherence, independentSegments } = crossSpectrum(x, y, RATE);
    const best = coherence.indexOf(Math.max(...coherence));
    expectWithin(freqHz[best], 6, { abs: freqHz[1], why: 'one bin' });
    expect(coherence[best]).toBeGreaterThan(coherenceThreshold(independentSegments, 0.001));
  });

  it('cuts a short series into three, and gives 0 where a series is silent', () => {
    const { segments, coherence } = crossSpectrum(noise(30, 1), new Float64Array(30), RATE);
    expect(segments).toBe(3);
    expect([...coherence].every((c) => c === 0)).toBe(true);
  });

  it('refuses one segment alone, unequal lengths and thresholds that mean nothing', () => {
    expect(() => crossSpectrum(noise(50, 1), noise(50, 2), RATE, { segmentSamples: 50 })).toThrow(
      /2 segments/,
    );
    expect(() => crossSpectrum(noise(50, 1), noise(49, 2), RATE)).toThrow(/same length/);
    expect(() => coherenceThreshold(1, 0.05)).toThrow(/above 1/);
    expect(() => coherenceThreshold(4, 0)).toThrow(/alpha/);
  });
});
