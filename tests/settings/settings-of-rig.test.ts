/** A rig file as typed words: reading them gives the very same rig, delivery, sheet and units. */
import fs from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DELIVERY_PRESETS as presets } from '../../src/judge/index.js';
import { parseRigFile, type RigFile } from '../../src/run/index.js';
import { readSettings, settingsOfRig } from '../../src/settings/index.js';
import { rigFile } from '../support/any-rig.js';

describe('a rig file as typed words', () => {
  it('gives the very same values when it is read', () => {
    fc.assert(
      fc.property(rigFile, (values) => {
        const file = parseRigFile(JSON.stringify(values), 'rig.json');
        expect(readSettings(settingsOfRig(file), { presets })).toEqual(readSettings({}, { presets, file }));
      }),
      { numRuns: 400, seed: 11 },
    );
  });

  it('is written as a crew would type it', () => {
    const text = fs.readFileSync(
      new URL('../../sample-clips/tiled-corridor.rig.json', import.meta.url),
      'utf8',
    );
    expect(settingsOfRig(parseRigFile(text, 'rig.json'))).toEqual({
      focal: '28mm',
      sensor: '36mm',
      readout: '0ms',
      shutter: '180deg',
      speed: '0.3m/s',
      travel: '1.7549m',
      wheelbase: '450mm',
      'track-width': '400mm',
      'wheel-diameter': '80mm',
      'joint-spacing': '300mm',
      'camera-height': '1m',
      'camera-offset': '50mm',
      'lens-azimuth': '0deg',
      head: 'locked',
      deliver: '1920x1080',
      'max-crop': '1%',
    });
  });

  it('names a delivery of the table as the table does, and any other as the crew’s own', () => {
    const named = (delivery: RigFile['delivery'], known = presets) =>
      settingsOfRig({ rig: {}, delivery, pass: {} }, known);
    expect(named({ name: 'Web-HD' })).toEqual({ for: 'web HD' });
    expect(named({ name: 'lobby wall', widthPx: 2560 })).toEqual({
      'delivery-name': 'lobby wall',
      deliver: '2560 wide',
    });
    expect(named({ name: 'Lobby Wall' }, { 'lobby wall': { widthPx: 2560 } })).toEqual({ for: 'lobby wall' });
  });
});
