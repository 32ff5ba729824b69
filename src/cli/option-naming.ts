/** How the command line names settings in its sentences, and which of the options given are settings. */
import { SETTING_NAMES, wordsOf, type SettingNaming, type Settings } from '../settings/index.js';

/** Settings by the names of their options. */
export const OPTION_NAMING: SettingNaming = {
  given: (name, text) => `"--${name} ${text}"`,
  rule: (_, field, rule) => `${field} must be ${rule}`,
  with: (name, value) => `--${name} ${value}`,
  value: (_, value) => value,
  seeDeliveries: ' See trundle deliveries.',
};

/** The settings among the options of a command, as they were typed. */
export function settingsGiven(values: Readonly<Record<string, unknown>>): Settings {
  const given = SETTING_NAMES.map((name) => [name, values[name]] as const);
  return Object.fromEntries(
    given.filter((pair): pair is [(typeof pair)[0], string] => typeof pair[1] === 'string'),
  );
}

/** The words of a list between commas; where the option is given it holds something. @throws TrundleError `argument-invalid` */
export function someOf(text: string | undefined, option: string): string[] {
  return wordsOf(text, (given) => `"--${option} ${given}"`);
}
