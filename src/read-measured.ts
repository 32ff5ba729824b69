/** Reads a measured run with its series from disk: what later questions are computed from, without the clip. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { passOfRun, type MeasuredPass } from './judge/index.js';
import { readRun } from './read-run.js';
import { TrundleError, runSeriesSchema, type RunDocument, type RunSeries } from './run/index.js';

/** A run that questions can be asked of. */
export interface MeasuredRun {
  readonly run: RunDocument;
  readonly series: RunSeries;
  readonly pass: MeasuredPass;
}

/** The name of the series file in a run folder. */
const SERIES_FILE = 'series.json';

/**
 * Reads one run with its series.
 *
 * @param place a run folder or its run.json
 * @throws TrundleError `run-unreadable` when there is no such run; `run-invalid` when it is none, is of another version, or has no
 *   series of its own beside it
 */
export async function readMeasured(place: string): Promise<MeasuredRun> {
  const run = await readRun(place);
  const folder = (await fs.stat(place)).isDirectory() ? place : path.dirname(place);
  const series = runSeriesSchema.safeParse(await jsonOfFile(path.join(folder, SERIES_FILE)));
  if (!series.success)
    throw new TrundleError(
      'run-invalid',
      `"${place}" has no ${SERIES_FILE} that can be read beside its run.json; measure that clip again and give its report folder.`,
    );
  return joinSeries(run, series.data, place);
}

/**
 * A document with its series.
 * @throws TrundleError `run-invalid` when the two are not of one measurement, or the columns of the series are of different lengths
 */
export function joinSeries(run: RunDocument, series: RunSeries, place: string): MeasuredRun {
  if (series.clipSha256 !== run.clip.sha256 || series.createdAt !== run.createdAt)
    throw new TrundleError(
      'run-invalid',
      `The run.json and the ${SERIES_FILE} at "${place}" are of different measurements; measure that clip again.`,
    );
  if (!columnsFit(series))
    throw new TrundleError(
      'run-invalid',
      `The columns of the ${SERIES_FILE} at "${place}" are of different lengths; measure that clip again.`,
    );
  return { run, series, pass: passOfRun(run, series) };
}

/** Whether every axis has a value for each time: what is computed of some of them would be wrong without a word. */
function columnsFit({ motion }: RunSeries): boolean {
  const { timeS, path: way, vibration, noiseSd } = motion;
  const columns = [way, vibration, noiseSd].flatMap((axes): unknown[][] => Object.values(axes));
  return columns.every((column) => column.length === timeS.length);
}

async function jsonOfFile(file: string): Promise<unknown> {
  try {
    return JSON.parse(await fs.readFile(file, 'utf8'));
  } catch {
    return null;
  }
}
