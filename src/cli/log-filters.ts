/** The options that say which runs of the log are meant. */
import type { ArgsDef, ParsedArgs } from 'citty';
import { NAME_FILTERS, queryOf, type LogQuery } from '../log/index.js';
import { someOf } from './option-naming.js';

/** Options that narrow the list; all that are given must hold. */
export const FILTER_ARGS = {
  floor: { type: 'string', valueHint: '"dairy hall"', description: 'only this floor' },
  location: { type: 'string', valueHint: '"old dairy"', description: 'only this location' },
  lane: { type: 'string', valueHint: '2', description: 'only this lane' },
  direction: { type: 'string', valueHint: 'back', description: 'only passes out, or back' },
  setup: { type: 'string', valueHint: '"soft tyres"', description: 'only this setup' },
  wheels: { type: 'string', valueHint: '"80 mm rubber"', description: 'only these wheels' },
  track: { type: 'string', valueHint: 'plywood', description: 'only on these boards or this rail' },
  operator: { type: 'string', valueHint: 'Mara', description: 'only driven by' },
  production: { type: 'string', valueHint: '"Night Shift"', description: 'only of this production' },
  unit: { type: 'string', valueHint: '"second unit"', description: 'only of this unit' },
  'camera-roll': { type: 'string', valueHint: 'A004', description: 'only of this camera roll' },
  slate: { type: 'string', valueHint: '27B', description: 'only of this slate' },
  'take-number': { type: 'string', valueHint: '2', description: 'only of this take' },
  mark: { type: 'string', valueHint: 'good', description: 'only marked good, or no-good' },
  delivery: { type: 'string', valueHint: 'phone', description: 'only judged against this delivery' },
  grade: { type: 'string', valueHint: 'fail', description: 'only pass, marginal, fail or unmeasurable' },
  tag: { type: 'string', valueHint: 'night,wet', description: 'only with all these tags' },
  clip: { type: 'string', valueHint: 'A004_C012', description: "only this part of the clip's name" },
  text: { type: 'string', valueHint: 'joint', description: 'only with these words anywhere on the sheet' },
  since: { type: 'string', valueHint: '2031-03-01', description: 'only measured on this day or later' },
  until: { type: 'string', valueHint: '2031-03-14', description: 'only measured on this day or earlier' },
  limit: { type: 'string', valueHint: '200', description: 'at most so many, newest first' },
} as const satisfies ArgsDef;

/** Where the option is not called as the condition is. */
const OPTION_OF = { roll: 'camera-roll', take: 'take-number' } as const;

/** The query that the options ask for. @throws TrundleError `argument-invalid` */
export function queryFromOptions(values: Partial<ParsedArgs<typeof FILTER_ARGS>>): LogQuery {
  const named = [...NAME_FILTERS, 'grade', 'clip', 'text', 'since', 'until', 'limit'] as const;
  const conditions = named.flatMap((name): [string, string][] => {
    const option = name in OPTION_OF ? OPTION_OF[name as keyof typeof OPTION_OF] : name;
    const value = values[option as keyof typeof FILTER_ARGS];
    return value === undefined ? [] : [[name, value]];
  });
  return queryOf([...conditions, ...someOf(values.tag, 'tag').map((tag): [string, string] => ['tag', tag])]);
}
