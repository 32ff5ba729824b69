import { describe, expect, it } from 'vitest';
import { SENSOR_FORMATS, sensorFormat, sensorWidthMm } from '../../src/optics/index.js';
import { TrundleError } from '../../src/run/index.js';

describe('sensor names', () => {
  it.each([
    ['full frame', 36],
    ['Full-Frame', 36],
    ['FULLFRAME', 36],
    ['full_frame', 36],
    ['Super 35', 24.89],
    ['super35', 24.89],
    ['S35', 24.89],
    ['super-16', 12.52],
    ['APS-C', 23.6],
    ['apsc', 23.6],
    ['Micro Four Thirds', 17.3],
    ['MFT', 17.3],
    ['4/3', 17.3],
    ['1"', 13.2],
    ['1 inch', 13.2],
    ['2/3"', 8.8],
  ])('understands %s as %d mm', (name, widthMm) => {
    expect(sensorWidthMm(name)).toBe(widthMm);
  });

  it.each([
    ['24.89mm', 24.89],
    ['24.89 mm', 24.89],
    ['24,89 MM', 24.89],
    ['24.89', 24.89],
    ['36', 36],
    ['16.0mm', 16],
  ])('reads the width %s as %d mm', (text, widthMm) => {
    expect(sensorWidthMm(text)).toBe(widthMm);
  });

  it('finds every format of the table under its own name', () => {
    for (const [name, format] of Object.entries(SENSOR_FORMATS)) expect(sensorFormat(name)).toBe(format);
  });

  it.each(['16mm', '35 mm'])('refuses %s, which is a film gauge as well as a length', (text) => {
    expect(() => sensorWidthMm(text)).toThrowError(/can mean two things/);
  });

  it.each(['', 'huge', '0mm', '-36mm', '1000mm', '36cm', 'constructor', '__proto__'])(
    'refuses "%s" with a stable code and names what it knows',
    (text) => {
      let caught: unknown;
      try {
        sensorWidthMm(text);
      } catch (error) {
        caught = error;
      }
      expect(caught).toBeInstanceOf(TrundleError);
      expect((caught as TrundleError).code).toBe('argument-invalid');
      expect((caught as TrundleError).message).toContain('super 35');
    },
  );
});
