import { describe, expect, it } from 'vitest';
import { mean, rms, standardDeviation } from '../../../src/numerics/index.js';
import { withPhase } from '../../../src/surface/deck/rolled-deck.js';
import { findEvents, type FoundEvents } from '../../../src/surface/events/find-events.js';
import { releaseEvents } from '../../../src/surface/events/release-events.js';
import { ALARMS_PER_M, scanEvents } from '../../../src/surface/events/scan.js';
import { fitPass, levelsOf } from '../../../src/surface/roughness/pass-fit.js';
import { expectWithin } from '../../support/expect-within.js';
import { deckOverEvents, WHEELBASE_M, type EventOptions } from './deck-over-events.js';

/** 20 mm per frame, 5.5 m: the quickest made-up pass. */
const QUICK = { speedMps: 0.5, durationS: 10 } as const;
const CLASS_A_M3 = 1e-6;
const SMOOTH_M3 = 6e-8;

interface Pass {
  readonly events: FoundEvents;
  readonly lengthM: number;
  readonly jointsM: readonly number[];
}

function passOver(options: EventOptions): Pass {
  const { deck, joints } = deckOverEvents(options);
  const fitted = fitPass(deck);
  return {
    events: findEvents(withPhase(deck, fitted.phaseScale), fitted),
    lengthM: deck.rearM[deck.rearM.length - 1] + WHEELBASE_M,
    jointsM: joints.map(({ placeM }) => placeM),
  };
}

function listed({ found, row }: FoundEvents): number[] {
  return [...found.map(({ placeM }) => placeM), ...(row?.placesM ?? [])];
}

/** For each true place the way to the nearest listed one, where that is within reach. */
function met(trueM: readonly number[], listedM: readonly number[], reachM: number): number[] {
  return trueM.flatMap((place) => {
    const off = listedM.map((one) => one - place).sort((a, b) => Math.abs(a) - Math.abs(b))[0];
    return off !== undefined && Math.abs(off) < reachM ? [off] : [];
  });
}

describe('findEvents on floors without events', () => {
  const cases = [
    { name: 'class A-2', gdM3: CLASS_A_M3, ...QUICK, passes: 10 },
    { name: 'class A-4', gdM3: SMOOTH_M3, ...QUICK, passes: 10 },
    { name: 'class A-4, slower', gdM3: SMOOTH_M3, speedMps: 0.2, durationS: 8, passes: 6 },
  ];

  it.each(cases)('raises no more than 1.5 alarms in 10 m, and no row: $name', ({ passes, ...options }) => {
    const all = Array.from({ length: passes }, (_, k) => passOver({ seed: 200 + k, ...options }));
    const alarms = all.reduce((sum, { events }) => sum + events.found.length, 0);
    const lengthM = all.reduce((sum, pass) => sum + pass.lengthM, 0);
    expect((10 * alarms) / lengthM).toBeLessThanOrEqual(1.5);
    expect(all.filter(({ events }) => events.row !== null)).toHaveLength(0);
  });

  it('hands back what it was given when there is nothing', () => {
    const { deck } = deckOverEvents({ seed: 201, gdM3: CLASS_A_M3, ...QUICK });
    const fitted = fitPass(deck);
    const events = findEvents(deck, fitted);
    expect(events.found).toEqual([]);
    expect(events.cleaned).toBe(deck);
    expect(events.fitted).toBe(fitted);
    expect(events.coveredShare).toBe(0);
  });
});

