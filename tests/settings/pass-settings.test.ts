/** The settings of the sheet: what they fill in, and what they refuse. */
import { describe, expect, it } from 'vitest';
import { OPTION_NAMING } from '../../src/cli/option-naming.js';
import { parseRigFile, type PassSheet } from '../../src/run/index.js';
import { passOf, type Settings } from '../../src/settings/index.js';

const read = (settings: Settings, file: PassSheet = {}): PassSheet => passOf(settings, file, OPTION_NAMING);

describe('the sheet of a pass', () => {
  it('takes every entry from its setting', () => {
    expect(
      read({
        floor: ' dairy hall ',
        lane: '2',
        direction: 'Back',
        setup: 'soft tyres',
        'pass-number': '3',
        'camera-roll': 'A004',
        slate: '27B',
        'take-number': '2',
        mark: 'no-good',
        tags: 'night, wet,night',
        notes: 'door was open',
      }),
    ).toEqual({
      floor: 'dairy hall',
      lane: '2',
      direction: 'back',
      setup: 'soft tyres',
      passNumber: 3,
      roll: 'A004',
      slate: '27B',
      take: '2',
      mark: 'noGood',
      tags: ['night', 'wet'],
      notes: 'door was open',
    });
  });

  it('lets what was typed win over the rig file, entry by entry', () => {
    const { pass } = parseRigFile('{"pass": {"floor": "loft", "lane": "1"}}', 'rig.json');
    expect(read({ lane: '4' }, pass)).toEqual({ floor: 'loft', lane: '4' });
  });

  it.each([
    [{ direction: 'left' }, '"--direction left" will not do: it is out or back.'],
    [{ mark: 'fine' }, '"--mark fine" will not do: it is good or no-good.'],
    [{ 'pass-number': 'two' }, '"--pass-number two" will not do: it must be a whole number from 1 to 9999.'],
    [{ 'pass-number': '0' }, '"--pass-number 0" will not do: it must be a whole number from 1 to 9999.'],
    [{ floor: ' ' }, '"--floor  " will not do: it must be a few words, at most 200 characters.'],
    [{ 'camera-roll': 'x'.repeat(201) }, 'it must be a few words, at most 200 characters.'],
  ])('refuses %j and says what goes', (values, words) => {
    expect(() => read(values)).toThrow(words);
  });

  it('refuses an unknown entry of a rig file with the nearest known one', () => {
    expect(() => parseRigFile('{"pass": {"flor": "loft"}}', 'rig.json')).toThrow(
      'unknown name "flor"; the nearest known one is "floor"',
    );
    expect(() => parseRigFile('{"pass": {"direction": "up"}}', 'rig.json')).toThrow('one of out, back');
  });
});
