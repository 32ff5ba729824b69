import { describe, expect, it } from 'vitest';
import { settingsOfOptions, withOptions } from '../../src/cli/synth-options.js';
import { resolveSynthOptions } from '../../src/synth/index.js';

describe('options of a made-up pass', () => {
  it('that name a cause put it into the pass', () => {
    const given = settingsOfOptions({
      ...{ 'out-of-round': '0.2mm', joints: '30cm', mount: '7Hz', motor: '1860rpm', lamps: '100Hz' },
      'with-sound': true,
    });
    const { deck, machines, lamps, sound } = resolveSynthOptions(withOptions({}, given));
    expect(deck?.lobes).toEqual([{ wheel: 'frontLeft', perTurn: 1, amplitudeMm: 0.2, phaseDeg: 0 }]);
    expect(deck?.floor.joints?.spacingM).toBe(0.3);
    expect(deck?.mount?.freqHz).toBe(7);
    expect(machines.map(({ freqHz }) => freqHz)).toEqual([31]);
    expect(lamps?.freqHz).toBe(100);
    expect(sound).toBe(true);
  });

  it('leave out deck, machines, lamps and sound when none is asked for', () => {
    const { deck, machines, lamps, sound } = resolveSynthOptions(withOptions({}, settingsOfOptions({})));
    expect({ deck, machines, lamps, sound }).toEqual({ deck: null, machines: [], lamps: null, sound: false });
  });

  it('lock the head on a deck unless the settings make it drift', () => {
    const given = settingsOfOptions({ joints: '30cm' });
    expect(withOptions({}, given).driftDeg).toBe(0);
    expect(withOptions({ driftDeg: 0.2 }, given).driftDeg).toBe(0.2);
    expect(withOptions({}, settingsOfOptions({}))).not.toHaveProperty('driftDeg');
  });

  it('win over the settings of a file one by one, and leave the rest of a group as the file has it', () => {
    const settings = {
      vibration: { angularDegRms: { pan: 0.01, tilt: 0.01 }, bandHz: [3, 9] },
      deck: { wheelbaseM: 0.9, floor: { gdM3: 1e-7 } },
    } as const;
    const both = withOptions(settings, settingsOfOptions({ tilt: '0.05deg', joints: '60cm' }));
    const { vibration, deck } = resolveSynthOptions(both);
    expect(vibration).toMatchObject({ angularDegRms: { pan: 0.01, tilt: 0.05, roll: 0 }, bandHz: [3, 9] });
    expect(deck).toMatchObject({ wheelbaseM: 0.9, floor: { gdM3: 1e-7, joints: { spacingM: 0.6 } } });
  });

  it.each([
    [{ joints: '30' }, /length/],
    [{ motor: 'fast' }, /frequency/],
    [{ 'out-of-round': 'much' }, /length/],
    [{ lamps: '100V' }, /frequency/],
  ])('that cannot be read are refused: %j', (values, rule) => {
    expect(() => settingsOfOptions(values)).toThrow(rule);
  });
});
