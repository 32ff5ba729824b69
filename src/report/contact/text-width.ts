/** How wide text is in the font of the pictures, px, and how it is broken or shortened to fit: SVG text does neither by itself. */

/** How a text is set. */
export interface TextStyle {
  readonly sizePx: number;
  readonly bold?: boolean;
}

type Widths = readonly (readonly [thousandths: number, characters: string])[];

/** Advance widths in thousandths of the size, from the hmtx tables of DejaVu Sans Condensed 2.37, printable ASCII and what we write. */
const REGULAR: Widths = [
  [247, "'"],
  [265, 'ijlIJ'],
  [303, ' ,.·/:;\\|'],
  [353, 'f-()[]t'],
  [372, '!²r'],
  [450, '*_`°–"'],
  [478, 'sz?'],
  [501, 'cL'],
  [532, 'Fkvxy'],
  [551, 'PTYoa'],
  [572, 'eEhnuSbdgpq$0123456789{}'],
  [617, 'KAVXZB'],
  [628, 'RC'],
  [677, 'UNH'],
  [708, 'DG&OQ'],
  [776, 'w#+<=>^~×≈M'],
  [900, '%mW@—…'],
];
const BOLD: Widths = [
  [313, "'ijl "],
  [344, '/\\|IJ,.·'],
  [374, ':;-'],
  [430, 'f²!()[]t'],
  [470, 'r_`°–"*'],
  [536, '?zcs'],
  [598, 'Lxvyk'],
  [626, 'aeTEFo$0123456789'],
  [660, 'hnu{}bdgpqSYZPC'],
  [697, 'BRXAVK'],
  [754, 'UGDHN#+<=>^~×≈'],
  [785, 'OQ&'],
  [938, 'wM@—…%m'],
  [993, 'W'],
];
/** The widest letter of any alphabet that the font has; others are drawn as boxes, which are narrower. */
const OTHERS = 1400;
/** What rounding of the letters to the grid can add. */
const SLACK = 1.01;
const ELLIPSIS = '…';

const byCharacter = (widths: Widths): ReadonlyMap<string, number> =>
  new Map(widths.flatMap(([width, characters]) => [...characters].map((c) => [c, width] as const)));
const TABLES = { regular: byCharacter(REGULAR), bold: byCharacter(BOLD) };

/** At least as wide as the text is drawn, px. */
export function textWidthPx(text: string, { sizePx, bold = false }: TextStyle): number {
  const table = bold ? TABLES.bold : TABLES.regular;
  let thousandths = 0;
  for (const character of text) thousandths += table.get(character) ?? OTHERS;
  return (SLACK * sizePx * thousandths) / 1000;
}

/** The text when it fits, else its beginning and an ellipsis. */
export function shortenToPx(text: string, widthPx: number, style: TextStyle): string {
  if (textWidthPx(text, style) <= widthPx) return text;
  const characters = [...text];
  while (characters.length > 0) {
    characters.pop();
    const shorter = characters.join('').trimEnd() + ELLIPSIS;
    if (textWidthPx(shorter, style) <= widthPx) return shorter;
  }
  return ELLIPSIS;
}

/**
 * The text when it fits, else its beginning and its end around an ellipsis: what tells clips of one day apart stands at their end.
 */
export function shortenMiddleToPx(text: string, widthPx: number, style: TextStyle): string {
  const characters = [...text];
  const fits = (kept: number): string | null => {
    const head = Math.ceil(kept / 2);
    const shorter =
      characters.slice(0, head).join('') +
      ELLIPSIS +
      characters.slice(characters.length - (kept - head)).join('');
    return textWidthPx(shorter, style) <= widthPx ? shorter : null;
  };
  if (textWidthPx(text, style) <= widthPx) return text;
  for (let kept = characters.length - 1; kept > 0; kept--) {
    const shorter = fits(kept);
    if (shorter !== null) return shorter;
  }
  return ELLIPSIS;
}

/**
 * The text in lines that fit, broken at spaces and, where a word is too long for a line, within it.
 * @param lines how many there may be; what is over is left out behind an ellipsis
 */
export function wrapToPx(text: string, widthPx: number, lines: number, style: TextStyle): string[] {
  const words = text.split(/\s+/).filter((word) => word !== '');
  const out: string[] = [];
  while (words.length > 0 && out.length < lines) {
    let line = words.shift() ?? '';
    if (textWidthPx(line, style) > widthPx) {
      const [head, tail] = breakWord(line, widthPx, style);
      line = head;
      words.unshift(tail);
    } else
      while (words.length > 0 && textWidthPx(`${line} ${words[0]}`, style) <= widthPx)
        line += ` ${words.shift() ?? ''}`;
    out.push(line);
  }
  if (words.length > 0 && out.length > 0) {
    const last = out.length - 1;
    out[last] = shortenAtWord(out[last], widthPx, style);
  }
  return out;
}

/** The text, of which there is more, with an ellipsis after its last word that leaves room for it. */
function shortenAtWord(text: string, widthPx: number, style: TextStyle): string {
  const words = text.split(' ');
  const shorter = (): string => words.join(' ').replace(/[,;:.]$/, '') + ELLIPSIS;
  while (words.length > 1 && textWidthPx(shorter(), style) > widthPx) words.pop();
  return shortenToPx(shorter(), widthPx, style);
}

function breakWord(word: string, widthPx: number, style: TextStyle): [string, string] {
  const characters = [...word];
  let head = characters.length - 1;
  while (head > 1 && textWidthPx(characters.slice(0, head).join(''), style) > widthPx) head--;
  return [characters.slice(0, head).join(''), characters.slice(head).join('')];
}
