/** Writes the folder of a run: document, schema, series, report and pictures, whole or not at all. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { RUN_SCHEMA, TrundleError, parseRun, runJsonSchema, runSeriesSchema } from '../run/index.js';
import { cropWindows } from './crop-windows.js';
import { motionCsv, sourcesCsv, spectrumCsv, thirdOctavesCsv } from './csv.js';
import { renderHtml } from './html/page.js';
import { dataUri, encodeCropPicture, encodePicture } from './picture.js';
import type { ReportBundle } from './types.js';

/** The files that a run is written as. */
export const RUN_FILES = [
  'run.json',
  'trundle-run-1.schema.json',
  'series.json',
  'motion.csv',
  'spectrum.csv',
  'third-octaves.csv',
  'sources.csv',
  'report.html',
  'frame.jpg',
  'crop.png',
] as const;

/** What may be in a run folder of ours; only these are ever replaced or removed. Answers to later questions go with their run. */
const OURS: readonly string[] = [...RUN_FILES, 'whatif.html'];

/** A file of a run folder. */
export type RunFile = (typeof RUN_FILES)[number];

/**
 * Writes a run into `folder`.
 *
 * Everything is written into a folder beside it first and then renamed, so a half-written run is never seen. The folder of an
 * earlier run is replaced; files that are not of a run stay where they are, and a folder that holds a file by one of our
 * names without being a run is refused.
 *
 * @returns the names of the files written
 * @throws TrundleError `output-unwritable` when the folder cannot be made, written or replaced
 * @throws ZodError when the document does not fit its own schema
 */
export async function writeRun(folder: string, bundle: ReportBundle): Promise<RunFile[]> {
  const files = await filesOf(bundle);
  const target = path.resolve(folder);
  const name = path.basename(target);
  try {
    await refuseForeign(target);
    await fs.mkdir(path.dirname(target), { recursive: true });
    const fresh = await fs.mkdtemp(path.join(path.dirname(target), `.${name}-writing-`));
    try {
      for (const [file, content] of files) await fs.writeFile(path.join(fresh, file), content);
      await fs.chmod(fresh, 0o755);
      await putInPlace(fresh, target);
    } finally {
      await fs.rm(fresh, { recursive: true, force: true });
    }
  } catch (error) {
    throw unwritable(folder, error);
  }
  return files.map(([file]) => file);
}

/**
 * Finds out, before a long measurement, whether `folder` can be written; leaves nothing behind.
 * @throws TrundleError `output-unwritable`, as writeRun would
 */
export async function checkRunFolder(folder: string): Promise<void> {
  try {
    await refuseForeign(path.resolve(folder));
    let existing = path.dirname(path.resolve(folder));
    while ((await entriesOf(existing)) === null) existing = path.dirname(existing);
    await fs.rmdir(await fs.mkdtemp(path.join(existing, '.trundle-check-')));
  } catch (error) {
    throw unwritable(folder, error);
  }
}

function unwritable(folder: string, error: unknown): TrundleError {
  if (error instanceof TrundleError) return error;
  return new TrundleError(
    'output-unwritable',
    `The folder "${folder}" cannot be written (${reasonOf(error)}); choose another with --out-dir.`,
    { cause: error },
  );
}

async function filesOf(bundle: ReportBundle): Promise<[RunFile, string | Uint8Array][]> {
  const run = parseRun(bundle.run);
  const files: [RunFile, string | Uint8Array][] = [
    ['run.json', jsonText(run)],
    ['trundle-run-1.schema.json', jsonText(runJsonSchema())],
    ['series.json', `${JSON.stringify(runSeriesSchema.parse(bundle.series))}\n`],
    ['motion.csv', motionCsv(bundle.motion)],
    ['spectrum.csv', spectrumCsv(run.spectrum)],
    ['third-octaves.csv', thirdOctavesCsv(run.spectrum)],
    ['sources.csv', sourcesCsv(run.spectrum)],
  ];
  let pictureUri: string | null = null;
  if (bundle.picture) {
    const frame = await encodePicture(bundle.picture);
    pictureUri = dataUri(frame, 'image/jpeg');
    files.push(['frame.jpg', frame]);
    const { window, others } = cropWindows(bundle);
    if (run.verdict.grade !== 'unmeasurable' && window !== null)
      files.push(['crop.png', await encodeCropPicture(bundle.picture, window, others)]);
  }
  files.push(['report.html', renderHtml(bundle, pictureUri)]);
  return files;
}

/** JSON for people and machines: two spaces of indent, but a series of numbers on one line. */
export function jsonText(value: unknown): string {
  const text = JSON.stringify(value, null, 2);
  // Strings never hold a raw line break, so only real arrays of numbers match.
  const numbers = /\[\n\s*((?:-?[\d.eE+-]+|null)(?:,\n\s*(?:-?[\d.eE+-]+|null))*)\n\s*\]/g;
  return `${text.replace(numbers, (_, inner: string) => `[${inner.replace(/\s+/g, ' ')}]`)}\n`;
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
  let schema: unknown;
  try {
    schema = (JSON.parse(await fs.readFile(path.join(folder, 'run.json'), 'utf8')) as { schema?: unknown })
      .schema;
  } catch {
    schema = undefined;
  }
  if (schema === RUN_SCHEMA) return;
  throw new TrundleError(
    'output-unwritable',
    `The folder "${folder}" holds "${ours[0]}" but no run of this program, so nothing was replaced; choose another with --out-dir.`,
  );
}

async function putInPlace(fresh: string, target: string): Promise<void> {
  const entries = await entriesOf(target);
  if (entries === null) return fs.rename(fresh, target);
  const foreign = entries.filter((entry) => !OURS.includes(entry));
  if (foreign.length === 0) {
    // An earlier run and nothing else: swap the folders, and put the old one back if the new one cannot take its place.
    const old = `${fresh}-old`;
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
  // Other people's files live here too: replace ours one by one, each whole, the document last.
  const written = await fs.readdir(fresh);
  for (const entry of entries)
    if (OURS.includes(entry) && !written.includes(entry)) await fs.rm(path.join(target, entry));
  for (const file of [...written.filter((entry) => entry !== 'run.json'), 'run.json'])
    await fs.rename(path.join(fresh, file), path.join(target, file));
}

function reasonOf(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException;
  const words: Record<string, string> = {
    EACCES: 'no permission',
    EPERM: 'no permission',
    EROFS: 'the disk is read-only',
    ENOSPC: 'the disk is full',
    ENOTDIR: 'a part of the path is a file',
    ENOENT: 'nothing can be made there',
    EEXIST: 'a file of that name is in the way',
  };
  return (code && words[code]) ?? message;
}
