/** Which log a command works on, opened for as long as it takes; and the numbers of runs on its command line. */
import os from 'node:os';
import type { ArgsDef } from 'citty';
import { isInDataFolder, logFile, openLog, type RunLog } from '../log/index.js';
import { printable, TrundleError } from '../run/index.js';
import type { Io } from './io.js';

/** The option that names the folder of the log. */
export const DATA_ARGS = {
  'data-dir': {
    type: 'string',
    valueHint: '~/trundle',
    description: 'folder of the log and of deliveries.json (TRUNDLE_DATA, or the data folder of the user)',
  },
} as const satisfies ArgsDef;

/** Where the log of this command is, whether it exists or not. */
export function placeOfLog(dataDir: string | undefined): string {
  return logFile(dataDir, process.env, process.platform, os.homedir());
}

/**
 * Opens the log, works on it and closes it, whatever happens. A log that is not there is not made: `work` gets null.
 * @throws TrundleError with the codes of `openLog`; `argument-invalid` where the folder is none
 */
export async function withLog<T>(
  dataDir: string | undefined,
  io: Io,
  work: (log: RunLog | null) => Promise<T> | T,
): Promise<T> {
  const file = placeOfLog(dataDir);
  if (!isInDataFolder(file)) return await work(null);
  const log = openLog(file, { onWarning: ({ code, text }) => io.err(`${printable(text)} [${code}]\n`) });
  try {
    return await work(log);
  } finally {
    log.close();
  }
}

/** As `withLog`, for what needs a run that is there. @throws TrundleError `log-entry-unknown` where there is no log */
export function withRuns<T>(
  dataDir: string | undefined,
  io: Io,
  work: (log: RunLog) => Promise<T> | T,
): Promise<T> {
  return withLog(dataDir, io, (log) => {
    if (log) return work(log);
    throw new TrundleError('log-entry-unknown', noLogYet(dataDir));
  });
}

/** What is said where the log of this command is not there. */
export function noLogYet(dataDir: string | undefined): string {
  return `There is no log at "${placeOfLog(dataDir)}" yet; it begins with the first clip that is measured.`;
}

/** The numbers of runs on a command line: "12 14" or "12,14". @throws TrundleError `argument-invalid` */
export function idsOf(words: readonly string[]): number[] {
  const ids = words.flatMap((word) => word.split(',')).filter((word) => word !== '');
  for (const id of ids)
    if (!/^[1-9]\d{0,8}$/.test(id))
      throw new TrundleError(
        'argument-invalid',
        `"${id}" is not the number of a run; see the first column of trundle log.`,
      );
  return [...new Set(ids.map(Number))];
}

/** The one number on a command line. @throws TrundleError `argument-invalid` */
export function oneId(words: readonly string[]): number {
  const [id, more] = idsOf(words);
  if (id === undefined || more !== undefined)
    throw new TrundleError(
      'argument-invalid',
      'Give the number of one run, as trundle log shows it, like 4.',
    );
  return id;
}
