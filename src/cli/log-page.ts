/** `trundle log page`: the log, or the runs of it that are asked for, as one HTML file. */
import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { defineCommand, type ArgsDef, type ParsedArgs } from 'citty';
import type { LogRow, RunLog } from '../log/index.js';
import { reportOf } from '../logged-report.js';
import { dataUri, renderLogPage, type ShownRun } from '../report/index.js';
import { EXIT, TrundleError, type ExitStatus } from '../run/index.js';
import type { Io } from './io.js';
import { FILTER_ARGS, queryFromOptions } from './log-filters.js';
import { unitsOf } from './report-options.js';
import { DATA_ARGS, noLogYet, placeOfLog, withLog } from './log-place.js';
import { localMinute } from './log-table.js';
import { writeWhole } from './write-whole.js';

/** A page with more runs would be slow to open on a phone. */
const MOST_RUNS = 500;
/** So many runs have a picture: each adds about 8 kB to the file. */
const MOST_PICTURES = 150;

const ARGS = {
  ...FILTER_ARGS,
  out: { type: 'string', valueHint: 'reports/log.html', description: 'file of the page' },
  units: { type: 'string', valueHint: 'metric', description: 'metric, imperial or both' },
  ...DATA_ARGS,
} as const satisfies ArgsDef;

/** The command; its `run` gives the exit status. */
export function logPageCommand(io: Io) {
  return defineCommand({
    meta: { name: 'page', description: 'write the log as a page: by floor, and every run with its report' },
    args: ARGS,
    async run({ args }): Promise<ExitStatus> {
      const query = queryFromOptions(args);
      const units = unitsOf(args.units) ?? 'metric';
      const file = args.out ?? path.join('reports', 'log.html');
      const text = await withLog(args['data-dir'], io, async (log) => {
        if (log === null) throw new TrundleError('log-entry-unknown', noLogYet(args['data-dir']));
        const rows = log.list(query);
        const shown = rows.slice(0, query.limit ?? MOST_RUNS);
        return renderLogPage({
          runs: await Promise.all(shown.map((row, i) => shownRun(log, row, i < MOST_PICTURES, file))),
          more: rows.length - shown.length,
          filter: filterWords(args),
          file: placeOfLog(args['data-dir']),
          atMinute: localMinute,
          units,
        });
      });
      if (args.out === undefined) await mkdir(path.dirname(file), { recursive: true });
      await writeWhole(file, text);
      io.out(`${file}\n`);
      return EXIT.measured;
    },
  });
}

async function shownRun(log: RunLog, row: LogRow, withPicture: boolean, page: string): Promise<ShownRun> {
  const report = await reportOf(row);
  const thumbnail = withPicture ? log.thumbnail(row.id) : null;
  return {
    run: row,
    reportHref: report === null ? null : hrefTo(report.page, page),
    thumbnailUri: thumbnail && dataUri(thumbnail, 'image/jpeg'),
  };
}

/** Relative where both lie below one folder, so that they may be moved together; the whole address otherwise. */
function hrefTo(report: string, page: string): string {
  const relative = path.relative(path.dirname(path.resolve(page)), path.resolve(report));
  if (relative.startsWith('..') || path.isAbsolute(relative)) return pathToFileURL(report).href;
  return relative.split(path.sep).map(encodeURIComponent).join('/');
}

/** What was asked for, as it was written. @example "floor dairy hall, grade fail" */
function filterWords(args: Partial<ParsedArgs<typeof ARGS>>): string {
  return Object.keys(FILTER_ARGS)
    .flatMap((name) => {
      const value = args[name as keyof typeof FILTER_ARGS];
      return value === undefined ? [] : [`${name} ${value}`];
    })
    .join(', ');
}
