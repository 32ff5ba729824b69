/** Prints a page that stands in a file, as a PDF of the same name beside it. */
import fs from 'node:fs/promises';
import { unfinishedFile, writeToDisk } from '../../files/index.js';
import { TrundleError } from '../../run/index.js';
import { printPage, type PrintOptions } from './print-page.js';

/** The PDF that belongs to a page. @example pdfOf('reports/hall/report.html') // "reports/hall/report.pdf" */
export function pdfOf(page: string): string {
  return page.replace(/\.html$/, '.pdf');
}

/**
 * Prints the page, whole or not at all; an earlier PDF is replaced.
 *
 * @param page path of the HTML file
 * @returns path of the PDF
 * @throws TrundleError `no-browser` when nothing can print it; `output-unwritable` when the PDF cannot be written;
 *   `interrupted`
 */
export async function writePdfBeside(page: string, options: PrintOptions): Promise<string> {
  const pdf = await printPage(await fs.readFile(page, 'utf8'), options);
  const file = pdfOf(page);
  const partial = unfinishedFile(file);
  try {
    await writeToDisk(partial.path, pdf);
    await fs.rename(partial.path, file);
  } catch (cause) {
    await fs.rm(partial.path, { force: true });
    throw new TrundleError(
      'output-unwritable',
      `The file "${file}" cannot be written; check that its folder may be written to and has room.`,
      { cause },
    );
  } finally {
    partial.done();
  }
  return file;
}
