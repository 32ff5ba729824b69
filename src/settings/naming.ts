/** How a sentence of refusal names a setting: a form by its label, a command line by its option. */
import { settingTexts } from '../texts/index.js';
import type { SettingName } from './names.js';

/** Words for settings within sentences. */
export interface SettingNaming {
  /** A setting with what was given for it, at the head of a sentence. @example `"--width 20"`, `Working width "20"` */
  given(name: SettingName, text: string): string;
  /**
   * The rule that a figure broke, after "will not do:".
   * @param field the name in a rig file, with the unit that the rule counts in
   * @example rule('focal', 'focalLengthMm', 'at most 5000') // "focal length must be at most 5000 mm"
   */
  rule(name: SettingName, field: string, rule: string): string;
  /** A setting that has a value, within a sentence. @example `--stabilise keep-move`, `"keep the move"` */
  with(name: SettingName, value: string): string;
  /** A value alone, within a sentence. @example `hold-still`, `"hold still"` */
  value(name: SettingName, value: string): string;
  /** Where all deliveries are listed, as a sentence with a blank before it; empty where they are in sight. */
  readonly seeDeliveries: string;
}

/** Names of the form: labels, and units that the rules count in. */
export const FORM_NAMING: SettingNaming = {
  given: (name, text) => `${settingTexts.labels[name]} "${text}"`,
  rule: (name, field, rule) =>
    `${lowerFirst(settingTexts.labels[name])} must be ${rule}${unitOfField(field)}`,
  with: quotedChoice,
  value: quotedChoice,
  seeDeliveries: '',
};

/** Ends of the names in a rig file, and the units that they stand for. */
const UNITS_OF_FIELDS: readonly (readonly [end: string, unit: string])[] = [
  ['Mps', ' m/s'],
  ['Mm', ' mm'],
  ['Ms', ' ms'],
  ['Hz', ' Hz'],
  ['Px', ' px'],
  ['PxWidth', ' px'],
  ['Deg', '°'],
  ['Percent', ' %'],
  ['Heights', ' heights of the screen'],
  ['M', ' m'],
];

function unitOfField(field: string): string {
  return UNITS_OF_FIELDS.find(([end]) => field.endsWith(end))?.[1] ?? '';
}

function quotedChoice(name: SettingName, value: string): string {
  const choices: Readonly<Record<string, Readonly<Record<string, string>>>> = settingTexts.choices;
  return `"${choices[name]?.[value.trim().toLowerCase()] ?? value}"`;
}

function lowerFirst(label: string): string {
  return label.charAt(0).toLowerCase() + label.slice(1);
}
