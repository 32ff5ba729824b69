import { describe, expect, it } from 'vitest';
import { mean, multitaperSpectrum, rms } from '../../../src/numerics/index.js';
import type { RolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import {
  wavelengthBands,
  type DeckAndFit,
  type WavelengthBand,
} from '../../../src/surface/grades/wavelength-bands.js';
import { fitPass, refitPass } from '../../../src/surface/roughness/pass-fit.js';
import { expectWithin } from '../../support/expect-within.js';
import type { FloorTracks } from '../support/made-up-floor.js';
import { madeUpDeck, type DeckOptions } from './made-up-deck.js';

const NOISE_TRUST = 0.3;
const HALF_BAND = 10 ** 0.05;
const fit = (deck: RolledDeck): DeckAndFit => ({ deck, fitted: fitPass(deck) });
const bandsOf = (deck: RolledDeck): WavelengthBand[] =>
  wavelengthBands({ asRolled: fit(deck), betweenJoints: null, noiseTrust: NOISE_TRUST });

/** Level of the two tracks themselves over the very stretch that was rolled, dB re 1 um; from slopes, which leak less. */
function levelsOfTracks(tracks: FloorTracks, spacingM: number): (centreM: number) => number {
  const spectra = [tracks.left, tracks.right].map((height) => {
    const steps = height.subarray(1).map((z, i) => z - height[i]);
    const slope = mean(steps);
    return multitaperSpectrum(
      steps.map((step) => step - slope),
      1 / spacingM,
      3,
    );
  });
  return (centreM) => {
    const [from, to] = [1 / centreM / HALF_BAND, HALF_BAND / centreM];
    const density = spectra.map(({ freqHz: cyclesPerM, psd }) => {
      const inside = [...cyclesPerM.keys()].filter((i) => cyclesPerM[i] >= from && cyclesPerM[i] < to);
      return mean(inside.map((i) => psd[i] / (2 * Math.sin(Math.PI * cyclesPerM[i] * spacingM)) ** 2));
    });
    return 10 * Math.log10((mean(density) * (to - from)) / 1e-12);
  };
}

interface Checked extends WavelengthBand {
  readonly errorDb: number;
}

/** Bands by what was asked for: several tests look at the same passes. */
const checkedBefore = new Map<string, readonly Checked[]>();

/** Bands of a made-up pass against its tracks. */
function checkedBandsOf(options: DeckOptions): readonly Checked[] {
  const key = JSON.stringify(options);
  const known = checkedBefore.get(key);
  if (known) return known;
  const { deck, tracks, spacingM } = madeUpDeck(options);
  const truth = levelsOfTracks(tracks, spacingM);
  const checked = bandsOf(deck).map((band) => ({ ...band, errorDb: band.asRolledDb - truth(band.centreM) }));
  checkedBefore.set(key, checked);
  return checked;
}

/** Bands of several made-up passes against their tracks. */
function checkedBands(options: Omit<DeckOptions, 'seed'>, seeds: readonly number[]): Checked[] {
  return seeds.flatMap((seed) => [...checkedBandsOf({ ...options, seed })]);
}

/** Bias, rms error, cover of the claimed sd over all levels, and whether every bound holds. */
function expectBands(
  checked: readonly Checked[],
  { sdDb, biasDb, share = 0.9 }: { readonly sdDb: number; readonly biasDb: number; readonly share?: number },
): void {
  const known = checked.filter(({ below }) => !below);
  const errors = known.map(({ errorDb }) => errorDb);
  expectWithin(mean(errors), 0, { abs: biasDb, why: 'bias over all bands' });
  expect(rms(errors), 'error over all bands, dB').toBeLessThan(sdDb);
  const within = known.filter((band) => Math.abs(band.errorDb) <= 2 * band.sdDb).length / known.length;
  expect(within, 'share within two claimed sd').toBeGreaterThan(share);
  const held = checked.filter(({ below, errorDb }) => below && errorDb > 0).length;
  expect(held, 'bounds that hold').toBe(checked.length - known.length);
}

describe('levels in bands of wavelength', () => {
  const SEEDS = [101, 102, 103, 104];

  // Own measurement on 12 passes each: 0.4-0.8 dB at 1e-6, 0.8-1.3 dB at 6e-8.
  it.each([0.1, 0.2, 0.5])('are those of the tracks within 1 dB at Gd 1e-6 and %d m/s', (speedMps) => {
    expectBands(checkedBands({ gdM3: 1e-6, speedMps }, SEEDS), { sdDb: 1, biasDb: 0.4 });
  });

  it.each([0.1, 0.2, 0.5])('are those of the tracks within 1.6 dB at Gd 6e-8 and %d m/s', (speedMps) => {
    expectBands(checkedBands({ gdM3: 6e-8, speedMps }, SEEDS), { sdDb: 1.6, biasDb: 0.8 });
  });

  it('hold in each single band at Gd 1e-6', () => {
    const checked = checkedBands({ gdM3: 1e-6, speedMps: 0.2 }, [...SEEDS, 105, 106, 107, 108]);
    const names = [...new Set(checked.map(({ nominalM }) => nominalM))];
    expect(names).toEqual([0.2, 0.16, 0.125, 0.1, 0.08, 0.063, 0.05, 0.04, 0.0315, 0.025, 0.02]);
    for (const name of names) {
      const errors = checked.filter(({ nominalM }) => nominalM === name).map(({ errorDb }) => errorDb);
      expectWithin(mean(errors), 0, { abs: 0.8, why: 'eight passes of a fitted floor' }, `${name} m`);
      expect(rms(errors), `${name} m`).toBeLessThan(1.2);
    }
  });

  it('call what drowns in noise a bound, and the bound holds', () => {
    const checked = checkedBands({ gdM3: 6e-8, speedMps: 0.1 }, SEEDS);
    const bounds = checked.filter(({ below }) => below);
    expect(bounds.map(({ nominalM }) => nominalM)).toContain(0.02);
    expect(bounds.every(({ errorDb, sdDb }) => errorDb > 0 && sdDb > 3 && Number.isFinite(sdDb))).toBe(true);
    // Longer waves stand out.
    expect(checked.filter(({ centreM }) => centreM > 0.045).some(({ below }) => below)).toBe(false);
  });

  it('stay bounds on a floor of which nothing is seen', () => {
    const checked = checkedBands({ gdM3: 1e-11, speedMps: 0.1 }, SEEDS.slice(0, 2));
    expect(checked.every(({ below, errorDb }) => below && errorDb > 0)).toBe(true);
    for (const { asRolledDb, sdDb } of checked)
      expect(Number.isFinite(asRolledDb) && Number.isFinite(sdDb)).toBe(true);
  });

  it('lie between the mean track and twice it without deck roll, and say how far that is', () => {
    const checked = checkedBands({ gdM3: 1e-6, speedMps: 0.5, withRoll: false }, SEEDS);
    // Made-up tracks are alike for long waves and not at all for short ones: 1.5 dB over at one end, 1.5 under at the other.
    expectBands(checked, { sdDb: 1.8, biasDb: 1.6 });
    const withRoll = checkedBands({ gdM3: 1e-6, speedMps: 0.5 }, [101]);
    const without = checked.slice(0, withRoll.length);
    withRoll.forEach(({ sdDb }, i) => expect(without[i].sdDb).toBeGreaterThan(sdDb));
  });

  it('are read off pitch alone as well', () => {
    expectBands(checkedBands({ gdM3: 1e-6, speedMps: 0.2, withHeave: false }, SEEDS), {
      sdDb: 1,
      biasDb: 0.4,
    });
  });

  it('undo the contact of a soft wheel as far as it is known, and are bounds beyond', () => {
    const checked = checkedBands({ gdM3: 1e-6, speedMps: 0.2, patchM: 0.045 }, SEEDS);
    expectBands(checked, { sdDb: 1.3, biasDb: 0.8 });
    expect(checked.filter(({ centreM }) => centreM < 0.03).every(({ below }) => below)).toBe(true);
    expect(checked.filter(({ centreM }) => centreM > 0.06).some(({ below }) => below)).toBe(false);
  });

  it('are those of the tracks at a pace that varies by 15 %', () => {
    expectBands(checkedBands({ gdM3: 1e-6, speedMps: 0.2, wobble: 0.15 }, SEEDS), { sdDb: 1.1, biasDb: 0.4 });
  });

  it('lean on the stated noise, 30 % more or less of it, about as far as they claim', () => {
    for (const off of [1.3, 1 / 1.3]) {
      const checked = SEEDS.slice(0, 2).flatMap((seed) => {
        const { deck, tracks, spacingM } = madeUpDeck({ seed, gdM3: 6e-8, speedMps: 0.2 });
        const truth = levelsOfTracks(tracks, spacingM);
        const stated = (series: RolledDeck['pitchRad']): RolledDeck['pitchRad'] => ({
          ...series!,
          noiseSd: series!.noiseSd * off,
        });
        return bandsOf({
          ...deck,
          pitchRad: stated(deck.pitchRad),
          heaveM: stated(deck.heaveM),
          rollRad: stated(deck.rollRad),
        }).map((band) => ({ ...band, errorDb: band.asRolledDb - truth(band.centreM) }));
      });
      // All three series off the same way by one sd of the noise: five of six within two sd are to be expected.
      expectBands(checked, { sdDb: 2.5, biasDb: 2, share: 0.75 });
    }
  });

  it('are none from roll alone, which does not show a track', () => {
    const { deck } = madeUpDeck({ seed: 1, gdM3: 1e-6, speedMps: 0.2, durationS: 8 });
    expect(bandsOf({ ...deck, pitchRad: null, heaveM: null })).toEqual([]);
  });

  it('are the same again, and leave the deck as it was', () => {
    const { deck } = madeUpDeck({ seed: 2, gdM3: 1e-6, speedMps: 0.2, durationS: 8 });
    const pitch = Float64Array.from(deck.pitchRad!.values);
    const first = bandsOf(deck);
    expect(bandsOf(deck)).toEqual(first);
    expect(deck.pitchRad!.values).toEqual(pitch);
  });
});

describe('a row of joints', () => {
  const seed = 104;
  const floor = { seed, gdM3: 1e-6, speedMps: 0.2 } as const;
  const plates = { lengthM: 0.3, rmsM: 5e-4 };
  const even = madeUpDeck(floor);
  const jointed = madeUpDeck({ ...floor, plates });
  const asRolled = fit(jointed.deck);
  // What is left when the heights of the joints are known and taken out: the even floor under the same noise.
  const betweenJoints = { deck: even.deck, fitted: refitPass(asRolled.fitted, even.deck) };
  const bands = wavelengthBands({ asRolled, betweenJoints, noiseTrust: NOISE_TRUST });

  it('raises the levels as rolled, by what it adds to the tracks', () => {
    const truth = levelsOfTracks(jointed.axles, jointed.spacingM);
    const errors = bands.map(({ asRolledDb, centreM }) => asRolledDb - truth(centreM));
    expect(rms(errors), 'dB').toBeLessThan(2);
    const raised = bands.map(({ asRolledDb, betweenJointsDb }) => asRolledDb - betweenJointsDb!);
    expect(Math.min(...raised)).toBeGreaterThan(2);
    expect(mean(raised)).toBeGreaterThan(6);
  });

  it('leaves the levels between joints as those of the even floor', () => {
    const truth = levelsOfTracks(even.tracks, even.spacingM);
    const errors = bands.map(({ betweenJointsDb, centreM }) => betweenJointsDb! - truth(centreM));
    expect(rms(errors), 'dB').toBeLessThan(1.2);
    expectWithin(mean(errors), 0, { abs: 0.8, why: 'bias of one pass' });
  });
});

describe('a machine on the dolly', () => {
  it('counts as rolled but not between joints', () => {
    const { deck } = madeUpDeck({ seed: 103, gdM3: 1e-6, speedMps: 0.2 });
    const freqHz = 4;
    const shaken: RolledDeck = {
      ...deck,
      pitchRad: {
        ...deck.pitchRad!,
        values: deck.pitchRad!.values.map(
          (value, i) =>
            value + ((8 * Math.PI) / 180e3) * Math.SQRT2 * Math.sin(2 * Math.PI * freqHz * deck.timeS[i]),
        ),
      },
    };
    const plain = bandsOf(deck);
    const both = wavelengthBands({
      asRolled: fit(shaken),
      betweenJoints: fit(shaken),
      noiseTrust: NOISE_TRUST,
    });
    const at = plain.findIndex(({ nominalM }) => nominalM === 0.05);
    expect(both[at].asRolledDb - plain[at].asRolledDb).toBeGreaterThan(2);
    expectWithin(both[at].betweenJointsDb!, plain[at].asRolledDb, {
      abs: 1.5,
      why: 'a third of the bins are left out',
    });
  });
});
