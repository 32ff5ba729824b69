/** A run gives back the settings it was measured with: read again they say the same rig, delivery, sheet, stretch and way. */
import { describe, expect, it } from 'vitest';
import { DELIVERY_PRESETS, resolveDelivery } from '../../../../src/judge/index.js';
import type { RunDocument } from '../../../../src/run/index.js';
import { DELIVERY_SETTINGS, STABILISE_SETTINGS, readSettings } from '../../../../src/settings/index.js';
import { asksOfClip, settingsAsAsked, settingsOfRun } from '../../../../src/web/page/run/settings-of-run.js';
import { madeUpBundle } from '../../../report/support/made-up-bundle.js';

const bundle = madeUpBundle();

function settings(change: Partial<RunDocument> = {}) {
  return settingsOfRun({ ...bundle.run, ...change }, bundle.series, DELIVERY_PRESETS);
}

function read(change: Partial<RunDocument> = {}) {
  return readSettings(settings(change), { presets: DELIVERY_PRESETS });
}

describe('settings of a run that was measured', () => {
  it('give back the rig as it was given, without what was taken for granted', () => {
    const { assumed, ...rig } = bundle.run.rig;
    expect(assumed.length).toBeGreaterThan(0);
    expect(read().rig).toEqual(rig);
  });

  it('give back the sheet', () => {
    expect(read({ pass: { floor: 'dairy hall', passNumber: 3, mark: 'noGood' } }).pass).toEqual({
      floor: 'dairy hall',
      passNumber: 3,
      mark: 'noGood',
    });
  });

  it('name a delivery that still stands for the same figures, and give the figures of any other', () => {
    const webHd = { ...resolveDelivery(DELIVERY_PRESETS['web HD']), name: 'web HD' };
    const given = settings({ delivery: webHd });
    expect(given['for']).toBe('web HD');
    const other = read({ delivery: { ...webHd, name: 'loft wall', maxCropPercent: 7 } }).delivery;
    expect(resolveDelivery(other)).toMatchObject({ name: 'loft wall', maxCropPercent: 7, widthPx: 1920 });
  });

  it('keep limits that were changed since under the same name', () => {
    const changed = { ...resolveDelivery(DELIVERY_PRESETS['web HD']), name: 'web HD', maxCropPercent: 2 };
    expect(read({ delivery: changed }).delivery.maxCropPercent).toBe(2);
  });

  it('say in and out in frames, and neither where the whole clip was measured', () => {
    const { clip } = bundle.run;
    const cut = settings({ clip: { ...clip, fpsFraction: '25/1', durationS: 12, rangeS: [0.52, 10] } });
    expect([cut['in'], cut['out']]).toEqual(['13f', '250f']);
    const whole = settings({ clip: { ...clip, fpsFraction: '25/1', durationS: 12, rangeS: [0, 12] } });
    expect(whole).not.toHaveProperty('in');
    expect(whole).not.toHaveProperty('out');
  });

  it('say the way of stabilising as it was asked for', () => {
    const series = {
      ...bundle.series,
      stabilise: { mode: 'keepMove', smoothingS: 0.8, takeS: 90, seed: 1 } as const,
    };
    const given = settingsOfRun(bundle.run, series, DELIVERY_PRESETS);
    expect(readSettings(given, { presets: DELIVERY_PRESETS }).stabilise).toEqual({
      mode: undefined,
      smoothingS: 0.8,
      takeS: 90,
    });
  });

  it('leave empty what was taken without being given', () => {
    const plain = { mode: 'keepMove', smoothingS: null, takeS: 60, seed: 1 } as const;
    const given = settingsOfRun(
      { ...bundle.run, delivery: { ...resolveDelivery(), name: null } },
      { ...bundle.series, stabilise: plain },
      DELIVERY_PRESETS,
    );
    for (const name of [...DELIVERY_SETTINGS, ...STABILISE_SETTINGS]) expect(given).not.toHaveProperty(name);
  });

  it('give of a delivery the figures alone that do not follow from others', () => {
    const delivery = { ...resolveDelivery({ maxCropPercent: 3 }), name: null };
    const given = settings({ delivery });
    expect(DELIVERY_SETTINGS.filter((name) => name in given)).toEqual(['max-crop']);
  });
});

describe('settings of a run with what is asked of it', () => {
  it('take delivery, limits and way along, and leave lens and speed as the clip was shot', () => {
    const given = { focal: '28mm', speed: '0.3m/s', 'max-crop': '3%', smoothing: '1s' };
    const asked = { lens: 35, speed: 0.2, delivery: 'phone', maxLeft: 2, mode: 'holdStill' } as const;
    expect(settingsAsAsked(given, asked)).toEqual({
      focal: '28mm',
      speed: '0.3m/s',
      for: 'phone',
      'max-residual': '2px',
      stabilise: 'hold-still',
    });
    expect(asksOfClip({ lens: 35, speed: 0.2 })).toBe(false);
    expect(asksOfClip(asked)).toBe(true);
  });

  it('take smoothing along only where the move is kept', () => {
    expect(settingsAsAsked({}, { smoothing: 2 })).toEqual({ smoothing: '2s' });
    expect(settingsAsAsked({ stabilise: 'smoothest' }, { smoothing: 2 })).toEqual({ stabilise: 'smoothest' });
    expect(settingsAsAsked({ stabilise: 'hold-still' }, { mode: 'keepMove', smoothing: 2 })).toEqual({
      smoothing: '2s',
    });
  });
});
