/** Text of others as it may be printed on a terminal: nothing in it steers the terminal or turns the order of letters. */

/** Control characters (C0, DEL, C1), and the marks that turn the order of all letters after them. */
const STEERS = '\\u0000-\\u001f\\u007f-\\u009f\\u202a-\\u202e\\u2066-\\u2069';
const STEERING = new RegExp(`[${STEERS}]`, 'g');
/** The same without tab and line feed. */
const STEERING_LINES = new RegExp(`[${STEERS.replace('\\u001f', '\\u0008\\u000b-\\u001f')}]`, 'g');
/** A line that ends as CSV asks for. */
const CR_LF = /\r\n/;

/** One line: each such character, line ends too, is shown as "?". @example printable('a\u001b[2Jb') // "a?[2Jb" */
export function printable(text: string): string {
  return text.replace(STEERING, '?');
}

/** Whole lines: tabs and line ends (LF, CR LF) stay. @example printableLines('a\u001b[2J\n') // "a?[2J\n" */
export function printableLines(text: string): string {
  return text
    .split(CR_LF)
    .map((part) => part.replace(STEERING_LINES, '?'))
    .join('\r\n');
}

/**
 * JSON in which such characters are written as escapes, so that it says the same and may be printed.
 * @param spaces as of JSON.stringify
 */
export function printableJson(value: unknown, spaces?: number): string {
  return JSON.stringify(value, null, spaces).replace(
    /[\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g,
    (one) => `\\u${one.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}
