/** Settings as the form holds them: typed, filled from a setup or a rig file, checked as a whole, and what their lack costs. */
import { describe, expect, it } from 'vitest';
import { DELIVERY_PRESETS as presets } from '../../../../src/judge/index.js';
import { SETTING_NAMES } from '../../../../src/settings/index.js';
import { FOLDED_GROUPS, OPEN_GROUPS } from '../../../../src/web/page/form/form-groups.js';
import {
  clashOf,
  endLine,
  faultyOf,
  holds,
  isFormValid,
  settingsOfForm,
  withSetting,
  withSetup,
  wrongFields,
} from '../../../../src/web/page/form/form-settings.js';

const ALL = { focal: '28mm', sensor: 'full frame', speed: '20cm/s', wheelbase: '450mm', for: 'phone' };

describe('the form', () => {
  it('asks for every setting once, but in and out, which are set on the clip', () => {
    const asked = [...OPEN_GROUPS, ...FOLDED_GROUPS].flatMap(({ names }) => names);
    expect([...asked].sort()).toEqual(SETTING_NAMES.filter((name) => name !== 'in' && name !== 'out').sort());
  });

  it('holds what is filled in and forgets what is emptied', () => {
    const typed = withSetting({ speed: '20cm/s' }, 'focal', '28');
    expect(typed).toEqual({ speed: '20cm/s', focal: '28' });
    expect(withSetting(typed, 'speed', ' ')).toEqual({ focal: '28' });
  });

  it('sends words without blanks around them, and nothing that is no setting', () => {
    expect(settingsOfForm({ focal: ' 28 ', notes: '  ', colour: 'grey' })).toEqual({ focal: '28' });
  });

  it('is filled by a setup, keeping of the sheet what the setup does not say', () => {
    const now = { focal: '50mm', speed: '1m/s', slate: '27B', floor: 'plywood loft' };
    expect(withSetup(now, { focal: '28mm', floor: 'dairy hall' })).toEqual({
      focal: '28mm',
      floor: 'dairy hall',
      slate: '27B',
    });
  });

  it('knows whether it stands as in a rig file', () => {
    expect(holds(ALL, { focal: '28mm' })).toBe(true);
    expect(holds(ALL, { focal: '35mm' })).toBe(false);
    expect(holds({}, { focal: '35mm' })).toBe(false);
  });

  it('will not do with a field that is refused, and names it at its end', () => {
    const faulty = { ...ALL, speed: 'fast', wheelbase: '450' };
    expect([isFormValid(ALL, presets), isFormValid(faulty, presets)]).toEqual([true, false]);
    expect(faultyOf(faulty, SETTING_NAMES, presets)).toEqual(['speed', 'wheelbase']);
    expect(endLine(faulty, presets)).toEqual({
      isFault: true,
      line: 'These will not do; the reasons stand there: Speed, Wheelbase.',
    });
  });

  it('leads to the first wrong field in the order of the form, folded groups too, and names all', () => {
    expect(wrongFields(ALL, presets)).toBe(null);
    expect(wrongFields({ ...ALL, 'max-crop': 'much', readout: '18', speed: 'fast' }, presets)).toEqual({
      first: 'speed',
      line: expect.stringMatching(/Sensor readout.*Speed.*Most crop/) as unknown,
    });
    expect(wrongFields({ ...ALL, readout: '18' }, presets)?.first).toBe('readout');
  });

  it('says at a field why it does not go with another, and not where the other is at fault', () => {
    const clash = { smoothing: '1s', stabilise: 'hold-still' };
    expect(clashOf(clash, 'smoothing', presets)).toMatch(/goes with "keep the move"/);
    expect(clashOf(clash, 'stabilise', presets)).toBeNull();
    expect(clashOf({ smoothing: '1s', stabilise: 'keep-move' }, 'smoothing', presets)).toBeNull();
    expect(clashOf({ smoothing: '1s', stabilise: 'dance' }, 'smoothing', presets)).toBeNull();
    expect(clashOf({ 'delivery-name': 'lobby wall' }, 'delivery-name', presets)).toMatch(/Give figures/);
    expect(isFormValid(clash, presets)).toBe(false);
  });

  it.each([
    [
      {},
      /no speed or travel: no millimetres, no floor grade; no focal length: .*; no sensor: .*; no delivery/,
    ],
    [{ ...ALL, wheelbase: undefined }, /costs: no wheelbase: no floor grade\.$/],
    [{ 'focal-px': '2666', travel: '3m', wheelbase: '45cm', 'max-crop': '3%' }, /^Everything that decides/],
    [ALL, /^Everything that decides is given\.$/],
  ])('says in one line what it costs that figures are missing: %j', (settings, line) => {
    const given = JSON.parse(JSON.stringify(settings)) as Record<string, string>;
    expect(endLine(given, presets)).toEqual({ isFault: false, line: expect.stringMatching(line) as string });
  });
});
