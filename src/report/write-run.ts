/** Writes the folder of a run: document, schemas, series, report and pictures, whole or not at all; then, when asked, the PDF. */
import fs from 'node:fs/promises';
import path from 'node:path';
import {
  asideOf,
  clearLeft,
  holdOf,
  holdPlace,
  movingInOf,
  syncFolder,
  unfinishedFolder,
  writeToDisk,
  type Hold,
} from '../files/index.js';
import { RUN_SCHEMA, TrundleError, type RunDocument } from '../run/index.js';
import { fileTexts } from '../texts/index.js';
import { writePdfBeside } from './pdf/pdf-beside.js';
import type { PrintOptions } from './pdf/print-page.js';
import { RUN_FILES, runFiles, type RunFile } from './run-files.js';
import type { ReportBundle } from './types.js';

const PAGE = 'report.html';
const PDF = 'report.pdf';
/** Answers to later questions: they go with their run. */
const ANSWERS = ['whatif.html', 'whatif.pdf'] as const;

/** What may be in a run folder of ours; only these are ever replaced or removed. */
const OURS: readonly string[] = [...RUN_FILES, PDF, ...ANSWERS];

/** What is written beside the usual files. */
export interface ReportOptions {
  /** Paper of report.pdf; without it none is written, and an earlier one goes. */
  readonly pdf?: PrintOptions['paper'] | undefined;
  /** Where the browser that prints is looked for; the environment of this process unless given. */
  readonly environment?: PrintOptions['environment'];
  /** Until the folder is in its place this stops all of it; later only what is still to be printed. */
  readonly signal?: AbortSignal | undefined;
}

/** How long another run may be putting its files into the same folder, ms: that is a matter of renaming. */
const HELD_MS = 30_000;

/** What became of a run folder. */
export interface WrittenRun {
  /** Names of the files written. */
  readonly files: readonly (RunFile | typeof PDF)[];
  /** Why there is no report.pdf though it was asked for; the rest stands all the same. */
  readonly pdfFailure: TrundleError | null;
}

/**
 * Writes a run into `folder`.
 *
 * Everything is written into a folder beside it first, sent to the disk and then renamed, so a half-written run is never seen, not even
 * after a power cut; what an earlier crash left beside it is cleared, and a run that it left there goes back to its place. The folder of an
 * earlier run is replaced; files that are not of a run stay where they are, and a folder that holds a file by one of our
 * names without being a run is refused. Of two that write at once the later one stands, whole. Answers that were asked of the same
 * measurement stay. The PDF is printed afterwards, so that nothing that befalls the browser costs the run.
 *
 * @throws TrundleError `output-unwritable` when the folder cannot be made, written or replaced; `interrupted`
 * @throws ZodError when the document does not fit its own schema
 */
export async function writeRun(
  folder: string,
  bundle: ReportBundle,
  { pdf, environment, signal }: ReportOptions = {},
): Promise<WrittenRun> {
  const files = await runFiles(bundle);
  const target = path.resolve(folder);
  try {
    await refuseForeign(target);
    const parent = path.dirname(target);
    await fs.mkdir(parent, { recursive: true });
    await clearLeft(parent);
    const fresh = unfinishedFolder(target);
    try {
      await fs.mkdir(fresh.path);
      for (const [file, content] of files) await writeToDisk(path.join(fresh.path, file), content);
      await syncFolder(fresh.path);
      refuseIfStopped(signal, folder);
      const hold = await holdTarget(target);
      try {
        await putInPlace(fresh.path, target, await ownFiles(target, bundle.run));
      } finally {
        hold.release();
      }
      await syncFolder(parent);
    } finally {
      await fs.rm(fresh.path, { recursive: true, force: true });
      fresh.done();
    }
  } catch (error) {
    throw unwritable(folder, error);
  }
  const written = files.map(([file]) => file);
  if (pdf === undefined) return { files: written, pdfFailure: null };
  try {
    await writePdfBeside(path.join(target, PAGE), { paper: pdf, environment, signal });
    return { files: [...written, PDF], pdfFailure: null };
  } catch (error) {
    if (!(error instanceof TrundleError)) throw error;
    return { files: written, pdfFailure: error };
  }
}

/**
 * Finds out, before a long measurement, whether `folder` can be written; leaves nothing behind, and clears what a crash has.
 * @throws TrundleError `output-unwritable`, as writeRun would
 */
