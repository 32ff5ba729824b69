/**
 * What holds for spectra of any series: energy (Parseval), quadratic scaling, and what must not matter: a constant, the direction of time,
 * the unit of time. Parseval: the sum of |X|^2 over all bins is n times the sum of x^2.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gaussianRandom, multitaperSpectrum, seededRandom, sineTapers } from '../../../src/numerics/index.js';
import { thirdOctaves } from '../../../src/spectrum/estimate/third-octaves.js';
import { welch, windowSamples, type WindowName } from '../../../src/spectrum/index.js';
import { expectWithin } from '../../support/expect-within.js';
import { evenly } from '../../support/evenly.js';

/** Rounding of a few thousand sums. */
const ROUNDING = { rel: 1e-9 };

const WINDOWS: readonly WindowName[] = [
  'rectangular',
  'hann',
  'hamming',
  'blackman',
  'blackmanHarris',
  'flatTop',
];
const window = fc.constantFrom(...WINDOWS);
const rateHz = evenly(1, 400);
/** Series of any colour: noise, lines, a trend, a constant. */
const series = fc
  .record({
    samples: fc.integer({ min: 8, max: 300 }),
    seed: fc.nat(1e6),
    noise: evenly(0.01, 10),
    line: evenly(0, 10),
    atShare: evenly(0, 0.5),
    trend: evenly(-1, 1),
    offset: evenly(-20, 20),
  })
  .map(({ samples, seed, noise, line, atShare, trend, offset }) => {
    const gauss = gaussianRandom(seededRandom(seed));
    return Float64Array.from(
      { length: samples },
      (_, i) => offset + trend * i + noise * gauss() + line * Math.sin(2 * Math.PI * atShare * i),
    );
  });

const integral = ({ psd, freqHz }: { psd: Float64Array; freqHz: Float64Array }): number =>
  psd.reduce((sum, value) => sum + value, 0) * freqHz[1];
const meanOf = (x: ArrayLike<number>): number =>
  Array.from(x).reduce((sum, value) => sum + value, 0) / x.length;
const powerOf = (x: Float64Array): number => meanOf(x.map((value) => value * value));
const without = (x: Float64Array, centre: number): Float64Array => x.map((value) => value - centre);

function expectSame(got: Float64Array, wanted: Float64Array, times = 1, scale = meanOf(wanted)): void {
  expect(got.length).toBe(wanted.length);
  got.forEach((value, b) =>
    expectWithin(value, times * wanted[b], { abs: 1e-9 * Math.abs(times) * scale }, `bin ${b}`),
  );
}

describe('the energy of a series', () => {
  it('is the integral of its periodogram: the mean square, or the variance where the mean is taken off', () => {
    fc.assert(
      fc.property(series, rateHz, (x, rate) => {
        const options = { segmentSamples: x.length, window: 'rectangular' } as const;
        expectWithin(integral(welch(x, rate, { ...options, removeMean: false })), powerOf(x), ROUNDING);
        expectWithin(integral(welch(x, rate, options)), powerOf(without(x, meanOf(x))), { rel: 1e-8 });
      }),
      { seed: 121, numRuns: 150 },
    );
  });

  it('is, seen through any window and averaged over segments, the mean of the squares as the window weighs them', () => {
    fc.assert(
      fc.property(series, rateHz, window, evenly(0.2, 1), (x, rate, name, share) => {
        const length = Math.max(2, Math.floor(share * x.length));
        const weights = windowSamples(name, length).map((w) => w * w);
        const all = weights.reduce((sum, w) => sum + w, 0);
        const step = Math.ceil(length / 2);
        const powers: number[] = [];
        for (let from = 0; from + length <= x.length; from += step) {
          const part = x.slice(from, from + length);
          const centre = meanOf(part);
          powers.push(part.reduce((sum, value, i) => sum + weights[i] * (value - centre) ** 2, 0) / all);
        }
        const spectrum = welch(x, rate, { segmentSamples: length, window: name });
        expect(spectrum.segments).toBe(powers.length);
        expectWithin(integral(spectrum), meanOf(powers), { rel: 1e-7 });
      }),
      { seed: 122, numRuns: 200 },
    );
  });

  it('is, through sine tapers, the mean of the squares as the tapers weigh them', () => {
    fc.assert(
      fc.property(
        series,
        rateHz,
        fc.integer({ min: 1, max: 5 }),
        fc.integer({ min: 1, max: 3 }),
        (x, rate, k, pad) => {
          const wanted = sineTapers(x.length, k).reduce(
            (sum, taper) => sum + x.reduce((all, value, i) => all + (taper[i] * value) ** 2, 0),
            0,
          );
          expectWithin(integral(multitaperSpectrum(x, rate, k, pad * x.length)), wanted / k, ROUNDING);
        },
      ),
      { seed: 123, numRuns: 150 },
    );
  });
});

