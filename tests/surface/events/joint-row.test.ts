import { describe, expect, it } from 'vitest';
import { findJointRow, weighedRows } from '../../../src/surface/events/joint-row.js';
import { widestRow, type RowWeight, type WeighedRow } from '../../../src/surface/events/row-choice.js';
import { jointColumns, openStretches, rowEvidence } from '../../../src/surface/events/row-evidence.js';
import type { JointRow } from '../../../src/surface/events/types.js';
import { expectWithin } from '../../support/expect-within.js';
import { deckOverEvents, WHEELBASE_M, type EventOptions } from './deck-over-events.js';
import { scanned, withFlatSpot, type ScannedDeck } from './joint-row-scan.js';

const ONE_PERCENT = { rel: 0.01, why: 'asked of the spacing; measured errors are a third of it' };

interface Found extends ScannedDeck {
  readonly row: JointRow | null;
  readonly joints: readonly { readonly placeM: number }[];
}

function rowOn(options: EventOptions): Found {
  const { deck, joints } = deckOverEvents(options);
  const one = scanned(deck, options.gdM3);
  const { placesM } = one.scan;
  const inside = ({ placeM }: { placeM: number }): boolean =>
    placeM > placesM[0] + 0.01 && placeM < placesM[placesM.length - 1] - 0.02;
  return { ...one, row: findJointRow(one.scan, one.found, { deck }), joints: joints.filter(inside) };
}

/** How far each joint lies from the nearest of the row, metres. */
function misses({ joints, row }: Found): number[] {
  return joints.map(({ placeM }) => Math.min(...(row?.placesM ?? []).map((at) => Math.abs(at - placeM))));
}

