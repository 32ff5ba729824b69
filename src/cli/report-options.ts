/** Options that every command with a page shares: the PDF beside it, its paper, the units that people read. */
import fs from 'node:fs/promises';
import type { ArgsDef } from 'citty';
import { PRINT_PAPERS, pdfOf, writePdfBeside, type PrintPaper } from '../report/index.js';
import { EXIT, TrundleError, UNITS, type ExitStatus, type Units } from '../run/index.js';
import { unitsOf as unitsOfSettings } from '../settings/index.js';
import { tell, type Io } from './io.js';
import { OPTION_NAMING } from './option-naming.js';

/** The PDF of a page. */
export const PDF_ARGS = {
  pdf: { type: 'boolean', description: 'print the page as PDF beside it, too (needs Chromium or Chrome)' },
  paper: {
    type: 'string',
    valueHint: 'a4',
    description: `paper of the PDF: ${PRINT_PAPERS.join(' or ')} (a4)`,
  },
} as const satisfies ArgsDef;

/** The units of a report. */
export const UNITS_ARGS = {
  units: {
    type: 'string',
    valueHint: 'metric',
    description: `lengths, heights and speeds of the report: ${UNITS.join(', ')}`,
  },
} as const satisfies ArgsDef;

/** The paper to print on; undefined when no PDF is asked for. @throws TrundleError `argument-invalid` */
export function paperOf(values: {
  readonly pdf?: boolean | undefined;
  readonly paper?: string | undefined;
}): PrintPaper | undefined {
  const named = values.paper?.toLowerCase() ?? 'a4';
  const paper = PRINT_PAPERS.find((name) => name === named);
  if (paper === undefined)
    throw new TrundleError(
      'argument-invalid',
      `"--paper ${values.paper}" must be ${PRINT_PAPERS.join(' or ')}.`,
    );
  if (values.pdf) return paper;
  if (values.paper === undefined) return undefined;
  throw new TrundleError('argument-invalid', `"--paper ${values.paper}" is for the PDF; add --pdf.`);
}

/** The units asked for; undefined when none are. @throws TrundleError `argument-invalid` */
export function unitsOf(text: string | undefined): Units | undefined {
  return unitsOfSettings(text === undefined ? {} : { units: text }, OPTION_NAMING);
}

/**
 * Prints a page that was just written, and tells where the PDF is; a failure is told and costs no more than the PDF.
 *
 * @param paper undefined when no PDF is asked for: then an earlier one goes, where `earlier` says that the page had one to replace
 * @param asMessage whether the place of the PDF is told on standard error, as where standard output holds data
 * @returns the exit status of the printing
 */
export async function printBeside(
  page: string,
  paper: PrintPaper | undefined,
  io: Io,
  { asMessage = false, earlier = false }: { asMessage?: boolean | undefined; earlier?: boolean } = {},
): Promise<ExitStatus> {
  if (paper === undefined) {
    if (earlier) await fs.rm(pdfOf(page), { force: true });
    return EXIT.measured;
  }
  try {
    const said = `PDF: ${await writePdfBeside(page, { paper, signal: io.signal })}\n`;
    if (asMessage) io.err(said);
    else io.out(said);
    return EXIT.measured;
  } catch (error) {
    if (!(error instanceof TrundleError)) throw error;
    return tell(error, io);
  }
}
