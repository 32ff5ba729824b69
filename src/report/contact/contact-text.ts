/** Sets text into the contact picture so that none runs over: each line is as wide as it may be, measured before it is drawn. */
import { element, textElement } from '../charts/index.js';
import { lightColour } from './chart-style.js';
import { shortenToPx, textWidthPx, wrapToPx, type TextStyle } from './text-width.js';

/** Nothing in the picture is smaller: read on a phone at half its size. */
export const SMALLEST_PX = 26;

/** Where a text stands and how it looks. */
export interface Place extends TextStyle {
  readonly leftPx: number;
  readonly widthPx: number;
  /** Name of a colour of the light theme; ink unless given. */
  readonly colour?: string;
}

/** Height of a line of text. */
export function lineHeightPx({ sizePx }: TextStyle): number {
  return Math.round(1.28 * sizePx);
}

/** One line with its baseline at `y`; shortened where it is too long. */
export function oneLine(text: string, place: Place, y: number): string {
  return rawLine(shortenToPx(text, place.widthPx, place), place, y);
}

/** A line that is known to fit. */
export function rawLine(text: string, { leftPx, sizePx, bold, colour = 'ink' }: Place, y: number): string {
  return textElement(
    { x: leftPx, y, 'font-size': sizePx, 'font-weight': bold ? 700 : 400, fill: lightColour(colour) },
    text,
  );
}

/** Lines of text from `top` down. @returns SVG text, and where the next thing can begin */
export function paragraph(
  text: string,
  place: Place,
  top: number,
  lines: number,
): { svg: string; bottom: number } {
  const height = lineHeightPx(place);
  const wrapped = wrapToPx(text, place.widthPx, lines, place);
  return {
    svg: wrapped.map((line, i) => rawLine(line, place, top + i * height + place.sizePx)).join(''),
    bottom: top + wrapped.length * height,
  };
}

/** Whether a text fits into so many lines. */
export function fitsLines(text: string, place: Place, lines: number): boolean {
  return wrapToPx(text, place.widthPx, Infinity, place).length <= lines;
}

/** A large figure with its unit in a smaller size; as large as its room allows. */
export function figureWithUnit(value: string, unit: string, place: Place, y: number): string {
  const unitSize = { sizePx: SMALLEST_PX };
  let sizePx = place.sizePx;
  const room = (): number =>
    textWidthPx(value, { sizePx, bold: true }) + (unit === '' ? 0 : 8 + textWidthPx(unit, unitSize));
  while (sizePx > SMALLEST_PX && room() > place.widthPx) sizePx -= 2;
  const large = oneLine(value, { ...place, sizePx, bold: true }, y);
  const after = place.leftPx + textWidthPx(value, { sizePx, bold: true }) + 8;
  const left = place.leftPx + place.widthPx - after;
  return unit === '' || left < 2 * SMALLEST_PX
    ? large
    : large + oneLine(unit, { ...unitSize, leftPx: after, widthPx: left, colour: 'muted' }, y);
}

/** A hairline across. */
export function rule(leftPx: number, rightPx: number, y: number): string {
  return element('line', {
    x1: leftPx,
    x2: rightPx,
    y1: y,
    y2: y,
    stroke: lightColour('rule'),
    'stroke-width': 2,
  });
}
