/** Spectral estimation against published figures; cases by id from worked.json. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  coherentGain,
  intervalFactors,
  noiseBandwidthBins,
  overlapCorrelation,
  scallopingLossDb,
  welch,
  welchDegreesOfFreedom,
  windowSamples,
  type WindowName,
} from '../../src/spectrum/index.js';
import { expectWithin } from '../support/expect-within.js';

interface Case {
  readonly id: string;
  readonly expected: unknown;
  readonly inputs: unknown;
}

const { cases } = JSON.parse(readFileSync(new URL('./worked.json', import.meta.url), 'utf8')) as {
  cases: Case[];
};

function worked<Expected, Inputs = unknown>(id: string): { expected: Expected; inputs: Inputs } {
  const found = cases.find((c) => c.id === id);
  if (!found) throw new Error(`no case ${id} in worked.json`);
  return found as { expected: Expected; inputs: Inputs };
}

const sum = (x: ArrayLike<number>): number => Array.from(x).reduce((a, b) => a + b, 0);
/** The table is printed to this many digits. */
const TABLE = { rel: 1e-5, abs: 1e-7 };

const NAMES_IN_TABLE: Record<WindowName, string> = {
  rectangular: 'boxcar',
  hann: 'hann',
  hamming: 'hamming',
  blackman: 'blackman',
  blackmanHarris: 'blackmanharris',
  flatTop: 'flattop',
};

describe('window figures (Harris 1978, Proc. IEEE 66, table 1; digits from scipy, case window-figures)', () => {
  interface Figures {
    readonly ENBW_bins: number;
    readonly coherent_gain: number;
    readonly overlap_corr_50: number;
    readonly overlap_corr_75: number;
    readonly scallop_dB: number;
  }
  const { expected } = worked<Record<string, Figures>>('window-figures');

  it.each(Object.keys(NAMES_IN_TABLE) as WindowName[])('hold for the periodic %s window', (name) => {
    const window = windowSamples(name, 4096);
    const figures = expected[NAMES_IN_TABLE[name]];
    expectWithin(noiseBandwidthBins(window), figures.ENBW_bins, TABLE, 'noise bandwidth');
    expectWithin(coherentGain(window), figures.coherent_gain, TABLE, 'coherent gain');
    expectWithin(overlapCorrelation(window, 0.5), figures.overlap_corr_50, TABLE, 'overlap 50 %');
    // The column named 75 holds windows shifted by 75 % of their length, which overlap by 25 %.
    expectWithin(overlapCorrelation(window, 0.25), figures.overlap_corr_75, TABLE, 'shift 75 %');
    expectWithin(scallopingLossDb(window), figures.scallop_dB, TABLE, 'scalloping');
  });

  it('round to the two digits that Harris prints: Hann 1.50, Hamming 1.36, four-term Blackman-Harris 2.00', () => {
    const printed = (name: WindowName): string => noiseBandwidthBins(windowSamples(name, 4096)).toFixed(2);
    expect([printed('hann'), printed('hamming'), printed('blackmanHarris')]).toEqual([
      '1.50',
      '1.36',
      '2.00',
    ]);
  });

  it.each([
    ['rectangular', 75.0],
    ['hann', 65.9],
    ['hamming', 70.7],
    ['blackmanHarris', 46.0],
  ] as const)(
    'give the correlation at 75 %% overlap that Harris prints for %s (values from memory)',
    (name, percent) => {
      const correlation = overlapCorrelation(windowSamples(name, 4096), 0.75);
      expectWithin(100 * correlation, percent, { abs: 0.06, why: 'printed to a tenth of a per cent' });
    },
  );

  it.each([
    ['rectangular', '1.00', '3.92', 50.0],
    ['hann', '0.50', '1.42', 16.7],
    ['blackman', '0.42', '1.10', 9.0],
    ['blackmanHarris', '0.36', '0.83', 3.8],
  ] as const)(
    'round to the gain, scalloping and overlap at 50 %% that Harris prints for %s (values from memory)',
    (name, gain, scallopingDb, percent) => {
      const window = windowSamples(name, 4096);
      expect(coherentGain(window).toFixed(2)).toBe(gain);
      expect(scallopingLossDb(window).toFixed(2)).toBe(scallopingDb);
      expectWithin(100 * overlapCorrelation(window, 0.5), percent, {
        abs: 0.06,
        why: 'printed to a tenth of a per cent',
      });
    },
  );

  it('differ for symmetric windows as a public numerical-computing manual prints (case enbw-doc-values)', () => {
    const { expected: manual } = worked<{
      hamming1000_symmetric: number;
      flattop10000_symmetric_bins: number;
      hann1000_symmetric: number;
      hann128_symmetric_times1000Hz_over128: number;
    }>('enbw-doc-values');
    const bins = (name: WindowName, n: number): number =>
      noiseBandwidthBins(windowSamples(name, n, 'symmetric'));
    const FOUR_DIGITS = { abs: 1e-4, why: 'the manual prints four digits' };
    expectWithin(bins('hamming', 1000), manual.hamming1000_symmetric, FOUR_DIGITS);
    expectWithin(bins('flatTop', 10_000), manual.flattop10000_symmetric_bins, FOUR_DIGITS);
    expectWithin(bins('hann', 1000), manual.hann1000_symmetric, FOUR_DIGITS);
    expectWithin((bins('hann', 128) * 1000) / 128, manual.hann128_symmetric_times1000Hz_over128, FOUR_DIGITS);
  });

  it('refuse an overlap outside 0..1 and an empty window', () => {
    expect(() => overlapCorrelation(windowSamples('hann', 8), 1.5)).toThrow(/0\.\.1/);
    expect(() => windowSamples('hann', 0)).toThrow(/n must/);
  });
});

