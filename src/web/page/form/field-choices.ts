/** What fields offer: choices that are all there is, and names that were used before. */
import { limitFigure } from '../../../run/index.js';
import { PASS_SETTINGS, type SettingName } from '../../../settings/index.js';
import { settingTexts, settingsFormTexts } from '../../../texts/index.js';
import type { About, SavedSetup } from '../../api.js';
import type { Choice } from './setting-field.js';

/** The values of a field that takes no others; null when anything may be typed. */
export function choicesOf(
  name: SettingName,
  { deliveries }: Pick<About, 'deliveries'>,
): readonly Choice[] | null {
  if (name === 'for') return Object.keys(deliveries).map((value) => ({ value, words: value }));
  const choices: Readonly<Record<string, Readonly<Record<string, string>>>> = settingTexts.choices;
  if (!Object.hasOwn(choices, name)) return null;
  return Object.entries(choices[name]).map(([value, words]) => ({ value, words }));
}

/** What a field offers besides free text: sensor formats, and names of the last setups. */
export function offersOf(
  name: SettingName,
  { sensors }: Pick<About, 'sensors'>,
  setups: readonly SavedSetup[],
): readonly Choice[] {
  if (name === 'sensor')
    return Object.entries(sensors).map(([value, widthMm]) => ({
      value,
      words: settingsFormTexts.sensorWidth(limitFigure(widthMm)),
    }));
  if (!(PASS_SETTINGS as readonly SettingName[]).includes(name)) return [];
  const used = setups.map(({ settings }) => settings[name] ?? '').filter((text) => text !== '');
  return [...new Set(used)].map((value) => ({ value, words: value }));
}
