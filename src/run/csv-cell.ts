/** One cell of a CSV file (RFC 4180) that no spreadsheet takes for a formula. */

/**
 * Beginnings that spreadsheets run (OWASP, CSV Injection), full-width forms included; apostrophes before them are counted, so that
 * one apostrophe is always the one put there.
 */
const RUNS = /^'*[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]/;
const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

/**
 * The cell as it stands in the file: quoted where RFC 4180 asks for it, and text that begins like a formula led by an apostrophe.
 * Numbers, also written as text, are left alone.
 *
 * @example csvCell('=1+1') // "'=1+1"
 * @example csvCell('-0.5') // "-0.5"
 */
export function csvCell(value: string | number | boolean | null | undefined): string {
  if (value === null || value === undefined) return '';
  const text = String(value);
  const harmless = typeof value === 'string' && RUNS.test(text) && !NUMBER.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
}

/** The text of a cell that `csvCell` wrote, once its quotes are taken off. @example textOfCell("'=1+1") // "=1+1" */
export function textOfCell(unquoted: string): string {
  return unquoted.startsWith("'") && RUNS.test(unquoted) ? unquoted.slice(1) : unquoted;
}
