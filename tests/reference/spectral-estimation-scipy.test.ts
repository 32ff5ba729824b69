/**
 * Welch, periodogram, cross-spectrum, coherence, spectrogram and chi-square factors against SciPy (scipy.signal, scipy.stats), on short
 * series of whole numbers; script and versions that made the values stand in the file beside this one.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { crossSpectrum } from '../../src/spectrum/estimate/cross-spectrum.js';
import { spectrogram } from '../../src/spectrum/estimate/spectrogram.js';
import { intervalFactors, welch, type WelchOptions } from '../../src/spectrum/estimate/welch.js';
import type { WindowName } from '../../src/spectrum/estimate/windows.js';
import { expectWithin } from '../support/expect-within.js';

interface Arguments {
  readonly nperseg?: number;
  readonly window?: string;
  readonly detrend?: boolean;
}

interface Case {
  readonly x: string;
  readonly arguments: Arguments;
  readonly freqHz: number[];
}

interface Values {
  readonly madeBy: { readonly scipy: string };
  readonly rateHz: number;
  readonly series: Record<string, number[]>;
  readonly welch: (Case & { readonly psd: number[] })[];
  readonly periodogram: (Case & { readonly psd: number[] })[];
  readonly cross: (Case & {
    readonly y: string;
    readonly re: number[];
    readonly im: number[];
    readonly coherence: number[];
  })[];
  readonly spectrogram: {
    readonly x: string;
    readonly nperseg: number;
    readonly freqHz: number[];
    readonly timeS: number[];
    readonly rows: number[][];
  };
  readonly chiSquare: { readonly dof: number; readonly lo: number; readonly hi: number }[];
}

const values = JSON.parse(
  readFileSync(new URL('./spectral-estimation-scipy.json', import.meta.url), 'utf8'),
) as Values;
const { rateHz } = values;
const series = (name: string): Float64Array => Float64Array.from(values.series[name]);

/** Rounding of double precision over a few hundred additions. */
const ROUNDING = 1e-10;
const WINDOWS: Record<string, WindowName> = {
  boxcar: 'rectangular',
  blackmanharris: 'blackmanHarris',
  flattop: 'flatTop',
};

function options(
  { nperseg, window = 'hann', detrend }: Arguments,
  length: number,
  plain: string,
): WelchOptions {
  const name = window === 'hann' && plain === 'boxcar' ? 'boxcar' : window;
  return {
    segmentSamples: nperseg ?? length,
    window: WINDOWS[name] ?? (name as WindowName),
    removeMean: detrend ?? true,
  };
}

/** Values that are 0 but for rounding are compared with the size of the others. */
function expectColumn(got: Readonly<Float64Array>, wanted: readonly number[], what: string): void {
  expect(got.length, what).toBe(wanted.length);
  const size = Math.max(...wanted.map(Math.abs));
  wanted.forEach((value, i) => {
    expectWithin(got[i], value, { abs: ROUNDING * size, rel: ROUNDING }, `${what}, bin ${i}`);
  });
}

describe(`spectra as SciPy ${values.madeBy.scipy} makes them`, () => {
  it.each(values.welch)('Welch of "$x" with $arguments', ({ x, arguments: given, freqHz, psd }) => {
    const got = welch(series(x), rateHz, options(given, series(x).length, 'hann'));
    expectColumn(got.freqHz, freqHz, 'frequency');
    expectColumn(got.psd, psd, 'density');
  });

  it.each(values.periodogram)(
    'periodogram of "$x" with $arguments',
    ({ x, arguments: given, freqHz, psd }) => {
      const plain = given.window === undefined ? 'boxcar' : 'hann';
      const got = welch(series(x), rateHz, options(given, series(x).length, plain));
      expectColumn(got.freqHz, freqHz, 'frequency');
      expectColumn(got.psd, psd, 'density');
    },
  );

  it.each(values.cross)('cross-spectrum of "$x" and "$y" with $arguments', (one) => {
    const got = crossSpectrum(
      series(one.x),
      series(one.y),
      rateHz,
      options(one.arguments, series(one.x).length, 'hann'),
    );
    expectColumn(got.freqHz, one.freqHz, 'frequency');
    expectColumn(got.re, one.re, 'real part');
    expectColumn(got.im, one.im, 'imaginary part');
    expectColumn(got.coherence, one.coherence, 'coherence');
  });

  it('spectrogram, row by row where rows stand at the same times', () => {
    const { x, nperseg, freqHz, timeS, rows } = values.spectrogram;
    const got = spectrogram(series(x), rateHz, {
      bandHz: [freqHz[1], rateHz / 2],
      windowS: nperseg / rateHz,
    });
    // SciPy dates a row half a sample later than its middle.
    const rowAt = (t: number): number =>
      got.timeS.findIndex((own) => Math.abs(own + 0.5 / rateHz - t) < 1e-9);
    const shared = [...timeS.keys()].filter((r) => rowAt(timeS[r]) >= 0);
    expect(shared.length).toBeGreaterThanOrEqual(2);
    for (const r of shared) {
      const row = got.rows[rowAt(timeS[r])];
      // Nyquist is not doubled in one and may be left out of the other.
      const last = got.freqHz.length - 1;
      for (let k = 0; k < last; k++) {
        const at = freqHz.findIndex((f) => Math.abs(f - got.freqHz[k]) < 1e-9);
        expectWithin(row[k], rows[r][at], { rel: 1e-9 }, `row ${r}, ${got.freqHz[k]} Hz`);
      }
    }
  });

  it.each(values.chiSquare)('95 % factors of a density with $dof degrees of freedom', ({ dof, lo, hi }) => {
    const [low, high] = intervalFactors(dof);
    expectWithin(low, lo, { rel: 1e-9 });
    expectWithin(high, hi, { rel: 1e-9 });
  });
});
