import { describe, expect, it } from 'vitest';
import { rigFromOptions } from '../../src/cli/measure-options.js';

/** Options as the command line hands them over: those that were not given are missing. */
function given(words: Record<string, string>): Parameters<typeof rigFromOptions>[0] {
  return { _: [], ...words };
}

const CALIBRATED = { rig: { focalPx: 2000, readoutMs: 12 }, delivery: {}, pass: {} };

describe('options of the rig', () => {
  it('win over the rig file: a focal length in millimetres over a calibrated one in pixels', () => {
    expect(rigFromOptions(given({ focal: '50mm' }), CALIBRATED).rig).toEqual({
      focalLengthMm: 50,
      readoutMs: 12,
    });
    expect(rigFromOptions(given({ 'focal-px': '1500' }), CALIBRATED).rig).toEqual({
      focalPx: 1500,
      readoutMs: 12,
    });
    const both = rigFromOptions(given({ focal: '50mm', 'focal-px': '1500px' }), CALIBRATED).rig;
    expect(both).toEqual({ focalLengthMm: 50, focalPx: 1500, readoutMs: 12 });
  });

  it('take a readout in milliseconds, and no bare number that could be seconds', () => {
    expect(rigFromOptions(given({ readout: '18ms' }), CALIBRATED).rig.readoutMs).toBe(18);
    expect(rigFromOptions(given({ readout: '0' }), CALIBRATED).rig.readoutMs).toBe(0);
    expect(() => rigFromOptions(given({ readout: '18' }), CALIBRATED)).toThrow(/lacks its unit/);
  });

  it('take known machines as a list, in hertz or turns a minute, with mount and mains', () => {
    const { rig } = rigFromOptions(
      given({ machine: '31Hz, 1440rpm', mount: '7.1 Hz', mains: '50Hz' }),
      CALIBRATED,
    );
    expect(rig).toMatchObject({ machinesHz: [31, 24], mountHz: 7.1, mainsHz: 50 });
    expect(() => rigFromOptions(given({ machine: '31Hz,fast' }), CALIBRATED)).toThrow(
      /"fast".*31Hz or 1860rpm/,
    );
    expect(() => rigFromOptions(given({ mains: '55Hz' }), CALIBRATED)).toThrow(
      /mainsHz must be one of 50, 60/,
    );
    expect(() => rigFromOptions(given({ mount: '0Hz' }), CALIBRATED)).toThrow(/mountHz must be more than 0/);
  });

  it('leave the rig file as it is where they say nothing', () => {
    expect(rigFromOptions(given({}), CALIBRATED)).toEqual(CALIBRATED);
  });
});
