/** Axis lines, ticks and labels of a chart, in px of its box. */
import { element, textElement } from './svg.js';

/** The inside of a chart, px. */
export interface PlotArea {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** One tick: where, and what stands beside it. */
export interface Tick {
  readonly at: number;
  readonly label: string;
}

/** How far the title stands under the axis, px. */
const TITLE_DROP = 28;

/** Ticks and labels along the bottom, with `title` (quantity and unit) under the right end, `drop` px under the axis. */
export function bottomAxis(area: PlotArea, ticks: readonly Tick[], title: string, drop = TITLE_DROP): string {
  const marks = ticks.map(({ at, label }) =>
    [
      element('line', { class: 'grid', x1: at, x2: at, y1: area.top, y2: area.bottom }),
      element('line', { class: 'tick', x1: at, x2: at, y1: area.bottom, y2: area.bottom + 4 }),
      textElement({ class: 'tick-label', x: at, y: area.bottom + 15, 'text-anchor': 'middle' }, label),
    ].join(''),
  );
  return [
    ...marks,
    element('line', { class: 'axis', x1: area.left, x2: area.right, y1: area.bottom, y2: area.bottom }),
    textElement({ class: 'axis-title', x: area.right, y: area.bottom + drop, 'text-anchor': 'end' }, title),
  ].join('');
}

/** Ticks and labels at the left, with `title` (quantity and unit) above the axis. */
export function leftAxis(area: PlotArea, ticks: readonly Tick[], title: string): string {
  const marks = ticks.map(({ at, label }) =>
    [
      element('line', { class: 'grid', x1: area.left, x2: area.right, y1: at, y2: at }),
      textElement({ class: 'tick-label', x: area.left - 5, y: at + 3.5, 'text-anchor': 'end' }, label),
    ].join(''),
  );
  return [...marks, textElement({ class: 'axis-title', x: 0, y: area.top - 11 }, title)].join('');
}
