/** Finds the runs that a comparison asks for: report folders, run.json files, folders that hold report folders, questions to the log. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { checkPlaceOfRun } from './place-of-run.js';
import { joinSeries, readMeasured, type MeasuredRun } from './read-measured.js';
import { openLog, parseLogQuery } from './log/index.js';
import { TrundleError, type Warning } from './run/index.js';

/** A run with where it came from: a folder or file, or its number in the log. */
export interface PlacedRun extends MeasuredRun {
  readonly place: string;
}

/** What a question to the log begins with. */
const LOG_PREFIX = 'log:';

/**
 * Reads every run that the places name, in their order; runs of a folder or of the log come in the order of their names or numbers.
 * A run that is named twice is read once. Before any run is read every number of the log is looked up.
 *
 * @param log file of the log
 * @throws TrundleError `run-unreadable`, `run-invalid` for a place without a run that can be compared; `log-entry-unknown` for a number
 *   that the log does not have, and the other codes of the log
 */
export async function readPlaces(
  places: readonly string[],
  log: string,
  onWarning: (warning: Warning) => void,
): Promise<PlacedRun[]> {
  await checkNumbers(places, log, onWarning);
  const runs: PlacedRun[] = [];
  for (const place of places) {
    const found = place.startsWith(LOG_PREFIX)
      ? await runsOfLog(place.slice(LOG_PREFIX.length), log, onWarning)
      : await Promise.all(
          (await expanded(place)).map(async (one) => ({ place: one, ...(await readMeasured(one)) })),
        );
    runs.push(...found);
  }
  const seen = new Set<string>();
  return runs.filter(({ run }) => {
    const key = `${run.clip.sha256} ${run.createdAt}`;
    const first = !seen.has(key);
    seen.add(key);
    return first;
  });
}

/** A number that is missing would otherwise leave a comparison of fewer runs than were asked for. */
async function checkNumbers(
  places: readonly string[],
  file: string,
  onWarning: (warning: Warning) => void,
): Promise<void> {
  const ids = places
    .filter((place) => place.startsWith(LOG_PREFIX))
    .flatMap((place) => parseLogQuery(place.slice(LOG_PREFIX.length)).ids ?? []);
  if (ids.length === 0) return;
  // A log that is not there is not made for being asked.
  if (!(await fs.stat(file).catch(() => null)))
    throw new TrundleError(
      'log-entry-unknown',
      `There is no run ${ids[0]} in the log, which is empty. See trundle log.`,
    );
  const log = openLog(file, { onWarning });
  try {
    log.rows(ids);
  } finally {
    log.close();
  }
}

/** A folder that is no run but holds some stands for them. */
async function expanded(place: string): Promise<string[]> {
  checkPlaceOfRun(place, 'compare');
  const entries = await fs.readdir(place, { withFileTypes: true }).catch(() => null);
  if (entries === null || entries.some(({ name }) => name === 'run.json')) return [place];
  const within: string[] = [];
  for (const { name } of entries.filter((entry) => entry.isDirectory() && !entry.name.startsWith('.'))) {
    const folder = path.join(place, name);
    if (await fs.stat(path.join(folder, 'run.json')).catch(() => null)) within.push(folder);
  }
  if (within.length === 0)
    throw new TrundleError(
      'run-unreadable',
      `The folder "${place}" is no report folder and holds none; give the folders that "trundle measure" wrote.`,
    );
  return within.sort((a, b) => a.localeCompare(b, 'en', { numeric: true }));
}

/** Runs that the log keeps, in the order of their numbers. */
async function runsOfLog(
  question: string,
  file: string,
  onWarning: (warning: Warning) => void,
): Promise<PlacedRun[]> {
  const query = parseLogQuery(question);
  const none = (): TrundleError =>
    new TrundleError(
      'run-unreadable',
      `The log has no run for "${LOG_PREFIX}${question}"; see what it has with "trundle log".`,
    );
  // A log that is not there is not made for being asked.
  if (!(await fs.stat(file).catch(() => null))) throw none();
  const log = openLog(file, { onWarning });
  try {
    const rows = log.list(query);
    if (rows.length === 0) throw none();
    return rows
      .map(({ id }) => id)
      .sort((a, b) => a - b)
      .map((id) => {
        const place = `${LOG_PREFIX}${id}`;
        const { run, series } = log.get(id);
        if (series === null)
          throw new TrundleError(
            'run-invalid',
            `Run ${id} of the log was kept without its series; measure that clip again to compare it.`,
          );
        return { place, ...joinSeries(run, series, place) };
      });
  } finally {
    log.close();
  }
}
