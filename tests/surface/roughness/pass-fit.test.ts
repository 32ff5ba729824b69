import { describe, expect, it } from 'vitest';
import type { Motion } from '../../../src/motion/index.js';
import { fourthDifferenceGain, gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import { exposureGain } from '../../../src/optics/index.js';
import type { Rig } from '../../../src/run/index.js';
import { contactPowerGain, deckPowerGain } from '../../../src/surface/deck/deck-transfer.js';
import type { NoisySeries } from '../../../src/surface/deck/lens-path.js';
import { readPass } from '../../../src/surface/deck/pass.js';
import { rolledDeck, withPhase, type RolledDeck } from '../../../src/surface/deck/rolled-deck.js';
import { CONTACT_TRIES, fitFloor, type ContactTable } from '../../../src/surface/roughness/floor-fit.js';
import {
  fitPass,
  levelsOf,
  refitPass,
  refitWithLessNoise,
  type FittedPass,
} from '../../../src/surface/roughness/pass-fit.js';
import { heightPsdInTime } from '../../../src/surface/roughness/road-profile.js';
import { expectWithin } from '../../support/expect-within.js';
import { gradeAsRolled } from '../support/fitted-pass.js';
import { madeUpPass, madeUpRig, motionOf, type PassOptions } from '../support/made-up-pass.js';

const QUARTER_CLASS = { abs: 0.35, why: 'a quarter of a class; spread of 20 s passes is 0.1-0.2' };
const HALF_CLASS = { abs: 0.69, why: 'half of a class' };
const MDEG = Math.PI / 180e3;

function deckOf(motion: Motion, speedMps: number, more: Partial<Rig> = {}): RolledDeck {
  return rolledDeck(readPass(motion, madeUpRig(speedMps, more)).pass!, motion);
}

function fitted(options: PassOptions, more: Partial<Rig> = {}): FittedPass {
  return fitPass(deckOf(madeUpPass(options), options.speedMps ?? 0.2, more));
}

/** The fit with another table of expected spectra, all bins of the band kept. */
function gdWith({ channels, band }: FittedPass, table: ContactTable): number {
  return fitFloor(channels, table, new Map(channels.map(({ channel }) => [channel, band]))).gdM3;
}

describe('a model with a part left out', () => {
  it('finds little more than half of the floor without roll, where tracks are unlike', () => {
    for (const seed of [1, 2]) {
      const { fit } = fitted({ seed, gdM3: 1e-6, speedMps: 0.5 }).masked;
      expectWithin(Math.log(fit.gdM3 / 1e-6), 0, QUARTER_CLASS);
      // The mean of two tracks that are all but unlike holds half of their power.
      expectWithin(fit.meanTrackM3! / fit.gdM3, 0.55, { abs: 0.1, why: 'alike only below 3 cycles/m' });
    }
  });

  it('reads three times too much or more at 0.1 m/s when notches are not smeared as tapers smear them', () => {
    for (const seed of [1, 2, 3]) {
      const pass = fitted({ seed, gdM3: 1.6e-5, speedMps: 0.1, durationS: 10 });
      expectWithin(Math.log(gdWith(pass, pass.table) / 1.6e-5), 0, QUARTER_CLASS);
      expect(gdWith(pass, unsmeared(pass)) / 1.6e-5).toBeGreaterThan(3);
    }
  });

  it('reads less than half on a soft wheel when the contact is taken as hard', () => {
    const pass = fitted({ seed: 1, gdM3: 1e-6, speedMps: 0.25, wheelRadiusM: 0.1, patchM: 0.045 });
    expectWithin(Math.log(gdWith(pass, pass.table) / 1e-6), 0, QUARTER_CLASS);
    const hard = CONTACT_TRIES.findIndex((contact) => contact > 100);
    const table = { ...pass.table, floors: CONTACT_TRIES.map(() => pass.table.floors[hard]) };
    expect(gdWith(pass, table) / 1e-6).toBeLessThan(0.5);
  });
});

/** Expected spectra as a bare model has them: the density at each bin, folds included, without the tapers' window. */
function unsmeared({ settings, channels, freqHz, table }: FittedPass): ContactTable {
  const { rateHz, cutoffHz, exposureS, dolly } = settings;
  const [speedMps] = settings.speedsMps;
  const highPass = freqHz.map((f) => fourthDifferenceGain(f, rateHz, cutoffHz) ** 2);
  const floors = CONTACT_TRIES.map(
    (contact) =>
      new Map(
        channels.map(({ channel }) => [
          channel,
          freqHz.map((f, i) => {
            let sum = 0;
            for (let fold = -3; fold <= 3; fold++) {
              const trueHz = Math.max(1e-6, Math.abs(f + fold * rateHz));
              const n = trueHz / speedMps;
              sum +=
                heightPsdInTime(1, trueHz, speedMps, 2) *
                deckPowerGain(channel, n, dolly) *
                exposureGain(trueHz, exposureS) ** 2 *
                contactPowerGain(n, contact);
            }
            return Math.max(highPass[i] * sum, 1e-30);
          }),
        ]),
      ),
  );
  return { ...table, floors };
}

describe('a lower cut-off', () => {
  it.each([
    [0.1, 1e-6],
    [0.5, 6e-8],
  ])('leaves the grade where it is at %d m/s and %d m^3, and the band from 1 Hz', (speedMps, gdM3) => {
    const deck = deckOf(madeUpPass({ seed: 2, gdM3, speedMps }), speedMps);
    expect(deck.cutoffHz).toBe(0.3);
    const low = fitPass(deck);
    const high = fitPass({ ...deck, cutoffHz: 0.8 });
    expectWithin(low.masked.fit.gdM3 / high.masked.fit.gdM3, 1, { rel: 0.03, why: 'the very same bins' });
    expect(low.band).toEqual(high.band);
    expectWithin(low.freqHz[low.band.indexOf(1)], 1.05, { abs: 0.051, why: 'bins of 1/20 s above 1 Hz' });
  });

  it('bears a drift of 0.2 mdeg per frame in the angles, even or at random', () => {
    const motion = madeUpPass({ seed: 1, gdM3: 6e-8, speedMps: 0.2 });
    const gd = (drift: (i: number) => number): number => {
      const drifting = motion.timeS.map((_, i) => drift(i) * MDEG);
      const add = (values: Float64Array): Float64Array => values.map((value, i) => value + drifting[i]);
      const path = { ...motion.path, pan: add(motion.path.pan), tilt: add(motion.path.tilt) };
      const moved = motionOf({ ...path, roll: add(path.roll) }, motion.timeS, 25, motion.travelM!);
      return fitPass(deckOf(moved, 0.2)).masked.fit.gdM3;
    };
    const still = gd(() => 0);
    expectWithin(gd((i) => 0.2 * i) / still, 1, {
      rel: 0.002,
      why: 'an even drift is a cubic of the smoother',
    });
    const gaussian = gaussianRandom(seededRandom(5));
    let place = 0;
    const wander = gd(() => (place += 0.2 * gaussian()));
    expectWithin(wander / still, 1, {
      rel: 0.1,
      why: 'two thirds of the noise as much again at 1 Hz, falling',
    });
  });
});

describe('a pass that is fitted again', () => {
  const deck = deckOf(madeUpPass({ seed: 1, gdM3: 1e-6, speedMps: 0.5, durationS: 10 }), 0.5);
  const first = fitPass(deck);

  it('is the same when nothing was taken out', () => {
    const again = refitPass(first, deck);
    expect(again.masked).toEqual(first.masked);
    expect(again.table).toBe(first.table);
  });

  it('follows what was taken out, as a fit from the start does', () => {
    const quieter: RolledDeck = {
      ...deck,
      pitchRad: { ...deck.pitchRad!, values: deck.pitchRad!.values.map((value) => 0.7 * value) },
      heaveM: { ...deck.heaveM!, values: deck.heaveM!.values.map((value) => 0.7 * value) },
      rollRad: { ...deck.rollRad!, values: deck.rollRad!.values.map((value) => 0.7 * value) },
    };
    const again = refitPass(first, quieter);
    expectWithin(again.masked.fit.gdM3 / first.masked.fit.gdM3, 0.45, {
      abs: 0.05,
      why: 'half of the power, and the whole noise taken off it',
    });
    expectWithin(again.masked.fit.gdM3, fitPass(quieter).masked.fit.gdM3, { rel: 1e-9, why: 'the same fit' });
  });

  it('finds a smooth floor under noise that is stated too large, when the noise may be less', () => {
    for (const seed of [1, 2, 3]) {
      const smooth = deckOf(madeUpPass({ seed, gdM3: 6e-8, speedMps: 0.25, durationS: 10 }), 0.25);
      const overstated = (series: NoisySeries | null): NoisySeries | null =>
        series && { ...series, noiseSd: 2 * series.noiseSd, leastNoiseSd: 0.8 * series.noiseSd };
      const stated: RolledDeck = {
        ...smooth,
        pitchRad: overstated(smooth.pitchRad),
        heaveM: overstated(smooth.heaveM),
        rollRad: overstated(smooth.rollRad),
      };
      const asStated = fitPass(stated);
      const less = refitWithLessNoise(asStated, stated).masked.fit;
      expectWithin(Math.log(less.gdM3 / 6e-8), 0, HALF_CLASS, `seed ${seed}`);
      expectWithin(less.noiseFactor, 0.5, { abs: 0.1, why: 'a step of what is tried' });
      expect(less.cost).toBeLessThan(asStated.masked.fit.cost - 10);
    }
  });

  it('lets the noise be less only where the stated one leaves room', () => {
    const { masked } = refitWithLessNoise(first, deck);
    expect(masked).toEqual(first.masked);
  });

  it('gives the levels of what it shows, null for the rest', () => {
    const { meanTrackM3, differenceM3 } = levelsOf(first);
    const { fit } = first.masked;
    expectWithin(meanTrackM3! + differenceM3! / 4, fit.gdM3, {
      rel: 0.1,
      why: 'one contact against their mean',
    });
    expect(levelsOf(fitPass({ ...deck, rollRad: null })).differenceM3).toBeNull();
    const rollOnly = fitPass({ ...deck, pitchRad: null, heaveM: null });
    expect(levelsOf(rollOnly).meanTrackM3).toBeNull();
    expectWithin(rollOnly.masked.fit.gdM3, levelsOf(rollOnly).differenceM3! / 4, {
      rel: 0.05,
      why: 'a quarter of it, averaged over the contact',
    });
  });

  it('refuses a deck that shows nothing', () => {
    expect(() => fitPass({ ...deck, pitchRad: null, heaveM: null, rollRad: null })).toThrow(RangeError);
  });
});

describe('the notches', () => {
  it('lie where the clip shows them when the wheelbase is 20 mm off, and the axles then stand right', () => {
    const motion = madeUpPass({ seed: 1, gdM3: 1e-6 });
    const deck = deckOf(motion, 0.2, { wheelbaseM: 0.47 });
    const { phaseScale } = fitPass(deck);
    expectWithin(withPhase(deck, phaseScale).frontAheadM, 0.45, {
      abs: 0.005,
      why: 'step of the search, 1 %',
    });
  });

  it('stay where they are given when that is right', () => {
    for (const seed of [1, 2, 3]) expect(fitted({ seed, gdM3: 1e-6, speedMps: 0.2 }).phaseScale).toBe(1);
  });
});

describe('the interval of a grade', () => {
  it.each([
    [6e-8, 0.2],
    [6e-8, 0.5],
    [1.5e-8, 0.5],
  ])('holds a floor of %d m^3 at %d m/s when the noise is a third more than stated', (gdM3, speedMps) => {
    for (const seed of [1, 2, 3]) {
      const motion = madeUpPass({ seed, gdM3, speedMps, noiseFactor: 1.3 });
      const { grade } = gradeAsRolled(motion, madeUpRig(speedMps));
      // Either a class whose interval holds the truth, or a bound above it.
      const off = Math.log(grade!.gdM3 / gdM3);
      expect(grade!.atMost ? -off : Math.abs(off) - 2 * grade!.sdLn, `seed ${seed}`).toBeLessThan(0);
    }
  });
});

describe('lines of machines', () => {
  it('are not listed where there are none', () => {
    let listed = 0;
    for (let seed = 21; seed <= 32; seed++) listed += fitted({ seed, gdM3: 1e-6 }).masked.lines.length;
    expect(listed).toBe(0);
  });
});
