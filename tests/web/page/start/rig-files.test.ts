/** Rig files dropped with clips: recognised by name, read as the rig of the clip of that name, whichever comes first. */
import { describe, expect, it } from 'vitest';
import { DELIVERY_PRESETS, resolveDelivery } from '../../../../src/judge/index.js';
import {
  handRig,
  isRigFile,
  readRigFile,
  settingsOfPart,
  stemOf,
  waitingRig,
} from '../../../../src/web/page/start/rig-files.js';

const PRESETS = Object.fromEntries(
  Object.entries(DELIVERY_PRESETS).map(([name, preset]) => [name, { ...resolveDelivery(preset), name }]),
);

describe('a rig file among dropped files', () => {
  it('goes with the clip of the same name', () => {
    expect(['tiled-corridor.rig.json', 'tiled-corridor.mp4', 'Tiled-Corridor.MOV'].map(stemOf)).toEqual(
      Array(3).fill('tiled-corridor'),
    );
    expect([isRigFile('a.rig.json'), isRigFile('a.JSON'), isRigFile('json.mp4')]).toEqual([
      true,
      true,
      false,
    ]);
  });

  it('is read as the words that would have been typed', () => {
    expect(readRigFile('{"focalLengthMm": 28, "speedMps": 0.25}', 'a.rig.json', PRESETS)).toEqual({
      rig: { focal: '28mm', speed: '0.25m/s' },
      fault: null,
    });
  });

  it('says in a sentence why it cannot be read', () => {
    const { rig, fault } = readRigFile('{"focalLengthMm": "long"}', 'a.rig.json', PRESETS);
    expect(rig).toBe(null);
    expect(fault).toMatch(/"focalLengthMm" in "a.rig.json" is "long"/);
  });

  it('is given to the clip that is there', () => {
    const given: unknown[] = [];
    const rows = [{ name: 'loft.mp4' }, { name: 'hall.mov' }];
    expect(handRig('hall.rig.json', { focal: '35mm' }, rows, (row, rig) => given.push([row.name, rig]))).toBe(
      '',
    );
    expect(given).toEqual([['hall.mov', { focal: '35mm' }]]);
  });

  it('waits for a clip that is not, says so, and is handed out once', () => {
    expect(handRig('rail.rig.json', { focal: '24mm' }, [], () => undefined)).toBe(
      'rail.rig.json goes with a clip called rail; choose it too.',
    );
    expect([waitingRig('rail.mp4'), waitingRig('rail.mp4')]).toEqual([{ focal: '24mm' }, null]);
  });
});

describe('a part of a clip', () => {
  const rig = { speed: '0.3m/s', travel: '1.789m' };

  it('is not measured by the travel of the whole, which its rig file gives', () => {
    expect(settingsOfPart({ focal: '28mm', ...rig }, rig)).toEqual({ focal: '28mm', speed: '0.3m/s' });
  });

  it('is measured by a travel that was typed, or by the only one that there is', () => {
    const typed = { ...rig, travel: '0.8m' };
    expect(settingsOfPart(typed, rig)).toEqual(typed);
    expect(settingsOfPart(rig, null)).toEqual(rig);
    expect(settingsOfPart({ travel: rig.travel }, rig)).toEqual({ travel: rig.travel });
  });
});
