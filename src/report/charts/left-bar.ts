/** A bar in a row of a table: a shake left in px against its limit, on the scale that all rows of the table share. */
import { element, textElement, type Attributes } from './svg.js';

/** What the bar stands for. */
export type LeftBarLook = 'translational' | 'angular' | 'other' | 'total';

/** What all rows share. */
export interface LeftBarScale {
  /** Right end of the bars, px of the delivery. */
  readonly mostPx: number;
  readonly limitPx: number;
}

const WIDTH = 150;
const HEIGHT = 20;
const THICK = 10;
/** Room that a letter of the limit's text takes, px. */
const LETTER = 6;

/** The bar with the line of the limit; nothing but the line where the value is not known. @returns SVG text, 150 x 20 */
export function leftBar(valuePx: number | null, look: LeftBarLook, scale: LeftBarScale): string {
  const width = valuePx === null ? 0 : Math.min(WIDTH, at(valuePx, scale));
  const top = (HEIGHT - THICK) / 2;
  const hatch =
    look === 'translational' && width > 0
      ? element('path', { class: 'left-hatch', d: hatched(width, top, top + THICK) })
      : '';
  return drawn(
    { 'aria-hidden': 'true' },
    width === 0 ? '' : element('rect', { class: `left-bar ${look}`, x: 0, y: top, width, height: THICK }),
    hatch,
    limitLine(scale, 0, HEIGHT),
  );
}

/** The value of the limit over its line, for the head of the column. @returns SVG text, 150 x 20 */
export function leftBarHead(text: string, scale: LeftBarScale): string {
  const half = (LETTER * text.length) / 2;
  const x = Math.min(WIDTH - half, Math.max(half, at(scale.limitPx, scale)));
  return drawn(
    { role: 'img', 'aria-label': text },
    textElement({ class: 'limit-label', x, y: 11, 'text-anchor': 'middle' }, text),
    limitLine(scale, 15, HEIGHT),
  );
}

/** @param spoken what is read out of the drawing: a label, or nothing where the row says it all */
function drawn(spoken: Attributes, ...children: readonly string[]): string {
  return element(
    'svg',
    { class: 'chart left-scale', viewBox: `0 0 ${WIDTH} ${HEIGHT}`, ...spoken },
    ...children,
  );
}

function at(valuePx: number, { mostPx }: LeftBarScale): number {
  return mostPx > 0 ? (WIDTH * valuePx) / mostPx : 0;
}

function limitLine(scale: LeftBarScale, y1: number, y2: number): string {
  const x = at(scale.limitPx, scale);
  return x > WIDTH ? '' : element('line', { class: 'limit', x1: x, x2: x, y1, y2 });
}

/** Strokes across the bar, so that it is told from the others without colour. */
function hatched(width: number, top: number, bottom: number): string {
  const step = 6;
  const slant = bottom - top;
  const strokes: string[] = [];
  for (let x = 0; x + slant <= width; x += step) strokes.push(`M${x} ${bottom}l${slant} ${-slant}`);
  return strokes.join('');
}
