/** What every text for a terminal shares: the colour of a verdict, columns, and text that cannot steer the terminal. */
import type { RunDocument } from '../run/index.js';

/** How a text is printed. */
export interface SummaryOptions {
  /** Colour the verdict word; only for a terminal. */
  readonly colour: boolean;
}

const COLOURS: Record<RunDocument['verdict']['grade'], string> = {
  pass: '\u001b[1;36m',
  marginal: '\u001b[1;33m',
  fail: '\u001b[1;31m',
  unmeasurable: '\u001b[1;35m',
};
const RESET = '\u001b[0m';

/** Control characters of a file name or a warning could steer the terminal: they are shown as "?". */
export function safe(text: string): string {
  return text.replace(/[\u0000-\u001f\u007f-\u009f]/g, '?');
}

/** The word of a verdict, in the colour of its grade where that is wanted. */
export function coloured(word: string, grade: RunDocument['verdict']['grade'], colour: boolean): string {
  return colour ? `${COLOURS[grade]}${word}${RESET}` : word;
}

/** A table as lines, each column as wide as its widest text; the rows are of equal length and safe already. */
export function columns(rows: readonly (readonly string[])[]): string[] {
  const widths = (rows[0] ?? []).map((_, column) => Math.max(...rows.map((row) => row[column].length)));
  return rows.map((row) =>
    row
      .map((text, column) => text.padEnd(widths[column]))
      .join('  ')
      .trimEnd(),
  );
}