describe('a row of joints', () => {
  it.each([
    { lengthM: 0.3, gdM3: 1e-6, speedMps: 0.5, durationS: 10, stepRmsM: 0.2e-3 },
    { lengthM: 0.3, gdM3: 1e-6, speedMps: 0.2, durationS: 14, stepRmsM: 0.2e-3 },
    { lengthM: 0.3, gdM3: 6e-8, speedMps: 0.5, durationS: 6, stepRmsM: 0.5e-3 },
    { lengthM: 0.1, gdM3: 6e-8, speedMps: 0.2, durationS: 12, stepRmsM: 0.3e-3 },
    { lengthM: 0.6, gdM3: 6e-8, speedMps: 0.5, durationS: 8, stepRmsM: 0.2e-3 },
    { lengthM: 0.6, gdM3: 1e-6, speedMps: 0.5, durationS: 10, stepRmsM: 0.4e-3 },
    { lengthM: 1.0, gdM3: 6e-8, speedMps: 0.5, durationS: 9, stepRmsM: 0.2e-3 },
  ])(
    'every $lengthM m is found with its spacing and its places: $stepRmsM m, Gd $gdM3 m^3, $speedMps m/s',
    ({ lengthM, gdM3, speedMps, durationS, stepRmsM }) => {
      let listed = 0;
      const all: number[] = [];
      for (const seed of [3, 4]) {
        const plates = { lengthM, stepRmsM, gapM: 0.004 };
        const one = rowOn({ seed, gdM3, speedMps, durationS, plates });
        expectWithin(one.row!.spacingM, lengthM, ONE_PERCENT, `spacing, seed ${seed}`);
        const within = { abs: 4 * one.row!.spacingSdM, why: 'four of its own deviations' };
        expectWithin(one.row!.spacingM, lengthM, within, `spacing, seed ${seed}`);
        expect(one.row!.lnEvidence).toBeGreaterThan(13);
        const off = misses(one);
        all.push(...off);
        listed += off.filter((miss) => miss <= 0.03).length;
      }
      expect(listed / all.length).toBeGreaterThanOrEqual(0.9);
      // Places scatter by a quarter of a frame's way; nine in ten lie within a third of it or 6 mm where joints are not drowned.
      const near = all.filter((miss) => miss <= Math.max(0.006, speedMps / 75)).length;
      expect(near / all.length).toBeGreaterThanOrEqual(gdM3 === 1e-6 && speedMps === 0.5 ? 0.75 : 0.9);
    },
  );

  it('is not seen on twenty floors without joints', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const one = rowOn({ seed, gdM3: seed % 2 === 0 ? 1e-6 : 6e-8, speedMps: 0.5, durationS: 6 });
      expect(one.row, `seed ${seed}`).toBeNull();
    }
  });

  it('is claimed neither for gaps that a wheel hardly sinks into nor for a few strong steps at odd places', () => {
    const gaps = { lengthM: 0.6, stepRmsM: 0, gapM: 0.005 };
    expect(rowOn({ seed: 1, gdM3: 1e-6, speedMps: 0.5, durationS: 10, plates: gaps }).row).toBeNull();
    const steps = [0.62, 1.37, 2.51].map((placeM) => ({ placeM, leftM: 1.5e-3, rightM: 0.8e-3 }));
    expect(rowOn({ seed: 2, gdM3: 1e-6, speedMps: 0.5, durationS: 8, steps }).row).toBeNull();
    expect(rowOn({ seed: 2, gdM3: 6e-8, speedMps: 0.5, durationS: 8, steps }).row).toBeNull();
  });

  it('is not laid through three strong steps that happen to fit one, with a joint between them that is not there', () => {
    const steps = [0.94, 2.19, 4.7].map((placeM) => ({ placeM, leftM: 1e-3, rightM: 1e-3 }));
    expect(rowOn({ seed: 1, gdM3: 6e-8, speedMps: 0.5, durationS: 10, steps }).row).toBeNull();
  });

  it('has not half the spacing where the second kick falls half-way, as it has by the most evidence alone', () => {
    expectWithin(WHEELBASE_M, 1.5 * 0.3, { rel: 1e-12, why: 'rounding' });
    const plates = { lengthM: 0.3, stepRmsM: 0.5e-3, gapM: 0.004 };
    const one = rowOn({ seed: 5, gdM3: 6e-8, speedMps: 0.5, durationS: 6, plates });
    expectWithin(one.row!.spacingM, 0.3, ONE_PERCENT);
    const stretches = openStretches(one.scan, []);
    const weigh = (placesM: readonly number[]): RowWeight => {
      const evidence = rowEvidence(stretches, placesM, jointColumns(one.scan.blurM));
      return { ...evidence, lnEvidenceOfAll: evidence.lnEvidence };
    };
    const rows: WeighedRow[] = weighedRows(one.scan, {}, weigh);
    const most = rows.reduce((best, row) => (row.lnEvidence > best.lnEvidence ? row : best));
    expectWithin(most.spacingM, 0.15, ONE_PERCENT, 'the row with the most evidence');
    expectWithin(widestRow(rows)!.spacingM, 0.3, ONE_PERCENT, 'the widest that explains as much');
  });

  it('is not made out of nothing by a spacing that is given, nor bent to it', () => {
    const { scan, found } = rowOn({ seed: 5, gdM3: 1e-6, speedMps: 0.5, durationS: 6 });
    expect(findJointRow(scan, found, { givenSpacingM: 0.6 })).toBeNull();
    const plates = { lengthM: 0.6, stepRmsM: 0.4e-3, gapM: 0.004 };
    const tiled = rowOn({ seed: 3, gdM3: 1e-6, speedMps: 0.5, durationS: 10, plates });
    for (const givenSpacingM of [0.6, 0.61, 0.5, 0.3]) {
      const row = findJointRow(tiled.scan, tiled.found, { givenSpacingM });
      expectWithin(row!.spacingM, 0.6, ONE_PERCENT, `given ${givenSpacingM} m`);
    }
  });

  it('is found through strong joints whose places wander by a centimetre where its spacing is given, and not through steps at odd places', () => {
    const strong = { leftM: 1.2e-3, rightM: -0.9e-3 };
    const wanderM = [0, -0.009, 0.01, -0.008, 0.002, 0.01, -0.01, 0.001];
    const steps = wanderM.map((off, k) => ({ placeM: 0.4 + 0.3 * k + off, ...strong }));
    const pass = { seed: 4, gdM3: 6e-8, speedMps: 0.3, durationS: 10 };
    const { scan, found } = rowOn({ ...pass, steps });
    const row = findJointRow(scan, found, { givenSpacingM: 0.3 })!;
    expectWithin(row.spacingM, 0.3, ONE_PERCENT);
    const offM = steps.map(({ placeM }) => Math.min(...row.placesM.map((at) => Math.abs(at - placeM))));
    // As far apart as one and the same joint may be seen.
    expect(Math.max(...offM)).toBeLessThan(0.015);
    const oddM = [0.41, 0.62, 1.02, 1.13, 1.55, 1.86, 2.27, 2.44];
    const odd = rowOn({ ...pass, steps: oddM.map((placeM) => ({ placeM, ...strong })) });
    for (const givenSpacingM of [0.2, 0.3, 0.6])
      expect(findJointRow(odd.scan, odd.found, { givenSpacingM })).toBeNull();
  });

  it('is not a wheel that kicks once per turn: of both axles at once, or of the rear axle alone, which passes for joints without the deck', () => {
    const clean = deckOverEvents({ seed: 3, gdM3: 1e-6, speedMps: 0.5, durationS: 8 }).deck;
    const turnM = 0.1 * Math.PI;
    for (const heightM of [0.2e-3, 0.5e-3]) {
      for (const axles of ['both', 'rear'] as const) {
        const deck = withFlatSpot(clean, { turnM, heightM, lengthM: 0.03, axles });
        const { scan, found } = scanned(deck, 1e-6);
        expect(findJointRow(scan, found, { deck })).toBeNull();
        const naive = findJointRow(scan, found);
        if (axles === 'rear') expectWithin(naive!.spacingM, turnM, ONE_PERCENT);
      }
    }
  });

  it('runs on from one stretch of a long pass to the next', () => {
    const plates = { lengthM: 0.6, stepRmsM: 0.4e-3, gapM: 0.004 };
    const { deck, joints } = deckOverEvents({ seed: 6, gdM3: 1e-6, speedMps: 0.5, durationS: 24, plates });
    const { scan, found } = scanned(deck, 1e-6);
    expect(scan.stretches.length).toBeGreaterThan(1);
    const row = findJointRow(scan, found, { deck })!;
    expectWithin(row.spacingM, 0.6, { abs: 4 * row.spacingSdM, why: 'four of its own deviations' });
    expect(row.placesM.length).toBeGreaterThanOrEqual(joints.length - 3);
  });

  it('takes nothing from the scan and is the same on repeat', () => {
    const plates = { lengthM: 0.6, stepRmsM: 0.3e-3, gapM: 0.004 };
    const { scan, found, row } = rowOn({ seed: 1, gdM3: 6e-8, speedMps: 0.5, durationS: 7, plates });
    const before = [scan.score, scan.stretches[0].mean.information].map((column) =>
      Float64Array.from(column),
    );
    expect(findJointRow(scan, found)).toEqual(row);
    expect([scan.score, scan.stretches[0].mean.information]).toEqual(before);
  });
});
