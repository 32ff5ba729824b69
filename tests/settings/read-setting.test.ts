/** One setting as it is typed: what it is understood as, in both systems of units, or why it will not do. */
import { describe, expect, it } from 'vitest';
import { DELIVERY_PRESETS as presets } from '../../src/judge/index.js';
import { SETTING_NAMES, readSetting, type SettingName } from '../../src/settings/index.js';

describe('a setting by itself', () => {
  it.each<[SettingName, string, string | null]>([
    ['focal', '28', '28 mm'],
    ['sensor', 'Super 35', '24.89 mm wide'],
    ['focal-px', '2666 of 3840', '2666 px in a picture 3840 px wide'],
    ['focal-px', '2666px', '2666 px of this clip'],
    ['readout', '18ms', '18 ms'],
    ['readout', '0', '0 ms, a global shutter'],
    ['shutter', '180deg', '180°'],
    ['speed', '20cm/s', '0.2 m/s = 0.66 ft/s'],
    ['travel', `10'6"`, '3.2004 m = 10 ft 6 in'],
    ['wheelbase', '450 mm', '450 mm = 17.7 in'],
    ['camera-offset', '-0.5in', '-12.7 mm = -0.5 in'],
    ['machine', '1440rpm, 31', '24 Hz, 31 Hz'],
    ['lens-azimuth', '0', 'looks along the travel'],
    ['lens-azimuth', '-90', '90° to the left of the travel'],
    ['lens-azimuth', '180', 'looks back along the travel'],
    ['head', 'locked', null],
    ['for', 'web-hd', '1920 × 1080 px, most crop 5 %, watched from 3.1 heights'],
    ['deliver', '2560 wide', '2560 × 1440 px'],
    ['deliver', '1080 high', '1920 × 1080 px'],
    ['max-crop', '3', '3 % of the frame width'],
    ['viewing', '3.1H', '3.1 heights of the screen'],
    ['smoothing', '1.2', '1.2 s'],
    ['take', '125s', '2 min 5 s'],
    ['take', '2min', '2 min'],
    ['cutoff', '0.8', '0.8 Hz'],
    ['floor', 'dairy hall', null],
    ['tags', 'night, wet,night', 'night · wet'],
    ['units', 'imperial', null],
    ['in', '00:00:02:00', null],
  ])('%s "%s" is understood as %s', (name, text, understood) => {
    expect(readSetting(name, text, { presets })).toEqual({ refusal: null, understood });
  });

  it.each<[SettingName, string, RegExp]>([
    ['speed', 'fast', /"fast" is not a speed with its unit; write it like 20cm\/s/],
    ['wheelbase', '450', /"450" is not a length with its unit/],
    ['travel', '6km', /travel must be at most 5000 m\.$/],
    ['readout', '18', /lacks its unit; write the readout like 18ms/],
    ['mains', '55', /mains must be one of 50, 60 Hz/],
    ['lens-distortion', 'k9=1', /write it like k1=-0.12, k2=0.03/],
    ['deliver', 'large', /not a picture size; write it like 3840x2160/],
    ['smoothing', '30s', /Smoothing "30s" must lie between 0.1 s and 20 s/],
    ['direction', 'left', /Direction "left" will not do: it is out or back/],
    ['floor', ' ', /a few words, at most 200 characters/],
  ])('%s "%s" is refused', (name, text, refusal) => {
    const reading = readSetting(name, text, { presets });
    expect(reading.understood).toBeNull();
    expect(reading.refusal).toMatch(refusal);
  });

  it('is never more than refused, whatever is typed', () => {
    const odd = [
      '',
      ' ',
      '0',
      '-1',
      '1e9',
      '9'.repeat(400),
      '__proto__',
      'constructor',
      ',',
      '½',
      '=',
      'NaN',
    ];
    for (const name of SETTING_NAMES)
      for (const text of odd) {
        const { refusal, understood } = readSetting(name, text, { presets });
        expect(refusal === null || understood === null, `${name} ${text}`).toBe(true);
      }
  });
});

describe('a decimal comma', () => {
  it.each([
    ['max-residual', '1,5px', '1.5 px RMS of the delivery'],
    ['viewing', '3,1H', '3.1 heights of the screen'],
    ['readout', '18,5ms', '18.5 ms'],
    ['cutoff', '0,9', '0.9 Hz'],
    ['take', '1:30', '1 min 30 s'],
    ['mount', '7,5Hz', '7.5 Hz'],
    ['sensor', '23,5', '23.5 mm wide'],
  ] as const)('is read in %s', (name, text, understood) => {
    expect(readSetting(name, text, { presets })).toEqual({ refusal: null, understood });
  });

  it('stands in terms of a lens, and is asked about where it may part a list', () => {
    expect(readSetting('lens-distortion', 'k1=-0,12, k2=0,03', { presets }).refusal).toBe(null);
    expect(readSetting('machine', '31Hz,24Hz', { presets }).understood).toBe('31 Hz, 24 Hz');
    expect(readSetting('machine', '31,5Hz', { presets }).refusal).toMatch(/"31,5Hz" can mean two things/);
  });
});