describe('a spectrum', () => {
  it('is a square: of a sum and a difference together it is twice that of both (parallelogram law)', () => {
    fc.assert(
      fc.property(series, fc.nat(1e6), rateHz, fc.boolean(), (x, seed, rate, short) => {
        const gauss = gaussianRandom(seededRandom(seed));
        const y = x.map(() => 3 * gauss());
        const of = (z: Float64Array): Float64Array =>
          welch(z, rate, short ? {} : { segmentSamples: Math.ceil(x.length / 2) }).psd;
        const both = of(x.map((value, i) => value + y[i])).map(
          (value, b) => value + of(x.map((v, i) => v - y[i]))[b],
        );
        const apart = of(x).map((value, b) => 2 * value + 2 * of(y)[b]);
        expectSame(both, apart);
      }),
      { seed: 124, numRuns: 40 },
    );
  });

  it('does not see a constant, whatever the window', () => {
    fc.assert(
      fc.property(series, evenly(-100, 100), window, rateHz, (x, offset, name, rate) => {
        const options = { segmentSamples: Math.max(2, Math.floor(x.length / 2)), window: name };
        const size = powerOf(x) + offset ** 2;
        const plain = welch(x, rate, options).psd;
        expectSame(
          welch(
            x.map((v) => v + offset),
            rate,
            options,
          ).psd,
          plain,
          1,
          Math.max(meanOf(plain), (1e-3 * size) / rate),
        );
        const tapers = welch(x, x.length).psd;
        expectSame(
          welch(
            x.map((v) => v + offset),
            x.length,
          ).psd,
          tapers,
          1,
          Math.max(meanOf(tapers), (1e-3 * size) / x.length),
        );
      }),
      { seed: 125, numRuns: 60 },
    );
  });

  it('is the same backwards in time', () => {
    // Where the weights are the same backwards: tapers and the rectangle, and segments that leave no sample over. A periodic
    // window begins at its zero and ends a sample before it, so a reversed segment is seen a sample aside.
    fc.assert(
      fc.property(series, rateHz, fc.integer({ min: 1, max: 6 }), (x, rate, halves) => {
        expectSame(welch(x.toReversed(), x.length).psd, welch(x, x.length).psd);
        const half = Math.floor(x.length / (halves + 1));
        const tiled = x.slice(0, half * (halves + 1));
        const options = { segmentSamples: 2 * half, window: 'rectangular' } as const;
        expectSame(welch(tiled.toReversed(), rate, options).psd, welch(tiled, rate, options).psd);
      }),
      { seed: 126, numRuns: 60 },
    );
  });

  it('of the same frames at another rate has the same shape along a stretched frequency, and the same energy', () => {
    fc.assert(
      fc.property(series, rateHz, fc.constantFrom(2, 0.5, 1001 / 1000, 3), window, (x, rate, times, name) => {
        const options = { segmentSamples: Math.max(2, Math.floor(x.length / 2)), window: name };
        const plain = welch(x, rate, options);
        const other = welch(x, times * rate, options);
        other.freqHz.forEach((freq, b) => expectWithin(freq, times * plain.freqHz[b], { rel: 1e-12 }));
        expectSame(other.psd, plain.psd, 1 / times);
        expectWithin(other.noiseBandwidthHz, times * plain.noiseBandwidthHz, { rel: 1e-12 });
        expect(other.degreesOfFreedom).toBe(plain.degreesOfFreedom);
        expect(other.ci95Factors).toEqual(plain.ci95Factors);
      }),
      { seed: 127, numRuns: 100 },
    );
  });
});

