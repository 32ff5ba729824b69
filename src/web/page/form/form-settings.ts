/** Settings as the form holds them: only what is filled in; filled from setups and rig files, checked as a whole. */
import {
  DELIVERY_SETTINGS,
  PASS_SETTINGS,
  SETTING_NAMES,
  readSetting,
  readSettings,
  type DeliveryReading,
  type SettingName,
  type Settings,
} from '../../../settings/index.js';
import { TrundleError } from '../../../run/index.js';
import { settingTexts, settingsFormTexts } from '../../../texts/index.js';
import { FOLDED_GROUPS, OPEN_GROUPS } from './form-groups.js';

/** Deliveries by name, as `About` brings them. */
export type Presets = DeliveryReading['presets'];

/** With one field as it was typed; an empty one is not given. */
export function withSetting(settings: Settings, name: SettingName, text: string): Settings {
  const { [name]: _, ...others } = settings;
  void _;
  return text.trim() === '' ? others : { ...others, [name]: text };
}

/** What the form holds, ready to be sent: no blanks around, nothing that is no setting. */
export function settingsOfForm(settings: Settings): Settings {
  const filled = SETTING_NAMES.map((name) => [name, (settings[name] ?? '').trim()] as const);
  return Object.fromEntries(filled.filter(([, text]) => text !== ''));
}

/** A saved setup in place of what is there; of the sheet stays what the setup does not say. */
export function withSetup(settings: Settings, setup: Settings): Settings {
  const sheet: readonly string[] = PASS_SETTINGS;
  const kept = Object.entries(settings).filter(([name]) => sheet.includes(name));
  return { ...Object.fromEntries(kept), ...setup };
}

/** Whether everything that a rig file says stands in the form as it does there. */
export function holds(settings: Settings, rig: Settings): boolean {
  return Object.entries(rig).every(([name, text]) => settings[name] === text);
}

/** Why the form will not do, in the first sentence there is; null when it will. */
export function faultOfForm(settings: Settings, presets: Presets): string | null {
  try {
    readSettings(settingsOfForm(settings), { presets });
    return null;
  } catch (error) {
    if (!(error instanceof TrundleError)) throw error;
    return error.message;
  }
}

/** Fields that have to go with others. */
const GOES_WITH: Readonly<Partial<Record<SettingName, readonly SettingName[]>>> = {
  smoothing: ['stabilise'],
  'delivery-name': DELIVERY_SETTINGS,
};

/** Why a field that will do by itself does not go with the others; null when it does, or when the fault is theirs. */
export function clashOf(settings: Settings, name: SettingName, presets: Presets): string | null {
  const others = GOES_WITH[name];
  if (others === undefined || !(name in settings)) return null;
  const given = [name, ...others].filter((one) => one in settings);
  if (given.some((one) => readSetting(one, settings[one], { presets }).refusal !== null)) return null;
  return faultOfForm(Object.fromEntries(given.map((one) => [one, settings[one]])), presets);
}

/** Whether a measurement can be ordered with it. */
export function isFormValid(settings: Settings, presets: Presets): boolean {
  return faultOfForm(settings, presets) === null;
}

/** Those of some fields that are filled in. */
export function givenOf(settings: Settings, names: readonly SettingName[]): readonly SettingName[] {
  return names.filter((name) => (settings[name] ?? '').trim() !== '');
}

/** Those of some fields that will not do, by themselves or with the others. */
export function faultyOf(
  settings: Settings,
  names: readonly SettingName[],
  presets: Presets,
): readonly SettingName[] {
  return givenOf(settings, names).filter(
    (name) =>
      readSetting(name, settings[name], { presets }).refusal !== null ||
      clashOf(settings, name, presets) !== null,
  );
}

/**
 * What stands at the end of the form: which fields will not do, or what missing figures cost, most important first, in one line.
 */
export function endLine(
  settings: Settings,
  presets: Presets,
): { readonly isFault: boolean; readonly line: string } {
  const faulty = faultyOf(settings, SETTING_NAMES, presets);
  if (faulty.length > 0)
    return {
      isFault: true,
      line: settingsFormTexts.faultsLine(faulty.map((name) => settingTexts.labels[name])),
    };
  const fault = faultOfForm(settings, presets);
  return fault === null ? { isFault: false, line: missingLine(settings) } : { isFault: true, line: fault };
}

/** The fields that will not do, in the order of the form, and what is to be said; null when a measurement can be ordered. */
export function wrongFields(
  settings: Settings,
  presets: Presets,
): { readonly first: SettingName | null; readonly line: string } | null {
  const { isFault, line } = endLine(settings, presets);
  if (!isFault) return null;
  const order = [...OPEN_GROUPS, ...FOLDED_GROUPS].flatMap(({ names }) => names);
  return { first: faultyOf(settings, order, presets).at(0) ?? null, line };
}

/** What missing figures cost, most important first, in one line. */
function missingLine(settings: Settings): string {
  const has = (...names: readonly SettingName[]): boolean => names.some((name) => name in settings);
  const { missing } = settingsFormTexts;
  const parts = [
    has('speed', 'travel') ? null : missing.metres,
    has('wheelbase') || !has('speed', 'travel') ? null : missing.wheelbase,
    has('focal', 'focal-px') ? null : missing.focal,
    has('sensor', 'focal-px') ? null : missing.sensor,
    has('for', 'max-crop') ? null : missing.limits,
  ];
  return settingsFormTexts.missingLine(parts.filter((part) => part !== null));
}
