/** The legend under the strip of a run: shades with their values, shapes with their names; px, in as many rows as the width asks for. */
import { figure } from '../../run/index.js';
import { floorChartTexts as texts } from '../../texts/index.js';
import { heightUnit } from './axis-units.js';
import type { FloorStripData, StripBump } from './floor-strip-data.js';
import { bumpMark } from './floor-strip-marks.js';
import { STRIP_SHADES, type Shades } from './floor-strip-shades.js';
import { element, textElement } from './svg.js';

/** A part of the legend. */
interface Item {
  readonly widthPx: number;
  readonly draw: (x: number, y: number) => string;
}

const ROW = 20;
const SHADE_ROW = 34;
const BOX = 34;
/** Small print on paper is a seventh larger than on the screen. */
const LETTER_PX = 7;
const GAP = 22;
/** From this width on the whole legend of shades stands in one row. */
const ROOMY = 620;
const MARK_PX = 22;
const KINDS: readonly StripBump['kind'][] = ['joint', 'step', 'bump', 'dip'];

/** Legend as drawn, and its height in px. */
export function stripKey(
  data: FloorStripData,
  shades: Shades | null,
  mostMm: number,
  top: number,
  widthPx: number,
): { readonly svg: string; readonly heightPx: number } {
  const shadeSvg = shades === null ? '' : shadeKey(data, shades, top, widthPx);
  // On a phone what noise hides has a row of its own.
  const extra = shades !== null && hidesSome(shades) && widthPx < ROOMY ? ROW : 0;
  let y = top + (shades === null ? 0 : SHADE_ROW) + extra;
  let x = 0;
  const items = data.bumps.length === 0 ? [] : markItems(data, mostMm);
  const drawn = items.map((item) => {
    if (x > 0 && x + item.widthPx > widthPx) {
      x = 0;
      y += ROW;
    }
    const svg = item.draw(x, y);
    x += item.widthPx + GAP;
    return svg;
  });
  return { svg: [shadeSvg, ...drawn].join(''), heightPx: y - top + (items.length > 0 ? ROW : 0) };
}

function hidesSome({ lines }: Shades): boolean {
  return lines.flat().some(({ riseMm }) => riseMm === null);
}

function shadeKey(data: FloorStripData, shades: Shades, y: number, widthPx: number): string {
  const { unit, size } = heightUnit(data.units);
  const more = shades.lines.flat().some(({ riseMm }) => (riseMm ?? 0) > STRIP_SHADES * shades.stepMm);
  const boxes = Array.from({ length: STRIP_SHADES }, (_, i) =>
    element('rect', { class: `shade-${i} key-box`, x: BOX * i, y, width: BOX, height: 11 }),
  );
  const edges = Array.from({ length: STRIP_SHADES + 1 }, (_, i) => {
    const value = figure((i * shades.stepMm) / size);
    const last = i === STRIP_SHADES;
    return textElement(
      { x: BOX * i, y: y + 22, 'text-anchor': i === 0 ? 'start' : last ? 'start' : 'middle' },
      last ? texts.shadeTop(`${value} ${unit}`, more) : value,
    );
  });
  const from = BOX * STRIP_SHADES + 10;
  const wordsText = texts.shadeKey(`${figure(1000 * shades.windowM)} mm`);
  const words = textElement({ x: from, y: y + 9.5 }, wordsText);
  const unknown = hidesSome(shades);
  const wide = widthPx >= ROOMY;
  const [atX, atY] = wide ? [from + LETTER_PX * wordsText.length + GAP, y] : [0, y + SHADE_ROW - 2];
  const hidden = !unknown
    ? ''
    : element('rect', { class: 'unknown-box', x: atX, y: atY, width: 16, height: 11 }) +
      textElement({ x: atX + 21, y: atY + 9.5 }, texts.shadeUnknown);
  return [...boxes, ...edges, words, hidden].join('');
}

function markItems({ bumps, lines }: FloorStripData, mostMm: number): Item[] {
  const kinds = KINDS.filter((kind) => bumps.some((bump) => bump.kind === kind));
  const named = (text: string, mark: (x: number, y: number) => string): Item => ({
    widthPx: MARK_PX + LETTER_PX * text.length,
    draw: (x, y) => mark(x + 8, y + 8) + textElement({ x: x + MARK_PX, y: y + 12 }, text),
  });
  const [first = 'bump'] = kinds;
  const loose = lines.length > 1 && bumps.some(({ wheelLine }) => wheelLine === 'unknown');
  return [
    ...kinds.map((kind) => named(texts.kind(kind), (x, y) => bumpMark(kind, mostMm / 2, mostMm, x, y))),
    named(texts.up, (x, y) => bumpMark(first, mostMm / 3, mostMm, x, y)),
    named(texts.down, (x, y) => bumpMark(first, -mostMm / 3, mostMm, x, y)),
    named(texts.sizeKey(`${figure(mostMm)} mm`), (x, y) => bumpMark(first, mostMm, mostMm, x, y)),
    ...(loose ? [{ widthPx: LETTER_PX * texts.loose.length, draw: looseWords }] : []),
  ];
}

function looseWords(x: number, y: number): string {
  return textElement({ x, y: y + 12 }, texts.loose);
}
