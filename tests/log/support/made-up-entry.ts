/** Runs to keep in a log, made up: one made-up pass with the sheet, the time and the figures that a test asks for. */
import type { LogEntry } from '../../../src/log/index.js';
import { parseRun, type PassSheet, type RunDocument, type RunSeries } from '../../../src/run/index.js';
import { madeUpBundle } from '../../report/support/made-up-bundle.js';

const { run: RUN, series: SERIES } = madeUpBundle();

/** What is different from the made-up pass. */
export interface EntryChange {
  readonly pass?: PassSheet;
  readonly createdAt?: string;
  readonly grade?: RunDocument['verdict']['grade'];
  readonly clipFile?: string;
  readonly clipSha256?: string;
  readonly deliveryName?: string | undefined;
  readonly reportFolder?: string | null;
  readonly series?: null;
  readonly picture?: Uint8Array;
  readonly thumbnail?: Uint8Array;
}

/** An entry; nothing of it is shared with another. */
export function madeUpEntry(change: EntryChange = {}): LogEntry {
  const { clip, createdAt, verdict, delivery, ...rest } = structuredClone(RUN);
  const run = parseRun({
    ...rest,
    createdAt: change.createdAt ?? createdAt,
    clip: { ...clip, file: change.clipFile ?? clip.file, sha256: change.clipSha256 ?? clip.sha256 },
    delivery: { ...delivery, name: change.deliveryName ?? null },
    pass: change.pass ?? {},
    verdict: { ...verdict, grade: change.grade ?? verdict.grade },
  });
  return {
    run,
    series: change.series === null ? null : seriesOf(run),
    reportFolder: change.reportFolder ?? null,
    picture: change.picture ?? null,
    thumbnail: change.thumbnail ?? null,
  };
}

function seriesOf({ clip, createdAt }: RunDocument): RunSeries {
  return { ...structuredClone(SERIES), clipSha256: clip.sha256, createdAt };
}
