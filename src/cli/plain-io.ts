/** The streams of a command with a last look at what goes out: whatever slipped through cannot steer the terminal. */
import { printableLines } from '../run/plain.js';
import type { Io } from './io.js';

/** Clears the line that progress is drawn on; only at the beginning of a message, where our own code puts it. */
const REDRAW = '\r\u001b[2K';
/** Colours, weights and underlines that our own texts and the help are written with; nothing that hides or moves text. */
const LOOKS = /(\u001b\[(?:0|1|4|22|24|36|39|90|1;3[1356])m)/;

/**
 * Streams that let through lines, tabs and our own colours; of everything else that steers a terminal they show "?". Standard output that
 * goes to a file or a program is data, and stays as it is to the letter.
 */
export function plainIo(io: Io): Io {
  const plain = (text: string, colour: boolean): string => {
    if (!colour) return printableLines(text);
    return text
      .split(LOOKS)
      .map((part, i) => (i % 2 === 1 ? part : printableLines(part)))
      .join('');
  };
  return {
    ...io,
    out: (text) => io.out(io.columns === undefined ? text : plain(text, io.colour)),
    err(text) {
      const redraws = io.interactive && text.startsWith(REDRAW);
      io.err(redraws ? REDRAW + plain(text.slice(REDRAW.length), io.colour) : plain(text, io.colour));
    },
  };
}
