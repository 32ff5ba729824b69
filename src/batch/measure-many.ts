/** Measures the clips of files and folders, and of folders as they fill: the whole of a batch, from the places to what became of each clip. */
import { sha256OfFile, type Tools } from '../footage/index.js';
import { openLog, type RunLog } from '../log/index.js';
import type { MeasureRequest } from '../measure-request.js';
import type { PrintPaper } from '../report/index.js';
import { TrundleError, type Warning } from '../run/index.js';
import {
  runBatch,
  type BatchClip,
  type BatchMeans,
  type BatchResult,
  type BatchWatcher,
  type KeptClip,
} from './batch.js';
import { figuresOf } from './clip-figures.js';
import { inBatch, listClips, sortPlaces } from './clip-list.js';
import { failureOf, type ClipFailure } from './failure.js';
import { settingsKeyOf } from './job-key.js';
import { startMeasuring } from './measure-process.js';
import { ReportPlaces } from './report-places.js';
import { watchFolders, type WatchOptions } from './watch-folders.js';
import type { WorkMeans } from './work-process.js';

/** What is to be measured, and how. */
export interface MeasureManyOptions {
  /** Clips and folders. */
  readonly places: readonly string[];
  /** Whether folders below are looked into. */
  readonly recursive: boolean;
  /** Whether folders are watched until `drain`. */
  readonly watch: boolean;
  /** Folder of the report folders. */
  readonly outDir: string;
  /** The log that is asked and that keeps; null for neither. */
  readonly logFile: string | null;
  /** Whether a clip is measured that the log has already. */
  readonly again: boolean;
  readonly atOnce: number;
  readonly threads: number;
  readonly paper: PrintPaper | undefined;
  readonly tools: Tools;
  /** Whether run documents are wanted. */
  readonly withDocuments: boolean;
  /** What is asked of a clip. @throws TrundleError, which is then what became of the clip */
  readonly requestFor: (clip: string) => MeasureRequest;
  readonly watcher: BatchWatcher;
  /** Told what concerns no clip: a log that was set aside, a folder that cannot be looked into while it is watched. */
  readonly onWarning: (warning: Pick<Warning, 'code' | 'text'>) => void;
  /** Told before the first clip of files that hold what clips hold, but are not called like clips; never of none. */
  readonly onUnnamed: (files: readonly string[]) => void;
  readonly drain: AbortSignal;
  readonly giveUp: AbortSignal;
  /** Other ways than the usual ones, for tests. */
  readonly means?: Partial<Pick<BatchMeans, 'start'>> &
    Partial<WorkMeans> &
    Partial<Pick<WatchOptions, 'settleMs' | 'everyMs'>>;
}

/** What became of everything. */
export interface MeasuredMany {
  readonly clips: BatchResult;
  /** Places that gave no clip. */
  readonly places: readonly { readonly path: string; readonly failure: ClipFailure }[];
}

/**
 * Does it.
 * @throws TrundleError of the log where it cannot be opened
 */
export async function measureMany(options: MeasureManyOptions): Promise<MeasuredMany> {
  const { outDir, logFile, onWarning, drain, recursive } = options;
  const find = { recursive, leaveOut: [outDir], signal: drain };
  const sorted = await sortPlaces(options.places);
  const listed = await listClips(sorted, find);
  if (listed.unnamed.length > 0) options.onUnnamed(listed.unnamed);
  // What is there already comes to a watcher, too.
  const { clips, failures } = options.watch ? { clips: [], failures: [] } : listed;
  const places = new ReportPlaces(outDir);
  for (const { relative } of clips) places.expect(relative);
  const log = logFile === null ? null : openLog(logFile, { onWarning });
  try {
    const source = options.watch
      ? watched(sorted.files, sorted.folders, { ...find, ...options.means, onBarred: barredTo(onWarning) })
      : atOnce(clips);
    return {
      clips: await runBatch(source, meansOf(options, log, places)),
      places: failures.map(({ path, failure }) => ({ path, failure: failureOf(failure) })),
    };
  } finally {
    log?.close();
  }
}

function meansOf(options: MeasureManyOptions, log: RunLog | null, places: ReportPlaces): BatchMeans {
  const { logFile, again, paper, tools, threads, withDocuments, drain } = options;
  return {
    ...{ atOnce: options.atOnce, watcher: options.watcher, drain, giveUp: options.giveUp },
    async prepare({ path }) {
      const request = options.requestFor(path);
      return { request, settingsKey: await settingsKeyOf(request) };
    },
    sha256Of: (file) => sha256OfFile(file, drain),
    known: (sha256, settingsKey) =>
      log === null || again ? null : keptIn(log, sha256, settingsKey, withDocuments),
    placeOf: ({ relative }, sha256) => places.of(relative, sha256),
    start: ({ request, folder, settingsKey }, onProgress) =>
      startMeasuring(
        {
          ...{ request, folder, paper, tools, threads, withDocument: withDocuments },
          keep: logFile === null ? null : { logFile, settingsKey, once: !again },
        },
        onProgress,
        options.means,
      ),
    ...(options.means?.start && { start: options.means.start }),
  };
}

/** What the log has; a run that it cannot give back is none. */
function keptIn(log: RunLog, sha256: string, settingsKey: string, withDocument: boolean): KeptClip | null {
  try {
    const run = log.runOf(sha256, settingsKey);
    if (run === null) return null;
    const { row, run: document } = log.get(run);
    return {
      ...{ run, figures: figuresOf(document), folder: row.reportFolder },
      document: withDocument ? document : null,
    };
  } catch (error) {
    if (error instanceof TrundleError) return null;
    throw error;
  }
}

async function* atOnce(clips: readonly BatchClip[]): AsyncGenerator<readonly BatchClip[]> {
  yield await Promise.resolve(clips);
}

async function* watched(
  files: readonly BatchClip[],
  folders: readonly string[],
  options: WatchOptions,
): AsyncGenerator<readonly BatchClip[]> {
  if (files.length > 0) yield files;
  for await (const clips of watchFolders(folders, options))
    yield clips.map((clip) => inBatch(clip, clip.folder, folders));
}

function barredTo(onWarning: MeasureManyOptions['onWarning']): WatchOptions['onBarred'] {
  return ({ failure }) => onWarning({ code: failure.code, text: failure.message });
}
