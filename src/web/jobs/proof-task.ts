/** Renders a run of the log stabilised, into its report folder. */
import path from 'node:path';
import { openLog } from '../../log/index.js';
import { proveStored } from '../../prove.js';
import { TrundleError } from '../../run/index.js';
import { jobTexts } from '../../texts/index.js';
import { progressTeller } from './progress-teller.js';
import type { FromWorker, Outcome, ProofTask } from './protocol.js';
import { folderName, isFolder, makeFolder, removeIfEmpty } from './report-folder.js';

/** Of the file in the report folder. */
const FILE = 'proof.mp4';

/**
 * Does it; a proof that was there is replaced.
 *
 * @throws TrundleError as `proveStored`; `log-entry-unknown`, `log-entry-unreadable`, `run-invalid` without series
 */
export async function proofTask(
  task: ProofTask,
  tell: (message: FromWorker) => void,
  signal: AbortSignal,
): Promise<Outcome> {
  const log = openLog(task.logFile);
  let stored: ReturnType<typeof log.get>;
  try {
    stored = log.get(task.run);
  } finally {
    log.close();
  }
  const { row, run, series } = stored;
  if (series === null) throw new TrundleError('run-invalid', jobTexts.seriesMissing(task.run));
  const { folder, made } = await placeOf(task, row.reportFolder, row.clipFile);
  tell({ kind: 'writing', folder, made });
  const { layout, window, tools, threads } = task;
  const file = path.join(folder, FILE);
  try {
    const onProgress = progressTeller(tell);
    onProgress('probe', 0, null);
    await proveStored(
      { run, series, clip: task.clip },
      { file, layout, window },
      { signal, tools, threads, onRendered: (done, total) => onProgress('render', done, total) },
    );
  } catch (error) {
    if (made) await removeIfEmpty(folder);
    throw error;
  }
  return {
    ...{ run: task.run, grade: run.verdict.grade, sentence: jobTexts.proofAt(file), problem: null },
    ...{ sha256: null, changed: [] },
  };
}

/** The report folder of the run; where it is gone, one named after the run. */
async function placeOf(
  { outDir, run }: ProofTask,
  reportFolder: string | null,
  clipFile: string,
): Promise<{ folder: string; made: boolean }> {
  if (reportFolder !== null && (await isFolder(reportFolder))) return { folder: reportFolder, made: false };
  const folder = path.join(outDir, `${folderName(clipFile)}-run-${run}`);
  return { folder, made: await makeFolder(folder) };
}
