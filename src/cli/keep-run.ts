/** Keeps a measured run in the log; a log that cannot be written costs a line of warning, never the measurement. */
import path from 'node:path';
import { openLog } from '../log/index.js';
import { encodePicture, thumbnail, type ReportBundle } from '../report/index.js';
import { TrundleError } from '../run/index.js';
import type { Io } from './io.js';
import { placeOfLog } from './log-place.js';

/** Width of the pictures that runs are listed by, px. */
const THUMBNAIL_WIDTH_PX = 320;

/**
 * Keeps the run and tells its number.
 * @param folder where its report was written
 * @param dataDir folder of the log; the user's unless given
 * @returns a line that says what became of it, without its end; a failure is told in it
 */
export async function keepRun(
  { run, series, picture }: ReportBundle,
  folder: string,
  dataDir: string | undefined,
  io: Io,
): Promise<string> {
  try {
    const pictures = picture && {
      picture: await encodePicture(picture),
      thumbnail: await thumbnail(picture, THUMBNAIL_WIDTH_PX),
    };
    const log = openLog(placeOfLog(dataDir), {
      onWarning: ({ code, text }) => io.err(`${text} [${code}]\n`),
    });
    try {
      const kept = log.add({
        ...{ run, series, picture: null, thumbnail: null, ...pictures },
        reportFolder: path.resolve(folder),
      });
      const [first] = kept.replaced;
      const replaced =
        first === undefined ? '' : `; its report took the place of that of run ${kept.replaced.join(', ')}`;
      return `Log: run ${kept.id}${replaced}`;
    } finally {
      log.close();
    }
  } catch (error) {
    const code = error instanceof TrundleError ? ` [${error.code}]` : '';
    return `Not kept in the log: ${error instanceof Error ? error.message : String(error)}${code}`;
  }
}
