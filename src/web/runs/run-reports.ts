/** Reports of kept runs: parts for the page, and the files of a run folder, from where they were written or made anew in memory. */
import fs from 'node:fs/promises';
import path from 'node:path';
import type { LogRow, LoggedRun } from '../../log/index.js';
import { bundleOfLogged, reportOf } from '../../logged-report.js';
import {
  RUN_FILES,
  printPage,
  reportParts,
  runFiles,
  type PrintPaper,
  type ReportBundle,
} from '../../report/index.js';
import type { ReportParts } from '../api.js';
import { folderName } from '../jobs/report-folder.js';
import { WebProblem } from '../server/problem.js';
import { Recent } from './recent.js';

const PAGE = 'report.html';
const PDF = 'report.pdf';
const PROOF = 'proof.mp4';

/** Files of a run that can be asked for. */
export const NAMED_FILES: readonly string[] = [...RUN_FILES, PDF, PROOF];

/** A file that lies on the disk. */
export interface DiskFile {
  readonly path: string;
  readonly sizeBytes: number;
  /** When it was written, milliseconds since 1970 UTC. */
  readonly modifiedMs: number;
}

/** What a file is sent from. */
export type FileSource = { readonly bytes: Uint8Array } | DiskFile;

/** Where the runs come from. */
interface RunSource {
  row(id: number): LogRow;
  get(id: number): LoggedRun;
}

/** Reports of the runs of one log; what was made last is kept for a while. */
export class RunReports {
  // A bundle holds the frame of the clip as pixels, and files their pictures: some 10 MB a run.
  private readonly bundles = new Recent<ReportBundle>(2);
  private readonly parts = new Recent<ReportParts>(6);
  private readonly files = new Recent<ReadonlyMap<string, Uint8Array>>(2);
  private readonly prints = new Recent<Uint8Array>(2);
  /** One browser at a time. */
  private printing: Promise<unknown> = Promise.resolve();

  /** @param outDir where report folders go */
  constructor(
    private readonly runs: RunSource,
    private readonly outDir: string,
  ) {}

  /** Advice and sections of a report. @throws WebProblem 404; TrundleError `log-entry-unreadable` where it cannot be made */
  async live(id: number): Promise<ReportParts> {
    const row = this.runs.row(id);
    return this.parts.get(keyOf(row), async () => reportParts(await this.bundle(row)));
  }

  /**
   * A file of a run.
   *
   * @param name one of `NAMED_FILES`
   * @throws WebProblem 404 when there is no such run, or it has no such file; TrundleError `log-entry-unreadable`
   */
  async file(id: number, name: string): Promise<FileSource> {
    const row = this.runs.row(id);
    if (name === PROOF) return (await proofOf(row, this.outDir)) ?? noProof(id);
    const kept = await reportOf(row);
    // A folder keeps the sheet that it was written with.
    const there = kept?.sheetIsCurrent ? await onDisk(kept.folder, name) : null;
    if (there !== null) return there;
    const bytes = (await this.made(row)).get(name);
    if (bytes === undefined)
      throw new WebProblem(
        404,
        'file-missing',
        `Run ${id} was kept without a picture, so it has no ${name}.`,
      );
    return { bytes };
  }

  /** The report printed. @throws as `file`; TrundleError `no-browser` */
  async print(id: number, paper: PrintPaper): Promise<FileSource> {
    const source = await this.file(id, PAGE);
    const key = `${paper} ${keyOf(this.runs.row(id))}`;
    const bytes = await this.prints.get(key, async () => {
      const page = 'bytes' in source ? source.bytes : await fs.readFile(source.path);
      const before = this.printing;
      const print = before.then(() => printPage(new TextDecoder().decode(page), { paper }));
      this.printing = print.catch(() => undefined);
      return print;
    });
    return { bytes };
  }

  private made(row: LogRow): Promise<ReadonlyMap<string, Uint8Array>> {
    return this.files.get(keyOf(row), async () => {
      const files = await runFiles(await this.bundle(row));
      const encoder = new TextEncoder();
      return new Map(
        files.map(([name, content]) => [
          name,
          typeof content === 'string' ? encoder.encode(content) : content,
        ]),
      );
    });
  }

  private bundle(row: LogRow): Promise<ReportBundle> {
    return this.bundles.get(keyOf(row), async () => bundleOfLogged(this.runs.get(row.id)));
  }
}

/** Another sheet makes another report. */
function keyOf({ id, createdAt, clipSha256, pass }: LogRow): string {
  return `${id} ${createdAt} ${clipSha256} ${JSON.stringify(pass)}`;
}

/** The proof beside the report, or in a folder after the run; one that is older than the run is of another that had the folder before. */
async function proofOf(row: LogRow, outDir: string): Promise<DiskFile | null> {
  const own = path.join(outDir, `${folderName(row.clipFile)}-run-${row.id}`);
  for (const folder of [row.reportFolder, own]) {
    const found = folder === null ? null : await onDisk(folder, PROOF);
    if (found !== null && found.modifiedMs >= Date.parse(row.createdAt)) return found;
  }
  return null;
}

/** A file that stands in the folder itself; null where it does not. */
async function onDisk(folder: string, name: string): Promise<DiskFile | null> {
  const file = path.join(folder, name);
  const found = await fs.lstat(file).catch(() => null);
  return found?.isFile() ? { path: file, sizeBytes: found.size, modifiedMs: found.mtimeMs } : null;
}

function noProof(id: number): never {
  throw new WebProblem(
    404,
    'proof-missing',
    `No proof was rendered of run ${id}, or it is not where it was.`,
  );
}
