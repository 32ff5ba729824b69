/** A reader of CSV by RFC 4180, section 2, written from the rules and apart from the writer. */

/** The cells of each line; a line ends with CR LF, quoted cells may hold anything. @throws Error on a quote or line end out of place */
export function readCsv(text: string): string[][] {
  const lines: string[][] = [];
  let at = 0;
  while (at < text.length) {
    const cells: string[] = [];
    for (;;) {
      let cell = '';
      if (text[at] === '"') {
        at++;
        for (;;) {
          if (at >= text.length) throw new Error('a quoted cell does not end');
          if (text[at] !== '"') cell += text[at++];
          else if (text[at + 1] === '"') {
            cell += '"';
            at += 2;
          } else break;
        }
        at++;
      } else while (at < text.length && !/[",\r\n]/.test(text[at])) cell += text[at++];
      cells.push(cell);
      if (text[at] !== ',') break;
      at++;
    }
    if (text.slice(at, at + 2) !== '\r\n') throw new Error(`no line end after ${JSON.stringify(cells)}`);
    at += 2;
    lines.push(cells);
  }
  return lines;
}
