/** Exact fields beside the sliders take what the form takes, and say why not where they do not. */
import { describe, expect, it } from 'vitest';
import { readSetting } from '../../../src/settings/index.js';
import {
  LIMIT_REACH,
  readTyped,
  reachInWords,
  type FigureKind,
} from '../../../src/web/page/what-if/typed-figure.js';
import { expectWithin } from '../../support/expect-within.js';

const SPEED = { low: 0.1, high: 0.48 };
const LENS = { low: 14, high: 140 };
const ROUNDING = { abs: 1e-12, why: 'double precision of one product' };

describe('a figure that is typed', () => {
  it.each<[string, FigureKind, { low: number; high: number }, number]>([
    ['20cm/s', 'speed', SPEED, 0.2],
    ['0,3 m/s', 'speed', SPEED, 0.3],
    ['1 ft/s', 'speed', SPEED, 0.3048],
    ['.25', 'speed', SPEED, 0.25],
    [' 35 mm ', 'lens', LENS, 35],
    ['33,5', 'lens', LENS, 33.5],
    ['0,96', 'lensTimes', { low: 0.4, high: 4 }, 0.96],
    ['1.5 x', 'lensTimes', { low: 0.4, high: 4 }, 1.5],
    ['500ms', 'smoothing', { low: 0.2, high: 2 }, 0.5],
    ['2,5 %', 'maxCrop', LIMIT_REACH.maxCrop, 2.5],
    ['0.83px', 'maxLeft', LIMIT_REACH.maxLeft, 0.83],
  ])('%s is taken with its unit or that of its field', (text, kind, reach, value) => {
    const read = readTyped(text, kind, reach);
    expect(read.fault).toBeNull();
    expectWithin(read.value ?? NaN, value, ROUNDING);
  });

  it.each<[string, FigureKind, { low: number; high: number }, string]>([
    ['5', 'speed', SPEED, '0.1 to 0.48 m/s'],
    ['0.05', 'speed', SPEED, '0.1 to 0.48 m/s'],
    ['-2', 'lens', LENS, '14 to 140 mm'],
    ['99', 'lensTimes', { low: 0.4, high: 4 }, '0.4 to 4 x'],
    ['500', 'maxCrop', LIMIT_REACH.maxCrop, 'up to 90 %'],
    ['0', 'maxLeft', LIMIT_REACH.maxLeft, 'up to 1000 px'],
    ['abc', 'lens', LENS, '"abc" is not a focal length'],
    ['abc', 'lensTimes', LENS, '"abc" is not a number of x'],
    ['20 kg', 'speed', SPEED, '"20 kg" is not a speed'],
  ])('%s as %s is refused in a sentence', (text, kind, reach, words) => {
    const { value, fault } = readTyped(text, kind, reach);
    expect(value).toBeNull();
    expect(fault).toContain(words);
  });

  it('is the end where it is the end as printed', () => {
    expect(readTyped('0.333', 'smoothing', { low: 1 / 3, high: 2 }).value).toBe(1 / 3);
    expect(reachInWords({ low: 1 / 3, high: 2 })).toBe('0.333 to 2');
  });

  it('reaches as far as the form where it is a limit', () => {
    for (const [kind, name] of [
      ['maxCrop', 'max-crop'],
      ['maxLeft', 'max-residual'],
    ] as const) {
      const { high } = LIMIT_REACH[kind];
      const faults = [high, 1.1 * high].map((most) => [
        readTyped(String(most), kind, LIMIT_REACH[kind]).fault !== null,
        readSetting(name, String(most), { presets: {} }).refusal !== null,
      ]);
      expect(faults).toEqual([
        [false, false],
        [true, true],
      ]);
    }
  });
});
