/** The settings of the rig: what they fill in over a rig file, and what they refuse. */
import { describe, expect, it } from 'vitest';
import { OPTION_NAMING } from '../../src/cli/option-naming.js';
import { rigOf, type Settings } from '../../src/settings/index.js';
import type { Rig } from '../../src/run/index.js';

const CALIBRATED: Rig = { focalPx: 2000, readoutMs: 12 };

/** The rig as the command line reads it, over a calibrated one. */
const read = (settings: Settings): Rig => rigOf(settings, CALIBRATED, OPTION_NAMING);

describe('settings of the rig', () => {
  it('win over the rig file: a focal length in millimetres over a calibrated one in pixels', () => {
    expect(read({ focal: '50mm' })).toEqual({
      focalLengthMm: 50,
      readoutMs: 12,
    });
    expect(read({ 'focal-px': '1500' })).toEqual({
      focalPx: 1500,
      readoutMs: 12,
    });
    const both = read({ focal: '50mm', 'focal-px': '1500px' });
    expect(both).toEqual({ focalLengthMm: 50, focalPx: 1500, readoutMs: 12 });
  });

  it('take a readout in milliseconds, and no bare number that could be seconds', () => {
    expect(read({ readout: '18ms' }).readoutMs).toBe(18);
    expect(read({ readout: '0' }).readoutMs).toBe(0);
    expect(() => read({ readout: '18' })).toThrow(/lacks its unit/);
  });

  it('take known machines as a list, in hertz or turns a minute, with mount and mains', () => {
    const rig = read({ machine: '31Hz, 1440rpm', mount: '7.1 Hz', mains: '50Hz' });
    expect(rig).toMatchObject({ machinesHz: [31, 24], mountHz: 7.1, mainsHz: 50 });
    expect(() => read({ machine: '31Hz,fast' })).toThrow(/"fast".*31Hz or 1860rpm/);
    expect(() => read({ mains: '55Hz' })).toThrow(/mainsHz must be one of 50, 60/);
    expect(() => read({ mount: '0Hz' })).toThrow(/mountHz must be more than 0/);
  });

  it('win over the travel of the rig file where a speed was typed, or a part of the clip is meant and the speed is known', () => {
    const rolled: Rig = { speedMps: 0.3, travelM: 1.8 };
    const over = (settings: Settings, file = rolled): Rig => rigOf(settings, file, OPTION_NAMING);
    expect(over({})).toEqual(rolled);
    expect(over({ speed: '20cm/s' })).toEqual({ speedMps: 0.2 });
    expect(over({ in: '1s' })).toEqual({ speedMps: 0.3 });
    expect(over({ out: '4s' })).toEqual({ speedMps: 0.3 });
    expect(over({ in: '1s', speed: '20cm/s', travel: '0.9m' })).toEqual({ speedMps: 0.2, travelM: 0.9 });
    // A travel alone is all that is known of the scale.
    expect(over({ in: '1s' }, { travelM: 0.9 })).toEqual({ travelM: 0.9 });
  });

  it('leave the rig file as it is where they say nothing', () => {
    expect(read({})).toEqual(CALIBRATED);
  });
});
