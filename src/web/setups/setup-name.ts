/** A saved setup in a few words: lens, sensor, wheels, floor; else what was given first. */
import { sensorFormat } from '../../optics/index.js';
import { SETTING_NAMES, readSetting, typed, type SettingsReading } from '../../settings/index.js';
import { settingTexts } from '../../texts/index.js';
import type { Settings } from '../api.js';

/** A longer name would not fit a button. */
const MOST_LETTERS = 80;

/** @example setupName({ focal: '28', sensor: 'FF', setup: 'soft tyres' }, presets) // "28 mm, full frame, soft tyres" */
export function setupName(settings: Settings, presets: SettingsReading['presets']): string {
  const sensor = typed(settings, 'sensor');
  const telling = [
    wordsOf(settings, 'focal', presets),
    sensor !== undefined && sensorFormat(sensor) !== null ? sensor : wordsOf(settings, 'sensor', presets),
    typed(settings, 'wheels') ?? typed(settings, 'setup'),
    typed(settings, 'floor'),
  ].filter((part) => part !== undefined);
  const parts = telling.length > 0 ? telling : firstGiven(settings);
  const name = parts.join(', ');
  return name.length <= MOST_LETTERS ? name : `${name.slice(0, MOST_LETTERS - 1)}…`;
}

function wordsOf(
  settings: Settings,
  name: 'focal' | 'sensor',
  presets: SettingsReading['presets'],
): string | undefined {
  const text = typed(settings, name);
  return text === undefined ? undefined : (readSetting(name, text, { presets }).understood ?? text);
}

function firstGiven(settings: Settings): string[] {
  return SETTING_NAMES.flatMap((name) => {
    const text = typed(settings, name);
    return text === undefined ? [] : [`${settingTexts.labels[name]} ${text}`];
  }).slice(0, 3);
}
