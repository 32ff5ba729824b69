/** The line of `trundle whatif`: a stored run and a wish -> what it would cost and leave. No clip is opened, and nothing decoded. */
import fs from 'node:fs';
import path from 'node:path';
import { whatIf, type DeliveryPresets, type WhatIfWish } from './judge/index.js';
import { checkPlaceOfRun } from './place-of-run.js';
import { joinSeries, readMeasured, type MeasuredRun } from './read-measured.js';
import { TrundleError, WHAT_IF_SCHEMA, type WhatIfDocument } from './run/index.js';
import { toolVersion } from './tool-version.js';

/** Where to look, besides the place itself. */
export interface WhatIfSources {
  /** Deliveries by name; the built-in ones unless given. */
  readonly presets?: DeliveryPresets;
  /** The file of the log, for places like "log:12". */
  readonly logFile?: string;
}

/** An answer, and the folder of the run that it was given on; null when the run has none. */
export interface AskedWhatIf {
  readonly answer: WhatIfDocument;
  readonly folder: string | null;
}

/** What the number of a run in the log begins with. */
const LOG_PREFIX = 'log:';

/**
 * Asks a measured run.
 *
 * @param place a report folder, its run.json, or a run of the log by its number: "log:12"
 * @throws TrundleError `run-unreadable`, `run-invalid` when there is no run that can be asked; `argument-invalid` on a wish that does
 *   not fit the clip; codes of the log
 */
export async function askWhatIf(
  place: string,
  wish: WhatIfWish,
  { presets, logFile }: WhatIfSources = {},
): Promise<AskedWhatIf> {
  const { run, pass, folder } = place.startsWith(LOG_PREFIX)
    ? await runOfLog(place, logFile)
    : await runOfFolder(place);
  try {
    const answer = whatIf(pass, wish, { verdict: run.verdict, ...(presets && { presets }) });
    const { file, sha256 } = run.clip;
    return {
      answer: {
        schema: WHAT_IF_SCHEMA,
        tool: toolVersion(),
        run: { place, clip: file, sha256, createdAt: run.createdAt, units: run.units, pass: run.pass },
        ...answer,
      },
      folder,
    };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new TrundleError('argument-invalid', `This does not fit the clip: ${error.message}.`, {
      cause: error,
    });
  }
}

type Found = MeasuredRun & { readonly folder: string | null };

async function runOfFolder(place: string): Promise<Found> {
  checkPlaceOfRun(place, 'whatif');
  const measured = await readMeasured(place);
  return { ...measured, folder: fs.statSync(place).isDirectory() ? place : path.dirname(place) };
}

async function runOfLog(place: string, file: string | undefined): Promise<Found> {
  const number = place.slice(LOG_PREFIX.length);
  if (!/^[1-9]\d{0,8}$/.test(number))
    throw new TrundleError(
      'argument-invalid',
      `"${place}" is not one run of the log; give its number, like log:12.`,
    );
  // A log that is not there is not made for being asked.
  if (file === undefined || !fs.existsSync(file))
    throw new TrundleError('run-unreadable', `There is no log with a run ${number}; see "trundle log".`);
  // The engine of the log is loaded when it is asked.
  const { openLog } = await import('./log/index.js');
  const log = openLog(file);
  try {
    const { run, series, row } = log.get(Number(number));
    if (series === null)
      throw new TrundleError(
        'run-invalid',
        `Run ${number} of the log was kept without its series; measure that clip again.`,
      );
    return { ...joinSeries(run, series, place), folder: row.reportFolder };
  } finally {
    log.close();
  }
}
