/** Keeps a measured run in the log with its pictures; a log that cannot be written costs a word, never the measurement. */
import path from 'node:path';
import { openLog, type Kept, type LogEntry } from './log/index.js';
import { encodePicture, thumbnail, type ReportBundle } from './report/index.js';
import type { Warning } from './run/index.js';

/** Width of the pictures that runs are listed by, px. */
const THUMBNAIL_WIDTH_PX = 320;

/** What became of a run. */
export type Keeping = Kept | { readonly failure: Error };

/** Where a run is kept, and who is told of what the log met. */
export interface KeepOptions {
  /** The database file. */
  readonly logFile: string;
  /** Where the report of the run was written; null for nowhere. */
  readonly reportFolder: string | null;
  /** What it was measured with, as `settingsKeyOf` gives it, so that it need not be measured again; null where that is not known. */
  readonly settingsKey: string | null;
  /** Whether a run of the same clip and settings that is kept already stands for this one; beside it unless set. */
  readonly once?: boolean | undefined;
  /** Told when a damaged log was set aside (code `log-damaged`). */
  readonly onWarning?: (warning: Warning) => void;
}

/**
 * Keeps the run in the log, which is made when it is not there.
 * @returns its number and the runs whose report folder it took, or why it is not kept; never throws
 */
export async function keepInLog(
  { run, series, picture }: ReportBundle,
  { logFile, reportFolder, settingsKey, once = false, onWarning = () => {} }: KeepOptions,
): Promise<Keeping> {
  try {
    const pictures = picture && {
      picture: await encodePicture(picture),
      thumbnail: await thumbnail(picture, THUMBNAIL_WIDTH_PX),
    };
    const log = openLog(logFile, { onWarning });
    try {
      const entry: LogEntry = {
        ...{ run, series, settingsKey, picture: null, thumbnail: null, ...pictures },
        reportFolder: reportFolder === null ? null : path.resolve(reportFolder),
      };
      return once ? log.addOnce(entry) : log.add(entry);
    } finally {
      log.close();
    }
  } catch (error) {
    return { failure: error instanceof Error ? error : new Error(String(error)) };
  }
}
