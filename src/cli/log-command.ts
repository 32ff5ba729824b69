/** `trundle log`: lists the runs that were measured, newest first; its subcommands show, open, describe and remove them. */
import { defineCommand, type ArgsDef, type ParsedArgs } from 'citty';
import { isInDataFolder, logCsv, type LogRow } from '../log/index.js';
import { EXIT, TrundleError, type ExitStatus, printableJson } from '../run/index.js';
import { COMMAND_META } from './command-meta.js';
import type { Io } from './io.js';
import { FILTER_ARGS, queryFromOptions } from './log-filters.js';
import { DATA_ARGS, noLogYet, placeOfLog, withLog } from './log-place.js';
import { logTable } from './log-table.js';
import { writeWhole } from './write-whole.js';

/** So many are shown on a terminal unless asked for more. */
const SHOWN = 50;

const ARGS = {
  ...FILTER_ARGS,
  csv: { type: 'boolean', description: 'as CSV with every figure at full precision' },
  json: { type: 'boolean', description: 'as JSON' },
  out: { type: 'string', valueHint: 'runs.csv', description: 'write that to a file (CSV unless --json)' },
  ...DATA_ARGS,
} as const satisfies ArgsDef;

/** The command; its `run` gives the exit status. */
export function logCommand(io: Io) {
  return defineCommand({
    meta: COMMAND_META.log,
    args: ARGS,
    subCommands: {
      list: () => Promise.resolve(logListCommand(io)),
      show: async () => (await import('./log-show.js')).logShowCommand(io),
      page: async () => (await import('./log-page.js')).logPageCommand(io),
      open: async () => (await import('./log-open.js')).logOpenCommand(io),
      tag: async () => (await import('./log-describe.js')).logTagCommand(io),
      set: async () => (await import('./log-describe.js')).logSetCommand(io),
      remove: async () => (await import('./log-remove.js')).logRemoveCommand(io),
      where: () => Promise.resolve(logWhereCommand(io)),
    },
    run: ({ args }): Promise<ExitStatus> => list(args, io),
  });
}

/** `trundle log list` is `trundle log`. */
function logListCommand(io: Io) {
  return defineCommand({
    meta: { name: 'list', description: 'list the runs, as trundle log does by itself' },
    args: ARGS,
    run: ({ args }): Promise<ExitStatus> => list(args, io),
  });
}

async function list(args: ParsedArgs<typeof ARGS>, io: Io): Promise<ExitStatus> {
  if (args.csv && args.json) throw new TrundleError('argument-invalid', 'Either --csv or --json, not both.');
  const query = queryFromOptions(args);
  const found = await withLog(args['data-dir'], io, (log) => log?.list(query) ?? null);
  const rows = found ?? [];
  const asData = args.csv || args.json || args.out !== undefined;
  if (!asData) {
    io.out(found === null ? `${noLogYet(args['data-dir'])}\n` : listText(rows, query.limit));
    return EXIT.measured;
  }
  if (found === null) io.err(`${noLogYet(args['data-dir'])}\n`);
  const text = args.json ? `${printableJson(rows, 2)}\n` : logCsv(rows);
  if (args.out === undefined) io.out(text);
  else {
    await writeWhole(args.out, text);
    io.err(`Written: ${args.out} (${runs(rows.length)})\n`);
  }
  return EXIT.measured;
}

function logWhereCommand(io: Io) {
  return defineCommand({
    meta: { name: 'where', description: 'print the path of the log' },
    args: DATA_ARGS,
    run({ args }): ExitStatus {
      const file = placeOfLog(args['data-dir']);
      const there = isInDataFolder(file);
      io.out(`${file}\n`);
      if (!there) io.err('Nothing is there yet; it begins with the first clip that is measured.\n');
      return EXIT.measured;
    },
  });
}

function listText(rows: readonly LogRow[], limit: number | undefined): string {
  if (rows.length === 0) return 'No run in the log fits.\n';
  const shown = rows.slice(0, limit ?? SHOWN);
  const more = rows.length - shown.length;
  const rest = more > 0 ? `\n${runs(more)} more; --limit ${rows.length} shows all.\n` : '';
  return logTable(shown) + rest;
}

/** @example runs(1) // "1 run" */
function runs(count: number): string {
  return `${count} run${count === 1 ? '' : 's'}`;
}
