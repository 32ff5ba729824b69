/** What every text for a terminal shares: the colour of a verdict, columns, lines no wider than the window, and text that cannot steer the terminal. */
import { printable, type RunDocument } from '../run/index.js';

/** How a text is printed. */
export interface SummaryOptions {
  /** Colour the verdict word; only for a terminal. */
  readonly colour: boolean;
  /** Width of the window in characters: longer lines are broken. Missing where nobody watches: one line a sentence is best for programs. */
  readonly columns?: number | undefined;
}

const COLOURS: Record<RunDocument['verdict']['grade'], string> = {
  pass: '\u001b[1;36m',
  marginal: '\u001b[1;33m',
  fail: '\u001b[1;31m',
  unmeasurable: '\u001b[1;35m',
};
const RESET = '\u001b[0m';

/** Characters of a file name or a warning that could steer the terminal are shown as "?". */
export function safe(text: string): string {
  return printable(text);
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

/** What stands before a sentence, and is not repeated when it goes on in the next line: "PASS  ", "Do first: ", "  - ", "       ". */
const LABEL = /^(?:(?:\u001b\[[\d;]*m)?[A-Z]+(?:\u001b\[0m)? {2,}|\s*[A-Z][A-Za-z ]{0,10}: +| *- | *)/u;
/** Colours take no room. */
const COLOUR = /\u001b\[[\d;]*m/gu;
/** Rows of a table are as they are: breaking them would break their columns. */
const ROW = /\S {2,}\S.* {2,}\S/u;

/**
 * Lines broken between words so that none is wider than `width`; what goes on stands under the beginning of its sentence. A word
 * wider than the window stays whole, so that a path can be copied.
 */
export function brokenLines(lines: readonly string[], width: number | undefined): string[] {
  if (width === undefined) return [...lines];
  return lines.flatMap((line) => (seen(line) <= width || ROW.test(line) ? [line] : broken(line, width)));
}

function broken(line: string, width: number): string[] {
  const label = LABEL.exec(line)?.[0] ?? '';
  const indent = ' '.repeat(Math.min(seen(label), Math.floor(width / 3)));
  const out: string[] = [];
  let current = label;
  let empty = true;
  for (const word of words(line.slice(label.length))) {
    const longer = empty ? `${current}${word}` : `${current} ${word}`;
    if (!empty && seen(longer) > width) {
      out.push(current);
      current = `${indent}${word}`;
    } else current = longer;
    empty = false;
  }
  return [...out, current];
}

/** A number stays with its unit. */
function words(text: string): string[] {
  const kept = text.replace(/(\d) (?=(?:%|px|deg|mm|m|in|ft|s|Hz|m\/s|ft\/s)(?![\w]))/gu, '$1\u00a0');
  return kept.split(' ').map((word) => word.replaceAll('\u00a0', ' '));
}

function seen(text: string): number {
  return [...text.replace(COLOUR, '')].length;
}
