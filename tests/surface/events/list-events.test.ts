import { describe, expect, it } from 'vitest';
import { findJointRow } from '../../../src/surface/events/joint-row.js';
import { listEvents } from '../../../src/surface/events/list-events.js';
import type { FloorEvent } from '../../../src/surface/events/types.js';
import { expectWithin } from '../../support/expect-within.js';
import { deckOverEvents, WHEELBASE_M, type EventOptions } from './deck-over-events.js';
import { scanned, type ScannedDeck } from './joint-row-scan.js';

const VIEW = { focalPx: 1600, widthPx: 1920, heightPx: 1080, azimuthRad: 0, medianDepthM: 3 };

interface List extends ScannedDeck {
  readonly events: readonly FloorEvent[];
}

function listOf(options: EventOptions): List {
  const one = scanned(deckOverEvents(options).deck, options.gdM3);
  const row = findJointRow(one.scan, one.found, { deck: one.deck });
  return { ...one, events: listEvents({ ...one, row, view: VIEW }) };
}

function nearest(events: readonly FloorEvent[], placeM: number): FloorEvent {
  return events.reduce((best, one) =>
    Math.abs(one.atM - placeM) < Math.abs(best.atM - placeM) ? one : best,
  );
}

const STEPS = [
  { placeM: 0.31, leftM: 1.2e-3, rightM: 0 },
  { placeM: 1.02, leftM: 0, rightM: -0.8e-3 },
  { placeM: 1.83, leftM: 2e-3, rightM: 1.9e-3 },
  { placeM: 2.75, leftM: 0.6e-3, rightM: 0.7e-3 },
];

