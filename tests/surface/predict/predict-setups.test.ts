import { describe, expect, it } from 'vitest';
import { surfaceSchema } from '../../../src/run/surface-schema.js';
import { predictSetups, type SetupRow } from '../../../src/surface/predict/predict-setups.js';
import { predictionsSection } from '../../../src/surface/predict/predictions-section.js';
import type { PredictedFloor } from '../../../src/surface/predict/types.js';
import { predictShake } from '../../../src/surface/predict/predict-shake.js';
import { expectWithin } from '../../support/expect-within.js';
import { PLAIN_FLOOR, PRESENT } from './predict-support.js';

const EXACT = { rel: 1e-9, why: 'rounding' };
const NOW = { setup: PRESENT, focalLengthMm: 35, wheelDiameterM: 0.08 };
const BOARDS: PredictedFloor = { ...PLAIN_FLOOR, meanTrackM3: 5e-8, differenceM3: 2e-7 };
const TABLE = predictSetups(PLAIN_FLOOR, NOW, {
  surfaces: [
    { name: 'loft boards', floor: BOARDS },
    { name: 'rail', floor: null },
  ],
});

function row(label: string, table = TABLE): SetupRow {
  const found = table.rows.find((one) => one.label === label);
  if (!found) throw new Error(`no row ${label} in ${table.rows.map((one) => one.label).join(', ')}`);
  return found;
}

describe('the table of other setups', () => {
  it('begins with the present setup and changes one thing in each row', () => {
    expect(TABLE.rows.map(({ change, label }) => `${change}: ${label}`)).toEqual([
      'none: this pass',
      'speed: 0.13 m/s',
      'speed: 0.5 m/s',
      'wheelbase: wheelbase 300 mm',
      'wheelbase: wheelbase 700 mm',
      'wheel: wheels of 160 mm',
      'wheel: soft tyres',
      'lens: 24\u202fmm',
      'lens: 50\u202fmm',
      'surface: loft boards',
      'surface: rail',
    ]);
  });

  it('sets every ratio against the first row', () => {
    const now = row('this pass');
    expectWithin(now.ratio!.value, 1, EXACT);
    for (const { shakePx, ratio } of TABLE.rows) {
      if (shakePx === null) continue;
      expectWithin(ratio!.value, shakePx.value / now.shakePx!.value, EXACT);
      expect(ratio!.low).toBeLessThanOrEqual(ratio!.value * (1 + EXACT.rel));
      expect(ratio!.high).toBeGreaterThanOrEqual(ratio!.value * (1 - EXACT.rel));
    }
  });

  it('knows ratios on one floor better than levels, and ratios of two floors not', () => {
    const spread = ({ low, high }: { low: number; high: number }): number => Math.log(high / low);
    const longer = row('50\u202fmm');
    expect(spread(longer.ratio!)).toBeLessThan(0.3 * spread(longer.shakePx!));
    const boards = row('loft boards');
    expect(spread(boards.ratio!)).toBeGreaterThan(spread(boards.shakePx!));
  });

  it('says that a slower dolly, smoother boards and a wider lens shake less', () => {
    for (const label of ['0.13 m/s', 'loft boards', '24\u202fmm']) {
      expect(row(label).ratio!.high).toBeLessThan(1);
    }
    expectWithin(row('loft boards').ratio!.value, Math.sqrt(0.1), { rel: 0.01, why: 'a tenth of the level' });
  });

  it('names waves that the pass did not show where they matter', () => {
    expect(row('0.5 m/s').assumes).toMatch(/\d+ % of the power is of waves that this pass did not show\.$/);
    expect(row('50\u202fmm').assumes).not.toMatch(/did not show/);
  });

  it('leaves a row empty that cannot be said, and says why', () => {
    const rail = row('rail');
    expect([rail.pitchRad, rail.rollRad, rail.shakePx, rail.ratio]).toEqual([null, null, null, null]);
    expect(rail.reason).toMatch(/no more than a bound/);
    const unknownLens = predictSetups(PLAIN_FLOOR, {
      setup: { ...PRESENT, view: null },
      focalLengthMm: null,
      wheelDiameterM: null,
    });
    const lenses = unknownLens.rows.filter(({ change }) => change === 'lens');
    expect(lenses.map(({ label }) => label)).toEqual(['0.71 x the focal length', '1.4 x the focal length']);
    for (const lens of lenses) expect(lens.reason).toMatch(/focal length/);
    expect(unknownLens.shakeAt).toBe('pitch');
    expect(row('0.5 m/s', unknownLens).ratio).not.toBeNull();
    expect(row('wheels twice as large', unknownLens).shakePx).toBeNull();
  });

  it('reads the shake in the middle of the picture when roll is not known', () => {
    const table = predictSetups({ ...PLAIN_FLOOR, differenceM3: null }, NOW);
    expect(table.shakeAt).toBe('centre');
    expectWithin(row('50\u202fmm', table).ratio!.value, 50 / 35, EXACT);
    expect(row('50\u202fmm', table).rollRad).toBeNull();
  });

  it('says nothing of a speed that the run is too short for', () => {
    const table = predictSetups({ ...PLAIN_FLOOR, runLengthM: 1.2 }, NOW);
    expect(row('0.5 m/s', table).ratio).toBeNull();
    expect(row('0.5 m/s', table).reason).toMatch(/too soon/);
    expect(row('0.13 m/s', table).ratio).not.toBeNull();
  });

  it('offers hard wheels to a dolly on soft tyres', () => {
    const table = predictSetups({ ...PLAIN_FLOOR, contactCyclesPerM: 18 }, NOW);
    expect(row('hard wheels', table).ratio!.value).toBeGreaterThan(1);
  });

  it('takes what the pass measured for the present setup', () => {
    const { pitchRad, rollRad } = predictShake(PLAIN_FLOOR, PRESENT);
    const measured = {
      setup: PRESENT,
      pitchRadRms: 1.5 * pitchRad!.value,
      rollRadRms: 1.5 * rollRad!.value,
      heaveMRms: null,
      sdLn: 0,
    };
    const table = predictSetups({ ...PLAIN_FLOOR, measured }, NOW);
    expectWithin(row('this pass', table).pitchRad!.value, 1.5 * pitchRad!.value, EXACT);
    expect(row('this pass', table).assumes).toMatch(/measured/);
    // A third of the power or more may be the machine's: then half the speed helps less.
    expect(row('0.13 m/s', table).ratio!.high).toBeGreaterThan(row('0.13 m/s').ratio!.high);
  });

  it('goes into the run document, angles in mdeg', () => {
    const lines = predictionsSection(TABLE);
    expect(() => surfaceSchema.shape.predictions.parse(lines)).not.toThrow();
    expect(lines).toHaveLength(TABLE.rows.length);
    expectWithin(lines[0].pitchMdegRms!.value, (row('this pass').pitchRad!.value * 180e3) / Math.PI, EXACT);
    expect(lines[10].reason).toMatch(/no more than a bound/);
  });
});
