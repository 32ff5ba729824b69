/** Reads a rig file: JSON with the names of `rig`, `delivery` and `pass`, each optional; unknown names are refused with the nearest right one. */
import { z } from 'zod';
import { TrundleError } from './errors.js';
import { jsonFault } from './json-fault.js';
import { nearestName } from './nearest-name.js';
import { passSheetSchema, type PassSheet } from './pass-schema.js';
import { UNITS, type Units } from './quantities.js';
import { deliverySchema, lensDistortionSchema, rigSchema, type Delivery, type Rig } from './rig.js';

/** What a rig file holds: lens, sensor and dolly, what will be delivered, the sheet of the pass, and the units of the report. */
export interface RigFile {
  readonly rig: Rig;
  readonly delivery: Delivery;
  readonly pass: PassSheet;
  readonly units?: Units | undefined;
}

const RIG_NAMES = Object.keys(rigSchema.shape);
const DELIVERY_NAMES = Object.keys(deliverySchema.shape);
const unitsSchema = z.object({ units: z.enum(UNITS) });
const PASS_NAMES = Object.keys(passSheetSchema.shape);
const LENS_TERMS = Object.keys(lensDistortionSchema.shape);

/**
 * Reads the text of a rig file. The names may stand at the top, or grouped under `rig` and `delivery`; the sheet stands under
 * `pass`, the units of the report (metric, imperial or both) at the top under `units`.
 * @param where the file's name, for the sentence of a refusal
 * @throws TrundleError `rig-invalid` naming the field, the rule and the value got
 */
export function parseRigFile(text: string, where: string): RigFile {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw new TrundleError('rig-invalid', `The rig file "${where}" is not JSON: ${jsonFault(text)}.`);
  }
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new TrundleError('rig-invalid', `The rig file "${where}" must hold one JSON object.`);
  const { rig = {}, delivery = {}, pass = {}, units, ...flat } = value as Record<string, unknown>;
  const given: [string, unknown][] = [
    ...fieldsOf(rig, 'rig', where),
    ...fieldsOf(delivery, 'delivery', where),
    ...Object.entries(flat),
  ];
  const sheet = fieldsOf(pass, 'pass', where);
  refuseUnknown(given, [...RIG_NAMES, ...DELIVERY_NAMES, 'units'], where);
  refuseUnknown(sheet, PASS_NAMES, where);
  refuseTwice(given, where);
  const pick = (names: string[]): Record<string, unknown> =>
    Object.fromEntries(given.filter(([name]) => names.includes(name)));
  return {
    rig: checked(rigSchema, pick(RIG_NAMES), where),
    delivery: checked(deliverySchema, pick(DELIVERY_NAMES), where),
    pass: checked(passSheetSchema, Object.fromEntries(sheet), where),
    ...(units !== undefined && checked(unitsSchema, { units }, where)),
  };
}

function refuseUnknown(given: readonly [string, unknown][], known: readonly string[], where: string): void {
  const unknown = given.find(([name]) => !known.includes(name));
  if (unknown)
    throw new TrundleError('rig-invalid', `The rig file "${where}" ${unknownName(unknown[0], known)}`);
}

/** A name may stand at the top or in its group; in both it would be a guess which one is meant. */
function refuseTwice(given: readonly [string, unknown][], where: string): void {
  const names = given.map(([name]) => name);
  const twice = names.find((name, index) => names.indexOf(name) !== index);
  if (twice !== undefined)
    throw new TrundleError('rig-invalid', `The rig file "${where}" has "${twice}" twice; leave one of them.`);
}

/** Words that go after the file: that a name in it is not known, and which one may be meant. */
export function unknownName(name: string, known: readonly string[]): string {
  const begun = name.slice(0, MOST_SHOWN);
  return `has an unknown name "${begun}"; the nearest known one is "${nearestName(begun, known)}".`;
}

function fieldsOf(group: unknown, name: string, where: string): [string, unknown][] {
  if (typeof group !== 'object' || group === null || Array.isArray(group))
    throw new TrundleError('rig-invalid', `"${name}" in the rig file "${where}" must be an object.`);
  return Object.entries(group);
}

function checked<T>(schema: z.ZodType<T>, value: unknown, where: string): T {
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  const fault = result.error.issues[0];
  const field = fault.path.join('.');
  if (fault.code === 'unrecognized_keys')
    throw new TrundleError(
      'rig-invalid',
      `"${field}" in "${where}" ${unknownName(fault.keys[0], LENS_TERMS)}`,
    );
  throw new TrundleError(
    'rig-invalid',
    `"${field}" in "${where}" is ${shownValue(valueAt(value, fault.path))}; it must be ${ruleOf(fault)}.`,
  );
}

function valueAt(value: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce((at, name) => (at as Record<PropertyKey, unknown>)[name], value);
}

/** Letters of a value or name that a sentence repeats. */
const MOST_SHOWN = 60;

/** A value out of a file as sentences repeat it: figures and short texts as they are, no lists or objects of any depth. */
export function shownValue(value: unknown): string {
  if (typeof value === 'string')
    return JSON.stringify(value.length > MOST_SHOWN ? `${value.slice(0, MOST_SHOWN)}…` : value);
  if (Array.isArray(value)) return 'a list';
  return typeof value === 'object' && value !== null ? 'an object' : String(value);
}

const KINDS: Readonly<Record<string, string>> = {
  number: 'a number without its unit',
  int: 'a whole number',
  string: 'words in quotes',
  array: 'a list in square brackets',
};

/** What a limit counts where it is no number itself. */
const COUNTED: Readonly<Record<string, readonly [one: string, more: string]>> = {
  string: ['letter', 'letters'],
  array: ['entry', 'entries'],
};

function counted(limit: number | bigint, origin: string): string {
  const words = COUNTED[origin];
  return words === undefined ? String(limit) : `${limit} ${words[Number(limit) === 1 ? 0 : 1]}`;
}

/** The rule that a value broke, in words that go after "it must be". */
export function ruleOf(fault: z.core.$ZodIssue): string {
  switch (fault.code) {
    case 'too_small':
      return `${fault.inclusive ? 'at least' : 'more than'} ${counted(fault.minimum, fault.origin)}`;
    case 'too_big':
      return `at most ${counted(fault.maximum, fault.origin)}`;
    case 'invalid_type':
      return KINDS[fault.expected] ?? `of the kind ${fault.expected}`;
    case 'invalid_value':
      return `one of ${fault.values.join(', ')}`;
    default:
      return `other: ${fault.message}`;
  }
}
