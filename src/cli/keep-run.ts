/** Says in one line what became of a measured run in the log; a log that cannot be written costs a line of warning, never the measurement. */
import { keepInLog } from '../keep-run.js';
import type { ReportBundle } from '../report/index.js';
import { printable, TrundleError } from '../run/index.js';
import type { Io } from './io.js';
import { placeOfLog } from './log-place.js';

/**
 * Keeps the run and tells its number.
 * @param folder where its report was written
 * @param dataDir folder of the log; the user's unless given
 * @returns a line that says what became of it, without its end; a failure is told in it
 */
export async function keepRun(
  bundle: ReportBundle,
  folder: string,
  dataDir: string | undefined,
  io: Io,
): Promise<string> {
  const kept = await keepInLog(bundle, {
    logFile: placeOfLog(dataDir),
    reportFolder: folder,
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
