/** The report of a run that the log keeps: where it was written if it is still there, and everything to write it anew from. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import type { LogRow, LoggedRun } from './log/index.js';
import type { ReportBundle } from './report/index.js';
import { restoreBundle } from './restore-bundle.js';
import { TrundleError, type PassSheet } from './run/index.js';

/** A report folder that holds the report of the run that the log says. */
export interface KeptReport {
  readonly folder: string;
  readonly page: string;
  /** False where the log has another sheet by now: a folder keeps the one that it was written with. */
  readonly sheetIsCurrent: boolean;
}

/** The report of a run where it was written, while that is still of this run; null otherwise. */
export async function reportOf(row: LogRow): Promise<KeptReport | null> {
  const { reportFolder: folder, createdAt, clipSha256, pass } = row;
  if (folder === null) return null;
  try {
    const text = await fs.readFile(path.join(folder, 'run.json'), 'utf8');
    const run = JSON.parse(text) as { createdAt?: unknown; clip?: { sha256?: unknown }; pass?: PassSheet };
    const page = path.join(folder, 'report.html');
    await fs.access(page);
    if (run.createdAt !== createdAt || run.clip?.sha256 !== clipSha256) return null;
    return { folder, page, sheetIsCurrent: isDeepStrictEqual(inOrder(run.pass ?? {}), inOrder(pass)) };
  } catch {
    return null;
  }
}

/**
 * Everything that the report of a kept run is written from.
 * @throws TrundleError `log-entry-unreadable` when it was kept without its series
 */
export function bundleOfLogged({ row, run, series, picture }: LoggedRun): Promise<ReportBundle> {
  if (series === null)
    throw new TrundleError(
      'log-entry-unreadable',
      `Run ${row.id} of the log was kept without its series, so its report cannot be written anew; measure "${row.clipFile}" again.`,
    );
  return restoreBundle(run, series, picture);
}

/** The log gives tags in the order of the alphabet, once each. */
function inOrder({ tags = [], ...sheet }: PassSheet): PassSheet {
  return { ...sheet, tags: [...new Set(tags)].sort() };
}
