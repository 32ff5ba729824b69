/** What passes and lanes differ by, as the repeats in the log show it; what is assumed where it has too few. */
import fs from 'node:fs/promises';
import { openLog, type LogRow, type RunLog } from './log/index.js';
import {
  ASSUMED_SPREADS,
  passOfRun,
  spreadsFromRepeats,
  type ComparedPass,
  type Spreads,
} from './judge/index.js';
import type { Warning } from './run/index.js';
import { groupingTexts } from './texts/index.js';

/** Newest runs that are looked at: enough for ten repeats many times over, and read in a few seconds. */
const MOST_RUNS = 60;

/**
 * The spreads for a comparison. Only runs whose sheet names setup and lane can be repeats of each other; the log is not made when it is
 * not there, and one that cannot be read costs a warning, not the comparison.
 *
 * @param file file of the log
 */
export async function spreadsOfLog(file: string, onWarning: (warning: Warning) => void): Promise<Spreads> {
  if (!(await fs.stat(file).catch(() => null))) return ASSUMED_SPREADS;
  try {
    const log = openLog(file, { onWarning });
    try {
      return spreadsFromRepeats(repeatsIn(log));
    } finally {
      log.close();
    }
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    onWarning({
      code: 'log-not-read',
      text: groupingTexts.logNotRead(reason),
      atS: null,
    });
    return ASSUMED_SPREADS;
  }
}

/** Named passes of the log, the newest first. */
function repeatsIn(log: RunLog): ComparedPass[] {
  const named = log
    .list()
    .filter(
      ({ pass, hasSeries, readable, grade }) =>
        hasSeries &&
        readable &&
        grade !== 'unmeasurable' &&
        pass.setup !== undefined &&
        pass.lane !== undefined,
    );
  return named.slice(0, MOST_RUNS).flatMap((row) => compared(log, row));
}

function compared(log: RunLog, { id, pass: sheet, grade }: LogRow): ComparedPass[] {
  const { run, series } = log.get(id);
  if (series === null || sheet.setup === undefined || sheet.lane === undefined) return [];
  return [
    {
      place: `log:${id}`,
      clip: run.clip.file,
      createdAt: run.createdAt,
      setup: sheet.setup,
      lane: sheet.lane,
      floor: sheet.floor ?? null,
      direction: sheet.direction ?? null,
      passNumber: sheet.passNumber ?? null,
      pass: passOfRun(run, series),
      grade,
    },
  ];
}
