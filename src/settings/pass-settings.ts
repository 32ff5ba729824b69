/** The sheet of a pass out of what was typed: where, over what, with which setup, by whom. */
import { TrundleError, passSheetSchema, type PassSheet } from '../run/index.js';
import { wordsOf } from './figures-as-typed.js';
import { PASS_SETTINGS, typed, type PassSetting, type Settings } from './names.js';
import type { SettingNaming } from './naming.js';

/** Where the setting is not called as the entry is. */
const ENTRY_OF: Readonly<Partial<Record<PassSetting, keyof PassSheet>>> = {
  'pass-number': 'passNumber',
  'camera-roll': 'roll',
  'take-number': 'take',
};

const MARKS: ReadonlyMap<string, PassSheet['mark']> = new Map([
  ['good', 'good'],
  ['no-good', 'noGood'],
  ['nogood', 'noGood'],
  ['ng', 'noGood'],
]);

const RULES: Readonly<Partial<Record<PassSetting, string>>> = {
  direction: 'it is out or back',
  mark: 'it is good or no-good',
  'pass-number': 'it must be a whole number from 1 to 9999',
  notes: 'at most 4000 characters',
  tags: 'at most 50 tags of at most 200 characters',
};

/** The entry of the sheet that a setting gives. */
export function sheetEntryOf(name: PassSetting): keyof PassSheet {
  return ENTRY_OF[name] ?? (name as keyof PassSheet);
}

/**
 * The sheet that was typed; an entry of the file stands where nothing was.
 * @param file sheet of the rig file
 * @throws TrundleError `argument-invalid` naming the setting and the value
 */
export function passOf(settings: Settings, file: PassSheet, naming: SettingNaming): PassSheet {
  const sheet: Record<string, unknown> = { ...file };
  for (const name of PASS_SETTINGS) {
    const text = typed(settings, name);
    if (text !== undefined) sheet[sheetEntryOf(name)] = valueOf(name, text, naming);
  }
  const result = passSheetSchema.safeParse(sheet);
  if (result.success) return result.data;
  const entry = String(result.error.issues[0].path[0]);
  const name = PASS_SETTINGS.find((setting) => sheetEntryOf(setting) === entry) ?? 'notes';
  throw new TrundleError(
    'argument-invalid',
    `${naming.given(name, typed(settings, name) ?? '')} will not do: ${RULES[name] ?? 'it must be a few words, at most 200 characters'}.`,
  );
}

/** The settings that give back a sheet; a tag that holds a comma becomes two. */
export function settingsOfPass(sheet: PassSheet): Settings {
  const words = PASS_SETTINGS.flatMap((name): [string, string][] => {
    const value = sheet[sheetEntryOf(name)];
    if (value === undefined) return [];
    if (Array.isArray(value)) return value.length === 0 ? [] : [[name, value.join(', ')]];
    return [[name, value === 'noGood' && name === 'mark' ? 'no-good' : String(value)]];
  });
  return Object.fromEntries(words);
}

function valueOf(name: PassSetting, text: string, naming: SettingNaming): unknown {
  switch (name) {
    case 'direction':
      return text.trim().toLowerCase();
    case 'mark':
      return MARKS.get(text.trim().toLowerCase()) ?? text;
    case 'pass-number':
      return Number(text);
    case 'tags':
      return [...new Set(wordsOf(text, (given) => naming.given('tags', given)))];
    default:
      return text;
  }
}
