/** The options that fill in the sheet of a pass: where, over what, with which setup, by whom; words of the crew. */
import type { ArgsDef, ParsedArgs } from 'citty';
import { TrundleError, passSheetSchema, type PassSheet } from '../run/index.js';
import { someOf } from './measure-options.js';

/** Options of the sheet, shared by the commands that write it. */
export const PASS_ARGS = {
  floor: { type: 'string', valueHint: '"dairy hall"', description: 'name of the floor or rail run' },
  location: { type: 'string', valueHint: '"old dairy"', description: 'where it was shot' },
  lane: {
    type: 'string',
    valueHint: '2',
    description: 'strip of floor that was rolled over; passes of one lane are laid over each other',
  },
  direction: { type: 'string', valueHint: 'out', description: 'along the lane: out, or back against it' },
  setup: { type: 'string', valueHint: '"soft tyres"', description: 'name of the setup, to compare it later' },
  wheels: { type: 'string', valueHint: '"80 mm rubber"', description: 'wheels that it ran on' },
  track: { type: 'string', valueHint: '"plywood, two layers"', description: 'boards or rail that were laid' },
  'pass-number': { type: 'string', valueHint: '3', description: 'number of the pass' },
  operator: { type: 'string', valueHint: 'Mara', description: 'who drove the dolly' },
  production: { type: 'string', valueHint: '"Night Shift"', description: 'production' },
  unit: { type: 'string', valueHint: '"second unit"', description: 'unit' },
  'camera-roll': { type: 'string', valueHint: 'A004', description: 'name of the camera roll' },
  slate: { type: 'string', valueHint: '27B', description: 'slate' },
  'take-number': { type: 'string', valueHint: '2', description: 'take on the slate' },
  mark: { type: 'string', valueHint: 'good', description: 'good or no-good' },
  notes: { type: 'string', valueHint: '"door was open"', description: 'anything worth knowing' },
  tags: { type: 'string', valueHint: 'night,wet', description: 'words to find it by, between commas' },
} as const satisfies ArgsDef;

const MARKS: Readonly<Record<string, PassSheet['mark']>> = {
  good: 'good',
  'no-good': 'noGood',
  nogood: 'noGood',
  ng: 'noGood',
};

/**
 * The sheet as the options give it; an entry of the file stands where no option is given.
 * @param file sheet of the rig file
 * @throws TrundleError `argument-invalid` naming the option and the value
 */
export function passFromOptions(
  values: Partial<ParsedArgs<typeof PASS_ARGS>>,
  file: PassSheet = {},
): PassSheet {
  const given: { readonly [Name in keyof PassSheet]: unknown } = {
    floor: values.floor,
    location: values.location,
    lane: values.lane,
    direction: values.direction?.toLowerCase(),
    setup: values.setup,
    wheels: values.wheels,
    track: values.track,
    passNumber: values['pass-number'] === undefined ? undefined : Number(values['pass-number']),
    operator: values.operator,
    production: values.production,
    unit: values.unit,
    roll: values['camera-roll'],
    slate: values.slate,
    take: values['take-number'],
    mark: values.mark === undefined ? undefined : (MARKS[values.mark.toLowerCase()] ?? values.mark),
    notes: values.notes,
    tags: values.tags === undefined ? undefined : [...new Set(someOf(values.tags, 'tags'))],
  };
  const sheet = Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined));
  const result = passSheetSchema.safeParse({ ...file, ...sheet });
  if (result.success) return result.data;
  const name = String(result.error.issues[0].path[0]) as keyof PassSheet;
  const option = OPTION_OF[name] ?? name;
  throw new TrundleError(
    'argument-invalid',
    `"--${option} ${values[option as keyof typeof PASS_ARGS] ?? ''}" will not do: ${RULES[name] ?? 'it must be a few words, at most 200 characters'}.`,
  );
}

/** Where the option is not called as the entry is. */
const OPTION_OF: Readonly<Partial<Record<keyof PassSheet, keyof typeof PASS_ARGS>>> = {
  passNumber: 'pass-number',
  roll: 'camera-roll',
  take: 'take-number',
};

const RULES: Readonly<Partial<Record<keyof PassSheet, string>>> = {
  direction: 'it is out or back',
  mark: 'it is good or no-good',
  passNumber: 'it must be a whole number from 1 to 9999',
  notes: 'at most 4000 characters',
  tags: 'at most 50 tags of at most 200 characters',
};