export async function checkRunFolder(folder: string): Promise<void> {
  try {
    await clearLeft(path.dirname(path.resolve(folder)));
    await refuseForeign(path.resolve(folder));
    let existing = path.dirname(path.resolve(folder));
    while ((await entriesOf(existing)) === null) existing = path.dirname(existing);
    await fs.rmdir(await fs.mkdtemp(path.join(existing, '.trundle-check-')));
  } catch (error) {
    throw unwritable(folder, error);
  }
}

/** @throws TrundleError `interrupted` */
function refuseIfStopped(signal: AbortSignal | undefined, folder: string): void {
  if (signal?.aborted)
    throw new TrundleError(
      'interrupted',
      `Stopped on request before the report was in its place; "${folder}" is as it was.`,
    );
}

/** @throws TrundleError `output-unwritable` while others have the folder */
async function holdTarget(target: string): Promise<Hold> {
  const hold = await holdPlace(holdOf(target), HELD_MS);
  if (hold) return hold;
  throw new TrundleError(
    'output-unwritable',
    `Another run has been writing the folder "${target}" for more than ${HELD_MS / 1000} s; wait until it is done, or choose another with --out-dir.`,
  );
}

function unwritable(folder: string, error: unknown): TrundleError {
  if (error instanceof TrundleError) return error;
  return new TrundleError(
    'output-unwritable',
    `The folder "${folder}" cannot be written (${reasonOf(error)}); choose another with --out-dir.`,
    { cause: error },
  );
}

async function entriesOf(folder: string): Promise<string[] | null> {
  try {
    return await fs.readdir(folder);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw error;
  }
}

/** Refuses a folder that has one of our file names in it but is no run: those files belong to somebody else. */
async function refuseForeign(folder: string): Promise<void> {
  const entries = await entriesOf(folder);
  const ours = entries?.filter((entry) => OURS.includes(entry)) ?? [];
  if (ours.length === 0) return;
  const { schema } = await documentOf(folder);
  if (schema === RUN_SCHEMA) return;
  throw new TrundleError(
    'output-unwritable',
    `The folder "${folder}" holds "${ours[0]}" but no run of this program, so nothing was replaced; choose another with --out-dir.`,
  );
}

/** What of the folder is replaced by a new run; answers stay when it is the same measurement, written anew. */
async function ownFiles(folder: string, run: RunDocument): Promise<readonly string[]> {
  const { createdAt, clip } = await documentOf(folder);
  const same = createdAt === run.createdAt && clip?.sha256 === run.clip.sha256;
  return same ? [...RUN_FILES, PDF] : OURS;
}

/** The document of a folder as far as it can be read; empty where there is none. */
async function documentOf(
  folder: string,
): Promise<{ schema?: unknown; createdAt?: unknown; clip?: { sha256?: unknown } }> {
  try {
    const document: unknown = JSON.parse(await fs.readFile(path.join(folder, 'run.json'), 'utf8'));
    return typeof document === 'object' && document !== null ? document : {};
  } catch {
    return {};
  }
}

async function putInPlace(fresh: string, target: string, own: readonly string[]): Promise<void> {
  const entries = await entriesOf(target);
  if (entries === null) return fs.rename(fresh, target);
  const foreign = entries.filter((entry) => !own.includes(entry));
  if (foreign.length === 0) {
    // An earlier run and nothing else: swap the folders, and put the old one back if the new one cannot take its place.
    const old = asideOf(fresh);
    await fs.rename(target, old);
    try {
      await fs.rename(fresh, target);
    } catch (error) {
      await fs.rename(old, target);
      throw error;
    }
    await fs.rm(old, { recursive: true, force: true });
    return;
  }
  // Other people's files live here too: replace ours one by one, each whole, the document last. A crash on the way is made good by
  // `clearLeft`, for what is not yet there has a name of its own.
  const written = await fs.readdir(fresh);
  for (const entry of entries)
    if (own.includes(entry) && !written.includes(entry)) await fs.rm(path.join(target, entry));
  const moving = movingInOf(fresh);
  await fs.rename(fresh, moving);
  try {
    for (const file of [...written.filter((entry) => entry !== 'run.json'), 'run.json'])
      await fs.rename(path.join(moving, file), path.join(target, file));
  } finally {
    await fs.rm(moving, { recursive: true, force: true });
  }
  await syncFolder(target);
}

function reasonOf(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException;
  const words: Readonly<Record<string, string>> = fileTexts.unwritable;
  return (code && words[code]) ?? message;
}