describe('findEvents on plates', () => {
  const cases = [
    { name: 'steps of 0.5 mm, class A-2', gdM3: CLASS_A_M3, stepRmsM: 5e-4, rawTimes: 1.6 },
    { name: 'steps of 0.5 mm, class A-4', gdM3: SMOOTH_M3, stepRmsM: 5e-4, rawTimes: 12 },
    { name: 'steps of 0.2 mm, class A-4', gdM3: SMOOTH_M3, stepRmsM: 2e-4, rawTimes: 3 },
  ];

  describe.each(cases)('$name', ({ gdM3, stepRmsM, rawTimes }) => {
    const plates = { lengthM: 0.6, stepRmsM, gapM: 0.004 };
    const passes = [1, 2, 3].map((seed) => passOver({ seed, gdM3, ...QUICK, plates }));

    it('lists nine joints of ten, to a quarter of the way of a frame', () => {
      const off = passes.flatMap(({ events, jointsM }) => met(jointsM, listed(events), 0.03));
      const joints = passes.reduce((sum, { jointsM }) => sum + jointsM.length, 0);
      expect(off.length / joints).toBeGreaterThanOrEqual(0.9);
      expectWithin(rms(Float64Array.from(off)), 0.0035, {
        abs: 0.002,
        why: '3 to 4 mm at 20 mm per frame, wheels early',
      });
    });

    it('grades the floor between them, which as rolled is far rougher', () => {
      for (const { events } of passes) {
        expect(events.raw.masked.fit.gdM3).toBeGreaterThan(rawTimes * gdM3);
        const ln = Math.log(events.fitted.masked.fit.gdM3 / gdM3);
        expectWithin(ln, 0, { abs: 0.4, why: 'ln Gd of single floors without joints is within 0.3' });
      }
    });

    it('lists no joint twice, and little beside them', () => {
      const lengthM = passes.reduce((sum, pass) => sum + pass.lengthM, 0);
      let beside = 0;
      for (const { events, jointsM } of passes) {
        const { found, row } = events;
        for (const { placeM } of found)
          expect((row?.placesM ?? []).filter((joint) => Math.abs(joint - placeM) <= 0.015)).toEqual([]);
        beside +=
          found.length -
          met(
            found.map(({ placeM }) => placeM),
            jointsM,
            0.03,
          ).length;
      }
      expect((10 * beside) / lengthM).toBeLessThanOrEqual(3);
    });

    it('says how much of the run was freed', () => {
      for (const { events } of passes) {
        expect(events.coveredShare).toBeGreaterThan(0.02);
        expect(events.coveredShare).toBeLessThan(0.12);
      }
    });
  });

  it('sees on a smooth floor what one scan, at the level as rolled, does not', () => {
    const { deck, joints } = deckOverEvents({
      seed: 2,
      gdM3: SMOOTH_M3,
      ...QUICK,
      plates: { lengthM: 0.6, stepRmsM: 3e-4 },
    });
    const fitted = fitPass(deck);
    const jointsM = joints.map(({ placeM }) => placeM);
    const scan = scanEvents(deck, levelsOf(fitted))!;
    const once = releaseEvents(scan, ALARMS_PER_M.usual).events.map(({ placeM }) => placeM);
    const events = findEvents(deck, fitted);
    const own = releaseEvents(events.scan!, ALARMS_PER_M.usual).events.map(({ placeM }) => placeM);
    expect(met(jointsM, once, 0.03).length).toBeLessThan(0.6 * jointsM.length);
    expect(met(jointsM, own, 0.03).length).toBeGreaterThan(0.8 * jointsM.length);
  });
});

describe('findEvents on single steps of 0.5 mm', () => {
  // Distances that are no row.
  const PLACES_M = [0.53, 0.94, 1.72, 2.19, 3.33, 4.7];
  const stepsAt = (placesM: readonly number[]): NonNullable<EventOptions['steps']> =>
    placesM.map((placeM, k) => ({ placeM, leftM: 5e-4, rightM: k % 2 === 0 ? 5e-4 : 0 }));

  it('finds 85 of 100, under one wheel line or both', () => {
    const passes = [11, 12, 13, 14].map((seed) =>
      passOver({ seed, gdM3: CLASS_A_M3, ...QUICK, steps: stepsAt(PLACES_M) }),
    );
    const hits = passes.flatMap(({ events }) => met(PLACES_M, listed(events), 0.02));
    expect(hits.length / (4 * PLACES_M.length)).toBeGreaterThanOrEqual(0.85);
    const off = Float64Array.from(hits);
    expectWithin(mean(off), -0.0045, {
      abs: 0.0015,
      why: 'a wheel of 40 mm climbs from 6.3 mm before it on',
    });
    expect(standardDeviation(off)).toBeLessThan(0.003);
    const shapes = passes.flatMap(({ events }) => events.found.map(({ shape }) => shape));
    expect(shapes.filter((shape) => shape === 'step').length / shapes.length).toBeGreaterThan(0.8);
  });

  it('works without roll, and without heave', () => {
    for (const without of [['roll'], ['heave'], ['roll', 'heave']] as const) {
      const { events } = passOver({
        seed: 11,
        gdM3: SMOOTH_M3,
        ...QUICK,
        steps: stepsAt(PLACES_M),
        without,
      });
      expect(events.scan!.degreesOfFreedom).toBe(without[0] === 'roll' ? 2 : 3);
      expect(met(PLACES_M, listed(events), 0.02)).toHaveLength(PLACES_M.length);
    }
  });

  it('finds nothing where the deck shows no pitch, and says so by having no scan', () => {
    const { deck } = deckOverEvents({
      seed: 11,
      gdM3: SMOOTH_M3,
      ...QUICK,
      steps: stepsAt(PLACES_M),
      without: ['pitch', 'heave'],
    });
    const fitted = fitPass(deck);
    expect(findEvents(deck, fitted)).toMatchObject({ scan: null, found: [], row: null, releases: [] });
  });

  it('leaves a machine to the list of lines, and joints out of it', () => {
    const plates = { lengthM: 0.3, stepRmsM: 5e-4 };
    const line = { rmsMdeg: 5, freqHz: 7.3 };
    const { events } = passOver({ seed: 4, gdM3: CLASS_A_M3, ...QUICK, plates, line });
    const { lines, fit } = events.fitted.masked;
    expect(lines.length).toBeGreaterThan(0);
    for (const { freqHz } of lines) expectWithin(freqHz, 7.3, { abs: 0.25, why: 'two bins of 0.1 Hz' });
    expectWithin(Math.log(fit.gdM3 / CLASS_A_M3), 0, { abs: 0.4, why: 'as without a machine' });
  });
});
