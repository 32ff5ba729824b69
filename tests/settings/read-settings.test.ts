/** Settings as a whole: what they give, what stands from a rig file, and how refusals name them on the command line and in a form. */
import { describe, expect, it } from 'vitest';
import { OPTION_NAMING, settingsGiven } from '../../src/cli/option-naming.js';
import { DELIVERY_PRESETS as presets, resolveDelivery } from '../../src/judge/index.js';
import type { RigFile } from '../../src/run/index.js';
import { readSettings, type ReadSettings, type Settings } from '../../src/settings/index.js';

const FILE: RigFile = {
  rig: { focalLengthMm: 28, wheelbaseM: 0.45 },
  delivery: { name: 'phone', maxCropPercent: 2, heightPx: 720 },
  pass: { floor: 'plywood loft', lane: '1' },
  units: 'imperial',
};

const read = (settings: Settings, file?: RigFile): ReadSettings => readSettings(settings, { presets, file });

/** The sentence of a refusal, with the names of the command line. */
const onCommandLine = (settings: Settings): ReadSettings =>
  readSettings(settings, { presets, naming: OPTION_NAMING });

/** A refusal in these very words. */
const saying = (message: string): Error => expect.objectContaining({ message }) as Error;

describe('settings as a whole', () => {
  it('give everything that a measurement is asked for', () => {
    expect(
      read({
        focal: '35mm',
        speed: '20cm/s',
        travel: `10'6"`,
        'max-crop': '3%',
        floor: 'dairy hall',
        units: 'Both',
        in: '00:00:02:00',
        out: '9s',
        width: '640px',
        cutoff: '1 Hz',
        stabilise: 'smoothest',
        take: '45s',
      }),
    ).toEqual({
      rig: { focalLengthMm: 35, speedMps: 0.2, travelM: 3.2004 },
      delivery: { maxCropPercent: 3 },
      pass: { floor: 'dairy hall' },
      units: 'both',
      inPoint: '00:00:02:00',
      outPoint: '9s',
      analysisWidthPx: 640,
      cutoffHz: 1,
      stabilise: { mode: 'smoothest', smoothingS: undefined, takeS: 45 },
    });
  });

  it('leave a rig file as it is where nothing was typed, and win over it where something was', () => {
    expect(read({}, FILE)).toMatchObject({
      rig: FILE.rig,
      delivery: resolveDelivery(FILE.delivery),
      pass: FILE.pass,
      units: 'imperial',
    });
    expect(read({ wheelbase: '1m', lane: '2', units: 'metric' }, FILE)).toMatchObject({
      rig: { focalLengthMm: 28, wheelbaseM: 1 },
      pass: { floor: 'plywood loft', lane: '2' },
      units: 'metric',
    });
  });

  it('take a named delivery and a size as a whole: neither mixes with the file', () => {
    expect(read({ for: 'big screen' }, FILE).delivery).toEqual(resolveDelivery({ name: 'big screen' }));
    expect(read({ deliver: '2560 wide' }, FILE).delivery).toMatchObject({ widthPx: 2560, heightPx: 1440 });
  });

  it('take a name of the crew for figures of its own, and no such name alone', () => {
    expect(read({ 'delivery-name': 'lobby wall', deliver: '2560x1080' }).delivery).toEqual({
      name: 'lobby wall',
      widthPx: 2560,
      heightPx: 1080,
    });
    expect(() => read({ 'delivery-name': 'lobby wall' })).toThrow(/Give figures beside a name of your own/);
  });

  it('look at the named deliveries only when one is named', () => {
    const asked: string[] = [];
    const lazy = (): typeof presets => {
      asked.push('asked');
      return presets;
    };
    readSettings({ focal: '35mm', 'max-crop': '3%' }, { presets: lazy });
    expect(asked).toEqual([]);
    readSettings({ for: 'phone' }, { presets: lazy });
    expect(asked).not.toEqual([]);
  });

  it('refuse a name that is no setting, with the nearest that is', () => {
    expect(() => read({ wheelbsae: '450mm' })).toThrow('no setting "wheelbsae"; the nearest is "wheelbase"');
    expect(() => read(JSON.parse('{"__proto__": "1"}') as Settings)).toThrow('no setting "__proto__"');
  });

  it.each([
    [{ head: 'constructor' }, /"constructor" is not a head/],
    [{ stabilise: 'constructor' }, /must be one of keep-move/],
    [{ mark: 'constructor' }, /it is good or no-good/],
    [{ for: 'toString' }, /no delivery "toString"/],
  ])('take no word for a choice that is none of them: %j', (settings, sentence) => {
    expect(() => read(settings)).toThrow(sentence);
  });

  it.each([
    [
      { focal: '6000mm' },
      '"6000mm" will not do: focalLengthMm must be at most 5000.',
      '"6000mm" will not do: focal length must be at most 5000 mm.',
    ],
    [
      { width: '20' },
      '"--width 20" must be a whole number from 160 to 3840.',
      'Working width "20" must be a whole number from 160 to 3840.',
    ],
    [
      { smoothing: '1s', stabilise: 'hold-still' },
      '"--smoothing 1s" goes with --stabilise keep-move; hold-still has no smoothing of its own.',
      'Smoothing "1s" goes with "keep the move"; "hold still" has no smoothing of its own.',
    ],
    [
      { cutoff: '9' },
      '"--cutoff 9" must lie between 0.2 Hz and 5 Hz.',
      'Where vibration begins "9" must lie between 0.2 Hz and 5 Hz.',
    ],
    [
      { 'pass-number': 'two' },
      '"--pass-number two" will not do: it must be a whole number from 1 to 9999.',
      'Pass number "two" will not do: it must be a whole number from 1 to 9999.',
    ],
    [{ tags: ' , ' }, '"--tags  , " holds no word.', 'Tags " , " holds no word.'],
    [
      { for: 'fone' },
      'There is no delivery "fone"; the nearest is "phone". See trundle deliveries.',
      'There is no delivery "fone"; the nearest is "phone".',
    ],
  ])('refuse %j by the option on the command line and by the label in a form', (settings, option, label) => {
    const given = settings as unknown as Settings;
    expect(() => onCommandLine(given)).toThrow(saying(option));
    expect(() => read(given)).toThrow(saying(label));
  });

  it('are found among the options of a command', () => {
    expect(
      settingsGiven({ _: ['a.mov'], focal: '35mm', rig: 'rig.json', quiet: true, speed: undefined }),
    ).toEqual({
      focal: '35mm',
    });
  });
});
