/** `trundle log tag` and `trundle log set`: what the crew writes on runs after they were measured. */
import { defineCommand, type ArgsDef } from 'citty';
import type { LogRow, SheetChange } from '../log/index.js';
import { EXIT, TrundleError, nearestName, type ExitStatus } from '../run/index.js';
import { passOf } from '../settings/index.js';
import type { Io } from './io.js';
import { DATA_ARGS, idsOf, withRuns } from './log-place.js';
import { logTable } from './log-table.js';
import { OPTION_NAMING, settingsGiven, someOf } from './option-naming.js';
import { PASS_ARGS } from './pass-options.js';

const RUNS = {
  type: 'positional',
  required: true,
  valueHint: '4 7',
  description: 'numbers of the runs',
} as const;

const TAG_ARGS = {
  runs: RUNS,
  add: { type: 'string', valueHint: 'night,rail', description: 'tags to put on, between commas' },
  remove: { type: 'string', valueHint: 'wet', description: 'tags to take off, between commas' },
  ...DATA_ARGS,
} as const satisfies ArgsDef;

const { tags, ...SHEET_ARGS } = PASS_ARGS;
void tags; // put on and taken off one by one

const SET_ARGS = {
  runs: RUNS,
  ...SHEET_ARGS,
  clear: { type: 'string', valueHint: 'lane,notes', description: 'entries to take off, between commas' },
  ...DATA_ARGS,
} as const satisfies ArgsDef;

/** Entries of the sheet by the names of their options. */
const ENTRIES: Readonly<Record<keyof typeof SHEET_ARGS, keyof SheetChange>> = {
  floor: 'floor',
  location: 'location',
  lane: 'lane',
  direction: 'direction',
  setup: 'setup',
  wheels: 'wheels',
  track: 'track',
  'pass-number': 'passNumber',
  operator: 'operator',
  production: 'production',
  unit: 'unit',
  'camera-roll': 'roll',
  slate: 'slate',
  'take-number': 'take',
  mark: 'mark',
  notes: 'notes',
};

/** Puts tags on runs and takes others off; its `run` gives the exit status. */
export function logTagCommand(io: Io) {
  return defineCommand({
    meta: { name: 'tag', description: 'put tags on runs, or take them off' },
    args: TAG_ARGS,
    async run({ args }): Promise<ExitStatus> {
      const ids = idsOf(args._);
      const add = someOf(args.add, 'add');
      const remove = someOf(args.remove, 'remove');
      if (add.length + remove.length === 0)
        throw new TrundleError('argument-invalid', 'Give tags with --add or --remove.');
      await changed(ids, args['data-dir'], io, (log, id) => log.tag(id, add, remove));
      return EXIT.measured;
    },
  });
}

/** Writes on the sheets of runs; its `run` gives the exit status. */
export function logSetCommand(io: Io) {
  return defineCommand({
    meta: { name: 'set', description: 'write on the sheets of runs: floor, lane, setup, notes and the rest' },
    args: SET_ARGS,
    async run({ args }): Promise<ExitStatus> {
      const ids = idsOf(args._);
      const cleared = someOf(args.clear, 'clear').map((name) => [entryNamed(name), null] as const);
      const change: SheetChange = {
        ...passOf(settingsGiven(args), {}, OPTION_NAMING),
        ...Object.fromEntries(cleared),
      };
      if (Object.keys(change).length === 0)
        throw new TrundleError(
          'argument-invalid',
          'Give what to write, like --setup "soft tyres", or --clear.',
        );
      const rows = await changed(ids, args['data-dir'], io, (log, id) => log.describe(id, change));
      const kept = rows.filter(({ reportFolder }) => reportFolder !== null).map(({ id }) => id);
      if (kept.length > 0) io.err(`${keepsOldSheet(kept)}\n`);
      return EXIT.measured;
    },
  });
}

type OpenLog = Parameters<Parameters<typeof withRuns>[2]>[0];

/** A report folder is left as it was written, its run.json too: who compares the folder does not get what was set here. */
function keepsOldSheet(ids: readonly number[]): string {
  const [folders, sheets, ones] =
    ids.length > 1 ? ['folders keep', 'sheets', 'ones'] : ['folder keeps', 'sheet', 'one'];
  return `The report ${folders} the old ${sheets}; compare log:${ids.join(',')} uses the new ${ones}.`;
}

/**
 * Changes each run and shows them; none is changed when one of them is not there.
 * @returns the runs as they are listed now
 */
async function changed(
  ids: readonly number[],
  dataDir: string | undefined,
  io: Io,
  change: (log: OpenLog, id: number) => LogRow,
): Promise<LogRow[]> {
  const rows = await withRuns(dataDir, io, (log) => {
    log.rows(ids);
    return ids.map((id) => change(log, id));
  });
  io.out(logTable(rows));
  return rows;
}

function entryNamed(name: string): keyof SheetChange {
  const options = Object.keys(ENTRIES);
  if (name in ENTRIES) return ENTRIES[name as keyof typeof ENTRIES];
  throw new TrundleError(
    'argument-unknown',
    `The sheet has no entry "${name}"; the nearest is "${nearestName(name, options)}".`,
  );
}