describe('the list of a floor', () => {
  const { events, deck } = listOf({ seed: 1, gdM3: 6e-8, speedMps: 0.4, durationS: 8, steps: STEPS });

  it('gives each step its place, its height under either wheel line, and the line that it is on', () => {
    const lines = ['left', 'right', 'both', 'both'];
    STEPS.forEach(({ placeM, leftM, rightM }, i) => {
      const event = nearest(events, placeM);
      expect(event.kind).toBe('step');
      expectWithin(event.atM, placeM, { abs: 4 * event.atSdM, why: 'four of its own deviations' }, 'place');
      const within = { abs: 4 * event.sides!.sdM, why: 'four of its own deviations' };
      expectWithin(event.sides!.leftM, leftM, within, 'left');
      expectWithin(event.sides!.rightM, rightM, within, 'right');
      expectWithin(
        event.heightM,
        (leftM + rightM) / 2,
        { abs: 4 * event.heightSdM, why: 'as above' },
        'mean',
      );
      expect(event.wheelLine).toBe(lines[i]);
      expect(event.confidence).toBeGreaterThan(0.99);
      expect(event.foundBy).toBe('itself');
      expect(event.lengthM).toBe(0);
      expect(event.pictureShiftPx).toBeGreaterThan(0.5);
    });
  });

  it('names no single line of a joint of a row whose other line is a fifth as high', () => {
    const steps = [0.3, 0.9, 1.5, 2.1, 2.7].map((placeM) => ({
      placeM,
      leftM: 1.2e-3,
      rightM: 0.24e-3,
    }));
    const list = listOf({ seed: 1, gdM3: 6e-8, speedMps: 0.4, durationS: 8, steps });
    const joints = list.events.filter(({ kind }) => kind === 'joint');
    expect(joints.length).toBeGreaterThanOrEqual(5);
    expect(joints.filter(({ wheelLine }) => wheelLine === 'left' || wheelLine === 'right')).toEqual([]);
  });

  it('begins with the worst under either line', () => {
    const worst = events.map(({ heightM, sides }) =>
      Math.max(Math.abs(heightM), Math.abs(sides!.leftM), Math.abs(sides!.rightM)),
    );
    expect(worst).toEqual([...worst].sort((a, b) => b - a));
    expectWithin(events[0].atM, 1.83, { abs: 0.02, why: 'a frame step' });
  });

  it('says when the first axle that meets the place in the clip is over it', () => {
    for (const { atM, atS } of events) {
      const firstAxleM = atM > WHEELBASE_M ? atM - WHEELBASE_M : atM;
      expectWithin(atS, deck.timeS[0] + firstAxleM / 0.4, { abs: 1e-6, why: 'even speed' });
    }
  });

  it('names no wheel line without deck roll', () => {
    const without = ['roll'] as const;
    const alone = listOf({ seed: 1, gdM3: 6e-8, speedMps: 0.4, durationS: 8, steps: STEPS, without });
    const event = nearest(alone.events, 1.83);
    expect(event.sides).toBeNull();
    expect(event.wheelLine).toBe('unknown');
    expectWithin(event.heightM, 1.95e-3, { abs: 4 * event.heightSdM, why: 'four of its own deviations' });
  });

  it('states deviations that hold: nineteen heights and places in twenty within 1.96 of them', () => {
    const off: Record<'mean' | 'difference' | 'place', number[]> = { mean: [], difference: [], place: [] };
    for (const gdM3 of [1e-6, 6e-8]) {
      for (const seed of [11, 12, 13, 14]) {
        const steps = [0.3, 0.72, 1.21, 1.55, 2.18, 2.6, 3.13].map((placeM, k) => ({
          placeM,
          leftM: (((seed + 3 * k) % 5) - 2.2) * 0.4e-3,
          rightM: (((seed * k) % 4) - 1.3) * 0.4e-3,
        }));
        const list = listOf({ seed, gdM3, speedMps: 0.4, durationS: 8, steps });
        for (const { placeM, leftM, rightM } of steps) {
          const event = nearest(list.events, placeM);
          if (Math.abs(event.atM - placeM) > 0.03 || event.kind !== 'step') continue;
          const { leftM: left, rightM: right, sdM } = event.sides!;
          const differenceSdM = 2 * Math.sqrt(sdM ** 2 - event.heightSdM ** 2);
          off.mean.push((event.heightM - (leftM + rightM) / 2) / event.heightSdM);
          off.difference.push((left - right - leftM + rightM) / differenceSdM);
          off.place.push((event.atM - placeM) / event.atSdM);
        }
      }
    }
    for (const [what, scaled] of Object.entries(off)) {
      expect(scaled.length, what).toBeGreaterThan(35);
      const inside = scaled.filter((z) => Math.abs(z) < 1.96).length / scaled.length;
      // Of 40, two deviations of chance about 95 % are 7 %.
      expect(inside, what).toBeGreaterThanOrEqual(0.88);
    }
  });

  it('tells bumps from dips and gives their length', () => {
    const bumps = [
      { placeM: 0.9, heightM: 1e-3, lengthM: 0.1 },
      { placeM: 2.1, heightM: -0.8e-3, lengthM: 0.1 },
    ];
    const list = listOf({ seed: 2, gdM3: 6e-8, speedMps: 0.4, durationS: 8, bumps });
    const up = nearest(list.events, 0.9);
    expect(up.kind).toBe('bump');
    expectWithin(up.heightM, 1e-3, {
      rel: 0.15,
      why: 'wheel and patch soften a bump of 0.1 m by some per cent',
    });
    expect(up.lengthM).toBe(0.1);
    const down = nearest(list.events, 2.1);
    expect(down.kind).toBe('dip');
    expect(down.heightM).toBeLessThan(-0.4e-3);
  });

  it('lists joints of a row as such, strong ones by themselves, weak ones for the pattern, and none twice', () => {
    const plates = { lengthM: 0.3, stepRmsM: 0.2e-3, gapM: 0.004 };
    const { events: joints } = listOf({ seed: 3, gdM3: 1e-6, speedMps: 0.5, durationS: 10, plates });
    const row = joints.filter(({ kind }) => kind === 'joint');
    expect(row.length).toBeGreaterThanOrEqual(17);
    expect(new Set(row.map(({ foundBy }) => foundBy))).toEqual(new Set(['itself', 'pattern']));
    for (const { confidence } of row) expect(confidence).toBeGreaterThan(0.8);
    const places = joints.map(({ atM }) => atM).sort((a, b) => a - b);
    for (let i = 1; i < places.length; i++) expect(places[i] - places[i - 1]).toBeGreaterThan(0.016);
  });

  it('merges what is beside an event five times as high, and is empty for nothing', () => {
    const { scan, found } = scanned(deck, 6e-8);
    const strong = found.find(({ placeM }) => Math.abs(placeM - 1.83) < 0.02)!;
    const rest = { ...strong, placeM: strong.placeM + 0.045, score: 20 };
    const without = listEvents({ scan, found, row: null, deck });
    const list = listEvents({ scan, found: [...found, rest], row: null, deck });
    expect(list.map(({ atM }) => atM)).not.toContain(rest.placeM);
    expect(list).toHaveLength(without.length);
    expect(list[0].pictureShiftPx).toBeNull();
    expect(listEvents({ scan, found: [], row: null, deck })).toEqual([]);
  });
});
