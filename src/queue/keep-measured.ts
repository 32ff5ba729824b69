/** Takes one result out of its bytes into a report folder and the log; done twice it leaves one of each. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { jobKey } from '../batch/index.js';
import { holdPlace } from '../files/index.js';
import { keepInLog } from '../keep-run.js';
import { isInDataFolder, openLog } from '../log/index.js';
import { writeRun, type ReportBundle } from '../report/index.js';
import { restoreBundle } from '../restore-bundle.js';
import type { RunDocument, Warning } from '../run/index.js';
import { reportPlace } from './report-place.js';
import { unpackMeasured } from './results.js';

/** Held in the folder of reports while one is put there. */
const LOCK = '.collecting.lock';
/** Longer than any report takes to be written, ms. */
const HELD_MS = 30_000;

/** Where results go. */
export interface KeepPlace {
  readonly logFile: string;
  readonly outDir: string;
  /** Told when a damaged log was set aside. */
  readonly onWarning?: (warning: Warning) => void;
  /** Whether the log holds this clip with these settings. */
  isKept(clipSha256: string, settingsKey: string): boolean;
}

/** A result that is safe. */
export interface Collected {
  readonly name: string;
  readonly job: string;
  readonly run: RunDocument;
  readonly runId: number;
  /** Of its report; null where the log had it already. */
  readonly folder: string | null;
  readonly worker: string;
  /** True where the log had it already, and nothing was kept beside it. */
  readonly already: boolean;
}

/** The place of results, over the log of a file. */
export function keepPlace(given: Omit<KeepPlace, 'isKept'>): KeepPlace {
  return {
    ...given,
    isKept: (clipSha256, settingsKey) => runInLog(given.logFile, clipSha256, settingsKey) !== null,
  };
}

/** Which run of a log has measured a clip with these settings; null where none has. @throws TrundleError as `openLog` */
export function runInLog(file: string, clipSha256: string, settingsKey: string): number | null {
  if (!isInDataFolder(file)) return null;
  const log = openLog(file);
  try {
    return log.runOf(clipSha256, settingsKey);
  } finally {
    log.close();
  }
}

/** Writes the report where nobody else's is: between choosing the folder and filling it no other collector chooses it. @returns the folder */
async function writtenReport(
  outDir: string,
  name: string,
  bundle: ReportBundle,
  signal: AbortSignal | undefined,
): Promise<string> {
  // Where nothing can be written that is told by the report.
  const hold = await fs
    .mkdir(outDir, { recursive: true })
    .then(() => holdPlace(path.join(outDir, LOCK), HELD_MS))
    .catch(() => null);
  try {
    const folder = await reportPlace(outDir, name, bundle.run);
    await writeRun(folder, bundle, { signal });
    return folder;
  } finally {
    hold?.release();
  }
}

/**
 * Keeps it.
 * @returns null where the bytes are damaged, of another version, or not of this job
 * @throws TrundleError of the folder and the log
 */
export async function keepMeasured(
  job: string,
  packed: Uint8Array,
  place: KeepPlace,
  signal?: AbortSignal,
): Promise<Collected | null> {
  const measured = unpackMeasured(packed);
  if (measured === null || jobKey(measured.run.clip.sha256, measured.settingsKey) !== job) return null;
  const { run, series, name, settingsKey, worker } = measured;
  const earlier = runInLog(place.logFile, run.clip.sha256, settingsKey);
  if (earlier !== null) return { ...{ name, job, run, worker, folder: null }, runId: earlier, already: true };
  const jpeg = measured.jpeg === null ? null : Buffer.from(measured.jpeg, 'base64');
  const bundle = await restoreBundle(run, series, jpeg);
  const folder = await writtenReport(place.outDir, name, bundle, signal);
  const { logFile, onWarning } = place;
  const kept = await keepInLog(bundle, {
    ...{ logFile, reportFolder: folder, settingsKey, once: true },
    ...(onWarning && { onWarning }),
  });
  if ('failure' in kept) throw kept.failure;
  return { ...{ name, job, run, worker, folder }, runId: kept.id, already: kept.already === true };
}
