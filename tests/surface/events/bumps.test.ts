import { describe, expect, it } from 'vitest';
import { median } from '../../../src/numerics/index.js';
import { withPhase } from '../../../src/surface/deck/rolled-deck.js';
import { findEvents } from '../../../src/surface/events/find-events.js';
import { listEvents } from '../../../src/surface/events/list-events.js';
import type { FloorEvent } from '../../../src/surface/events/types.js';
import { fitPass } from '../../../src/surface/roughness/pass-fit.js';
import { expectWithin } from '../../support/expect-within.js';
import { deckOverEvents, WHEELBASE_M, type EventOptions } from './deck-over-events.js';

/** Distances that are no row. */
const PLACES_M = [0.53, 0.94, 1.72, 2.19];

interface ListedPass {
  /** Nearest listed event for each bump that has one within 20 mm. */
  readonly hits: readonly FloorEvent[];
  /** Listed events that are near no bump, over 10 m. */
  readonly alarmsPer10M: number;
  readonly lnGd: number;
}

function bumpy(options: EventOptions): ListedPass {
  const { deck: asGiven } = deckOverEvents(options);
  const fitted = fitPass(asGiven);
  const deck = withPhase(asGiven, fitted.phaseScale);
  const events = findEvents(deck, fitted);
  const list = events.scan === null ? [] : listEvents({ ...events, scan: events.scan, deck });
  const near = (placeM: number): FloorEvent[] => list.filter(({ atM }) => Math.abs(atM - placeM) < 0.02);
  const hits = (options.bumps ?? []).flatMap(({ placeM }) => near(placeM).slice(0, 1));
  const lengthM = deck.rearM[deck.rearM.length - 1] + WHEELBASE_M;
  return {
    hits,
    alarmsPer10M: (10 * (list.length - hits.length)) / lengthM,
    lnGd: Math.log(events.fitted.masked.fit.gdM3 / options.gdM3),
  };
}

const bumpsOf = (heightM: number, lengthM: number, leftOnly = false): NonNullable<EventOptions['bumps']> =>
  PLACES_M.map((placeM) => ({ placeM, heightM, lengthM, leftOnly }));

describe('bumps of the lengths that are looked for', () => {
  const cases = [
    { heightMm: 0.5, lengthMm: 40, gdM3: 1e-6, speedMps: 0.5 },
    { heightMm: 1, lengthMm: 100, gdM3: 1e-6, speedMps: 0.5 },
    { heightMm: 0.2, lengthMm: 40, gdM3: 6e-8, speedMps: 0.5 },
    { heightMm: 0.5, lengthMm: 100, gdM3: 6e-8, speedMps: 0.5 },
    { heightMm: 3, lengthMm: 200, gdM3: 6e-8, speedMps: 0.5 },
    { heightMm: 0.5, lengthMm: 40, gdM3: 1e-6, speedMps: 0.2 },
  ];

  it.each(cases)(
    '$heightMm mm high and $lengthMm mm long, Gd $gdM3, $speedMps m/s: all found, as high as they are',
    ({ heightMm, lengthMm, gdM3, speedMps }) => {
      const bumps = bumpsOf(heightMm / 1000, lengthMm / 1000);
      const { hits, alarmsPer10M, lnGd } = bumpy({
        seed: 41,
        gdM3,
        speedMps,
        durationS: 4 / speedMps,
        bumps,
      });
      expect(hits).toHaveLength(PLACES_M.length);
      expect(hits.every(({ kind, lengthM }) => kind === 'bump' && lengthM * 1000 === lengthMm)).toBe(true);
      const ratio = median(Float64Array.from(hits, ({ heightM }) => (1000 * heightM) / heightMm));
      expectWithin(ratio, 1, { abs: 0.15, why: '0.89 to 1.10 measured' });
      expect(alarmsPer10M).toBeLessThanOrEqual(3);
      expectWithin(lnGd, 0, {
        abs: 0.55,
        why: 'the floor of a run of 2 to 4 m: single ones are up to 1.4 times off',
      });
    },
  );
});

describe('bumps of other shapes', () => {
  const cases = [
    { heightM: 1e-3, lengthM: 0.015, speedMps: 0.25 },
    { heightM: 2e-3, lengthM: 0.06, speedMps: 0.5 },
    { heightM: 2e-3, lengthM: 0.14, speedMps: 0.5 },
  ];

  it.each(cases)('are one event each, $lengthM m long at $speedMps m/s', ({ heightM, lengthM, speedMps }) => {
    const bumps = bumpsOf(heightM, lengthM);
    const pass = bumpy({ seed: 42, gdM3: 6e-8, speedMps, durationS: 4 / speedMps, bumps });
    expect(pass.hits).toHaveLength(PLACES_M.length);
    expect(pass.hits.every(({ kind }) => kind === 'bump')).toBe(true);
    expect(pass.alarmsPer10M).toBeLessThanOrEqual(3);
  });

  it('are dips upside down, and are told under the wheel line that met them', () => {
    const { hits } = bumpy({
      seed: 43,
      gdM3: 2.5e-7,
      speedMps: 0.5,
      durationS: 8,
      bumps: bumpsOf(-1e-3, 0.1, true),
    });
    expect(hits).toHaveLength(PLACES_M.length);
    for (const { kind, wheelLine, heightM } of hits) {
      expect(kind).toBe('dip');
      expect(wheelLine).toBe('left');
      expect(heightM).toBeLessThan(0);
    }
  });
});
