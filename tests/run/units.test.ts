/** Units as people write them. Exact factors: 1 ft = 0.3048 m and 1 in = 25.4 mm (international yard and pound agreement, 1959). */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  TrundleError,
  parseAngleDeg,
  parseDurationS,
  parseFocalMm,
  parseLengthM,
  parsePercent,
  parseSizePx,
  parseSpeedMps,
} from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { evenly } from '../support/evenly.js';

/** Sums and products of a few doubles: only rounding. */
const ROUNDING = { rel: 1e-12 };

describe('units', () => {
  it.each([
    ['3.2m', 3.2],
    ['320 cm', 3.2],
    ['450mm', 0.45],
    [`10'6"`, 3.2004],
    ['10ft 6in', 3.2004],
    ['18in', 0.4572],
    ['1/8in', 0.003175],
  ])('reads the length %s', (text, metres) => expectWithin(parseLengthM(text), metres, ROUNDING));

  it.each([
    ['20cm/s', 0.2],
    ['0.2 m/s', 0.2],
    ['8in/s', 0.2032],
    ['1ft/s', 0.3048],
  ])('reads the speed %s', (text, mps) => expectWithin(parseSpeedMps(text), mps, ROUNDING));

  it('reads focal lengths, angles, times, per cents and sizes', () => {
    expect(parseFocalMm('35mm')).toBe(35);
    expect(parseAngleDeg('172.8°')).toBe(172.8);
    expectWithin(parseDurationS('18ms'), 0.018, ROUNDING);
    expect(parsePercent('3%')).toBe(3);
    expect(parseSizePx('3840x2160')).toEqual({ widthPx: 3840, heightPx: 2160 });
  });

  it.each([
    ['a length', parseLengthM('1,7 m'), 1.7],
    ['feet and inches', parseLengthM('10ft 6,5in'), 10 * 0.3048 + 6.5 * 0.0254],
    ['a length below one', parseLengthM('0,450m'), 0.45],
    ['a length without its nought', parseLengthM(',5m'), 0.5],
    ['a speed', parseSpeedMps('0,3 m/s'), 0.3],
    ['a focal length', parseFocalMm('23,5'), 23.5],
    ['an angle', parseAngleDeg('172,8deg'), 172.8],
    ['a time', parseDurationS('1,2s'), 1.2],
    ['a per cent', parsePercent('2,5 %'), 2.5],
  ])('reads a decimal comma in %s', (_, value, expected) => expectWithin(value, expected, ROUNDING));

  it('refuses a comma that may part thousands, and says both ways', () => {
    expect(() => parseLengthM('1,200mm')).toThrow(
      '"1,200mm" can mean two things; write it like 1200mm or 1.200mm.',
    );
    expect(() => parseLengthM('1,200.5mm')).toThrow(/more than one mark in a number/);
    expect(() => parseLengthM('1,200,000mm')).toThrow(/more than one mark in a number/);
  });

  it.each([
    ['1:30', 90],
    ['2:05', 125],
    ['0:07,5', 7.5],
    ['1 min 30 s', 90],
    ['2min', 120],
  ])('reads %s as minutes and seconds', (text, seconds) =>
    expectWithin(parseDurationS(text), seconds, ROUNDING),
  );

  it.each(['1:3', '1:75', '1:02:30'])('takes %s for no time', (text) =>
    expect(() => parseDurationS(text)).toThrow(/is not a time/),
  );

  it.each([
    () => parseLengthM('3.2'),
    () => parseLengthM('wide'),
    () => parseSpeedMps('20cm'),
    () => parseFocalMm('35px'),
    () => parseSizePx('3840'),
    () => parsePercent('3px'),
  ])('refuses what it cannot read with one sentence that shows how to write it (%#)', (read) => {
    expect(read).toThrow(TrundleError);
    expect(read).toThrow(/write it like/);
  });

  it('reads back every length it is given in any unit', () => {
    fc.assert(
      fc.property(evenly(1e-3, 1e3), (metres) => {
        for (const [unit, factor] of [
          ['m', 1],
          ['cm', 0.01],
          ['mm', 0.001],
          ['ft', 0.3048],
          ['in', 0.0254],
        ] as const)
          expectWithin(parseLengthM(`${(metres / factor).toFixed(9)}${unit}`), metres, { abs: 1e-9 });
      }),
      { seed: 3, numRuns: 200 },
    );
  });
});