describe('bands of a third of an octave', () => {
  const RATE = 25;
  const BAND = [0.8, 12.5] as const;
  const long = fc.tuple(fc.integer({ min: 60, max: 500 }), fc.nat(1e6)).map(([samples, seed]) => {
    const gauss = gaussianRandom(seededRandom(seed));
    return Float64Array.from({ length: samples }, () => gauss());
  });

  it('scale with the series, do not see a constant and are the same backwards', () => {
    fc.assert(
      fc.property(long, evenly(0.01, 100), evenly(-50, 50), evenly(0, 0.2), (x, factor, offset, noisePsd) => {
        const options = { bandHz: BAND, highPassHz: 0.8, noisePsd };
        const plain = thirdOctaves(x, RATE, options);
        const others = [
          [
            thirdOctaves(
              x.map((v) => factor * v),
              RATE,
              { ...options, noisePsd: factor ** 2 * noisePsd },
            ),
            factor,
          ],
          [
            thirdOctaves(
              x.map((v) => v + offset),
              RATE,
              options,
            ),
            1,
          ],
          [thirdOctaves(x.toReversed(), RATE, options), 1],
        ] as const;
        for (const [bands, times] of others) {
          expect(bands.map(({ label }) => label)).toEqual(plain.map(({ label }) => label));
          bands.forEach((band, i) => {
            expectWithin(band.belowRms, times * plain[i].belowRms, { rel: 1e-6 }, band.label);
            // At the edge of what noise shows, rounding may decide; the seed has no such case.
            expect(band.rms === null).toBe(plain[i].rms === null);
            if (band.rms !== null)
              expectWithin(band.rms, times * (plain[i].rms ?? NaN), { abs: 1e-6 * times }, band.label);
          });
        }
      }),
      { seed: 128, numRuns: 25 },
    );
  });

  it('move by as many bands as the rate is tenths of a decade higher, and say the same (IEC 61260-1, base ten)', () => {
    fc.assert(
      fc.property(long, fc.integer({ min: -3, max: 6 }), (x, bands) => {
        const times = 10 ** (bands / 10);
        const plain = thirdOctaves(x, RATE, { bandHz: BAND, highPassHz: null, noisePsd: 0 });
        const other = thirdOctaves(x, times * RATE, {
          bandHz: [times * BAND[0], times * BAND[1]],
          highPassHz: null,
          noisePsd: 0,
        });
        expect(other.length).toBe(plain.length);
        other.forEach((band, i) => {
          expectWithin(band.centreHz, times * plain[i].centreHz, { rel: 1e-9 });
          expectWithin(band.rms ?? NaN, plain[i].rms ?? NaN, { rel: 1e-6 }, band.label);
        });
      }),
      { seed: 129, numRuns: 30 },
    );
  });

  it('lie end to end, and their powers add up to the integral of the spectrum over all of them', () => {
    // Short enough that each band is read through one taper; with more of them neighbours blur by different widths.
    const short = fc.tuple(fc.integer({ min: 40, max: 80 }), fc.nat(1e6)).map(([samples, seed]) => {
      const gauss = gaussianRandom(seededRandom(seed));
      return Float64Array.from({ length: samples }, () => gauss());
    });
    fc.assert(
      fc.property(short, (x) => {
        const bands = thirdOctaves(x, RATE, { bandHz: BAND, highPassHz: null, noisePsd: 0 });
        bands.slice(1).forEach(({ fromHz }, i) => expectWithin(fromHz, bands[i].toHz, { rel: 1e-12 }));
        const [low, high] = [bands[0].fromHz, bands[bands.length - 1].toHz];
        const { freqHz, psd } = multitaperSpectrum(
          without(x, meanOf(x)),
          RATE,
          1,
          2 ** Math.ceil(Math.log2(4 * x.length)),
        );
        const step = freqHz[1];
        const wanted = psd.reduce((sum, value, b) => {
          const [from, to] = [(b - 0.5) * step, (b + 0.5) * step];
          return sum + value * Math.max(0, Math.min(high, to) - Math.max(low, from));
        }, 0);
        const total = bands.reduce((sum, { rms }) => sum + (rms ?? NaN) ** 2, 0);
        expectWithin(total, wanted, { rel: 1e-9 });
      }),
      { seed: 130, numRuns: 60 },
    );
  });
});
