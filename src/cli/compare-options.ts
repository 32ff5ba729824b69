/** The options of `trundle compare`, and the comparison that they ask for. */
import type { ArgsDef, ParsedArgs } from 'citty';
import { parseCompareBy } from '../compare-grouping.js';
import type { CompareRequest } from '../compare.js';
import { COMPARE_BY, TrundleError, parseDurationS } from '../run/index.js';
import { PDF_ARGS, UNITS_ARGS } from './report-options.js';

/** What can be given. */
export const COMPARE_ARGS = {
  run: {
    type: 'positional',
    required: true,
    description:
      'two runs or more: report folders, folders of report folders, or the log: "log:floor=dairy hall", log:12,14',
  },
  by: {
    type: 'string',
    valueHint: 'setup',
    description: `what to group by: ${COMPARE_BY.join(', ')} (setup, or the first in which the runs differ)`,
  },
  setups: {
    type: 'string',
    valueHint: '"A,B,B,A"',
    description: 'names of the setups, one for each run in order; an empty one leaves what its sheet says',
  },
  lanes: {
    type: 'string',
    valueHint: '"1,1,2,2"',
    description: 'names of the lanes, likewise',
  },
  directions: {
    type: 'string',
    valueHint: '"out,back"',
    description: 'along the lane: out or back, likewise',
  },
  take: {
    type: 'string',
    valueHint: '60s',
    description: 'length of a take to foretell the crop for (60s)',
  },
  'out-dir': {
    type: 'string',
    valueHint: 'reports/wheels',
    description: 'folder for the comparison (reports/compare-<a>-<b>)',
  },
  ...UNITS_ARGS,
  ...PDF_ARGS,
  'data-dir': {
    type: 'string',
    valueHint: '~/trundle',
    description: 'folder of the log (the data folder of the user)',
  },
  json: {
    type: 'boolean',
    description: 'print the comparison as JSON and nothing else on standard output',
  },
  quiet: { type: 'boolean', description: 'no notes on standard error' },
} as const satisfies ArgsDef;

/** Shortest and longest take that a crop can be foretold for, seconds. */
const TAKE_S = { least: 1, most: 3600 };

/** The comparison that a command line asks for. @throws TrundleError `argument-invalid` */
export function compareRequest(args: ParsedArgs<typeof COMPARE_ARGS>): CompareRequest {
  return {
    places: args._,
    by: args.by === undefined ? null : parseCompareBy(args.by),
    setups: names(args.setups),
    lanes: names(args.lanes),
    directions: names(args.directions),
    takeS: args.take === undefined ? undefined : takeS(args.take),
    dataDir: args['data-dir'],
  };
}

function names(list: string | undefined): string[] | undefined {
  return list?.split(',').map((name) => name.trim());
}

function takeS(text: string): number {
  const seconds = parseDurationS(text);
  if (!(seconds >= TAKE_S.least && seconds <= TAKE_S.most))
    throw new TrundleError(
      'argument-invalid',
      `"--take ${text}" must lie between ${TAKE_S.least} s and ${TAKE_S.most} s.`,
    );
  return seconds;
}
