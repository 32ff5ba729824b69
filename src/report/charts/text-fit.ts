/** Fits names into the room that a chart has, in characters: SVG text neither wraps nor ends in dots by itself. */

/** The text when it fits, else its beginning and an ellipsis. @example shorten('aluminium rail', 9) // "aluminiu…" */
export function shorten(text: string, most: number): string {
  const characters = [...text];
  return characters.length <= most ? text : `${characters.slice(0, Math.max(1, most - 1)).join('')}…`;
}

/**
 * The text in lines of at most `most` characters, broken at spaces where there are any; what does not fit `lines` is left out
 * behind an ellipsis.
 * @example wrapText('four bogies with soft tyres', 12, 2) // ["four bogies", "with soft t…"]
 */
export function wrapText(text: string, most: number, lines: number): string[] {
  const words = text.split(' ').filter((word) => word !== '');
  const out: string[] = [];
  while (words.length > 0 && out.length < lines - 1) {
    let line = words.shift() ?? '';
    while (words.length > 0 && line.length + 1 + words[0].length <= most) line += ` ${words.shift() ?? ''}`;
    out.push(shorten(line, most));
  }
  if (words.length > 0) out.push(shorten(words.join(' '), most));
  return out;
}
