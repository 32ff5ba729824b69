/** Says in one line what became of a measured run in the log; a log that cannot be written costs a line of warning, never the measurement. */
import { keepInLog } from '../keep-run.js';
import type { ReportBundle } from '../report/index.js';
import { printable, TrundleError } from '../run/index.js';
import type { Io } from './io.js';
import { placeOfLog } from './log-place.js';

/** Where a run is kept, and as what. */
export interface KeepingPlace {
  /** Where its report was written. */
  readonly folder: string;
  /** Folder of the log; the user's unless given. */
  readonly dataDir: string | undefined;
  /** As `settingsKeyOf` gives it. */
  readonly settingsKey: string;
}

/**
 * Keeps the run and tells its number.
 * @returns a line that says what became of it, without its end; a failure is told in it
 */
export async function keepRun(
  bundle: ReportBundle,
  { folder, dataDir, settingsKey }: KeepingPlace,
  io: Io,
): Promise<string> {
  const kept = await keepInLog(bundle, {
    logFile: placeOfLog(dataDir),
    ...{ reportFolder: folder, settingsKey },
    onWarning: ({ code, text }) => io.err(`${printable(text)} [${code}]\n`),
  });
  if ('failure' in kept) {
    const { failure } = kept;
    const code = failure instanceof TrundleError ? ` [${failure.code}]` : '';
    return `Not kept in the log: ${failure.message}${code}`;
  }
  const replaced =
    kept.replaced.length === 0
      ? ''
      : `; its report took the place of that of run ${kept.replaced.join(', ')}`;
  return `Log: run ${kept.id}${replaced}`;
}