describe('Welch spectrum', () => {
  it('reads a sine as (A^2/2) / (noise bandwidth) at its peak (Heinzel, Ruediger, Schilling 2002; case welch-sine)', () => {
    const { expected } = worked<{
      segments: number;
      df: number;
      PSD_peak: number;
      spectrum_peak: number;
      band_power_9_11: number;
    }>('welch-sine');
    const x = Float64Array.from({ length: 1000 }, (_, i) => 3 * Math.sin((2 * Math.PI * 10 * i) / 100 + 0.3));
    const s = welch(x, 100, { segmentSamples: 500 });
    const peak = Math.max(...s.psd);
    expect(s.segments).toBe(expected.segments);
    expectWithin(s.resolutionHz, expected.df, { rel: 1e-12 });
    expectWithin(peak, expected.PSD_peak, { rel: 1e-6 });
    expectWithin(peak * s.noiseBandwidthHz, expected.spectrum_peak, { rel: 1e-6 });
    const lobe = s.psd.filter((_, b) => s.freqHz[b] >= 9 && s.freqHz[b] <= 11);
    expectWithin(sum(lobe) * s.resolutionHz, expected.band_power_9_11, { rel: 1e-6 });
  });

  it('keeps the mean square of a series (Parseval; case parseval-32)', () => {
    const { expected, inputs } = worked<
      {
        mean_square: number;
        PSD_boxcar_first6: number[];
        PSD_hann_first6: number[];
        sum_PSD_df_hann: number;
      },
      { x: number[]; fs: number }
    >('parseval-32');
    const x = Float64Array.from(inputs.x);
    const whole = { segmentSamples: 32, removeMean: false };
    const boxcar = welch(x, inputs.fs, { ...whole, window: 'rectangular' });
    expectWithin(sum(boxcar.psd) * boxcar.resolutionHz, expected.mean_square, { rel: 1e-12 });
    const hann = welch(x, inputs.fs, whole);
    expectWithin(sum(hann.psd) * hann.resolutionHz, expected.sum_PSD_df_hann, { rel: 1e-9 });
    for (let b = 0; b < 6; b++) {
      expectWithin(boxcar.psd[b], expected.PSD_boxcar_first6[b], { rel: 1e-9 }, `boxcar bin ${b}`);
      expectWithin(hann.psd[b], expected.PSD_hann_first6[b], { rel: 1e-9 }, `Hann bin ${b}`);
    }
  });
});

describe('degrees of freedom and 95 % factors (Welch 1967; case welch-dof-50pct)', () => {
  interface Row {
    readonly K: number;
    readonly hann: { dof: number; ci95: [number, number] };
    readonly boxcar: { dof: number; ci95: [number, number] };
  }
  const { expected } = worked<Row[]>('welch-dof-50pct');

  it.each(expected.map((row) => [row.K, row] as const))('hold for %i averages', (count, row) => {
    for (const [correlation, figures] of [
      [1 / 6, row.hann],
      [0.5, row.boxcar],
    ] as const) {
      const dof = welchDegreesOfFreedom(count, correlation);
      expectWithin(dof, figures.dof, TABLE, 'degrees of freedom');
      const [lo, hi] = intervalFactors(dof);
      expectWithin(lo, figures.ci95[0], TABLE, 'lower factor');
      expectWithin(hi, figures.ci95[1], TABLE, 'upper factor');
    }
  });

  it('come with the spectrum', () => {
    const s = welch(
      Float64Array.from({ length: 4 * 64 + 32 }, (_, i) => (i * i) % 17),
      25,
      { segmentSamples: 64 },
    );
    expect(s.segments).toBe(8);
    expectWithin(s.degreesOfFreedom, (36 * 64) / (19 * 8 - 1), { rel: 1e-9, why: '36 K^2 / (19 K - 1)' });
    expectWithin(s.ci95Factors[0], 0.54807, TABLE);
    expectWithin(s.ci95Factors[1], 2.37381, TABLE);
  });
});
