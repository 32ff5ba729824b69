/** Measures one clip as ordered, writes its report folder and keeps the run in the log. */
import { settingsKey } from '../../batch/index.js';
import { keepInLog, type KeepOptions } from '../../keep-run.js';
import { measure } from '../../measure.js';
import { headline, writeRun } from '../../report/index.js';
import { TrundleError, type Warning } from '../../run/index.js';
import { readSettings } from '../../settings/index.js';
import { jobTexts } from '../../texts/index.js';
import type { Problem } from '../api.js';
import { WebProblem, problemOf } from '../server/problem.js';
import { lookTeller, TraceTeller } from './looks-on.js';
import { progressTeller } from './progress-teller.js';
import type { FromWorker, MeasureTask, Outcome } from './protocol.js';
import { folderName, makeOwnFolder, removeIfEmpty } from './report-folder.js';

/**
 * Does it. The report folder is made first, so that one that cannot be written is told before the long work.
 *
 * @throws TrundleError as `readSettings`, `measure` and `writeRun`; the folder is then gone
 */
export async function measureTask(
  task: MeasureTask,
  tell: (message: FromWorker) => void,
  signal: AbortSignal,
): Promise<Outcome> {
  const { clip, name, settings, presets, tools, threads } = task;
  const wish = readSettings(settings, { presets });
  const folder = await makeOwnFolder(task.outDir, folderName(name));
  tell({ kind: 'writing', folder, made: true });
  try {
    const onProgress = progressTeller(tell);
    const trace = new TraceTeller(tell);
    const bundle = await measure(
      { clip, ...wish },
      {
        ...{ signal, tools, threads, onLook: lookTeller(tell), onAngles: (angles) => trace.add(angles) },
        onProgress(stage, done, total) {
          if (stage !== 'track') trace.flush();
          onProgress(stage, done, total);
        },
      },
    );
    onProgress('write', 0, null);
    await writeRun(folder, bundle, { signal });
    const { run } = bundle;
    const said = { grade: run.verdict.grade, sentence: headline(run).sentence, sha256: run.clip.sha256 };
    const place = { logFile: task.logFile, reportFolder: folder, settingsKey: settingsKey(wish) };
    return { ...said, ...(await kept(bundle, place)) };
  } catch (error) {
    await removeIfEmpty(folder);
    throw inTheCrewsWords(error, clip, name);
  }
}

/** A run that cannot be kept costs nothing but a word: its report stands. */
async function kept(
  bundle: Parameters<typeof keepInLog>[0],
  place: Omit<KeepOptions, 'onWarning' | 'reportFolder'> & { readonly reportFolder: string },
): Promise<Pick<Outcome, 'run' | 'changed' | 'problem'>> {
  const warnings: Warning[] = [];
  const keeping = await keepInLog(bundle, {
    ...place,
    onWarning: (warning) => warnings.push(warning),
  });
  if ('failure' in keeping) {
    const why = problemOf(keeping.failure);
    const problem: Problem = {
      ...why,
      detail: jobTexts.notInLog(place.reportFolder, keeping.failure.message),
    };
    return { run: null, changed: [], problem };
  }
  const [warning] = warnings;
  return {
    run: keeping.id,
    changed: [keeping.id, ...keeping.replaced],
    problem: warning ? problemOf(new WebProblem(422, warning.code, warning.text)) : null,
  };
}

/** The place of a copy means nothing to the crew, the name of the clip does. */
function inTheCrewsWords(error: unknown, clip: string, name: string): unknown {
  if (!(error instanceof TrundleError)) return error;
  return new TrundleError(error.code, error.message.replaceAll(clip, name), { cause: error });
}
