/** Writes the folder of a comparison, comparison.json with its schema and compare.html, whole or not at all. */
import fs from 'node:fs/promises';
import path from 'node:path';
import { clearLeft, holdOf, holdPlace, syncFolder, unfinishedFile, writeToDisk } from './files/index.js';
import { jsonText, renderComparison, type ComparisonOptions } from './report/index.js';
import {
  COMPARISON_SCHEMA,
  TrundleError,
  comparisonJsonSchema,
  parseComparison,
  type Comparison,
} from './run/index.js';

/** The files of a comparison; only these are ever replaced. */
const FILES = {
  page: 'compare.html',
  schema: 'trundle-comparison-1.schema.json',
  document: 'comparison.json',
} as const;

/** How long another comparison may be putting its files there, ms: that is a matter of renaming. */
const HELD_MS = 30_000;

/** The folder that a comparison goes to unless another is named. @example comparisonFolder('Hard wheels', 'B') // "reports/compare-hard-wheels-b" */
export function comparisonFolder(a: string, b: string): string {
  const slug = (name: string): string =>
    name
      .normalize('NFKD')
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-+|-+$/g, '')
      .slice(0, 40) || 'x';
  return path.join('reports', `compare-${slug(a)}-${slug(b)}`);
}

/** Where a comparison went. */
export interface WrittenComparison {
  readonly page: string;
  /** An earlier comparison stood there. */
  readonly replaced: boolean;
}

/**
 * Writes a comparison; that of an earlier one in the folder is replaced, other files stay.
 *
 * @param options how the page shows it; the document is always metric
 * @returns the page, and whether an earlier comparison had to go
 * @throws TrundleError `output-unwritable` when the folder cannot be written, or holds a file of our names that is no comparison
 * @throws ZodError when the comparison does not fit its own schema
 */
export async function writeComparison(
  folder: string,
  comparison: Comparison,
  options: ComparisonOptions = {},
): Promise<WrittenComparison> {
  const contents = [
    [FILES.page, renderComparison(comparison, options)],
    [FILES.schema, jsonText(comparisonJsonSchema())],
    [FILES.document, jsonText(parseComparison(comparison))],
  ] as const;
  const partials = contents.map(([name]) => unfinishedFile(path.join(folder, name)));
  let replaced: boolean;
  try {
    replaced = await holdsComparison(folder);
    await fs.mkdir(folder, { recursive: true });
    await clearLeft(folder);
    const hold = await holdPlace(holdOf(path.resolve(folder)), HELD_MS);
    try {
      for (const [i, [, content]] of contents.entries()) await writeToDisk(partials[i].path, content);
      // The document last: where it is, its page is.
      for (const [i, [name]] of contents.entries())
        await fs.rename(partials[i].path, path.join(folder, name));
      await syncFolder(folder);
    } finally {
      hold?.release();
      for (const partial of partials) {
        await fs.rm(partial.path, { force: true });
        partial.done();
      }
    }
  } catch (cause) {
    if (cause instanceof TrundleError) throw cause;
    throw new TrundleError(
      'output-unwritable',
      `The folder "${folder}" cannot be written; choose another with --out-dir.`,
      { cause },
    );
  }
  return { page: path.join(folder, FILES.page), replaced };
}

/** @throws TrundleError `output-unwritable` for a file of our names that is not ours */
async function holdsComparison(folder: string): Promise<boolean> {
  const entries = await fs.readdir(folder).catch(() => [] as string[]);
  const ours = Object.values(FILES).find((name) => entries.includes(name));
  if (ours === undefined) return false;
  const document = await fs.readFile(path.join(folder, FILES.document), 'utf8').catch(() => '');
  if (document.includes(`"${COMPARISON_SCHEMA}"`)) return true;
  throw new TrundleError(
    'output-unwritable',
    `The folder "${folder}" holds "${ours}" but no comparison of this program, so nothing was replaced; choose another with --out-dir.`,
  );
}
