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
    () => parseLengthM('3.2'),
    () => parseLengthM('3,2m'),
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
      fc.property(fc.double({ min: 1e-3, max: 1e3, noNaN: true }), (metres) => {
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
