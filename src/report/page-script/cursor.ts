/** The mark over a drawing: a line at the place that is read, dots on the curves, and the stretch that is being dragged over. */
import type { DrawnChart, Reading } from '../charts/index.js';
import { makeSvg } from './elements.js';
import { pxAt } from './place.js';

/** Radius of a dot, px. */
const DOT = 3.5;

/** Lies over the drawing, in px of it. */
export class Cursor {
  readonly element = makeSvg('svg', { class: 'live-cursor', 'aria-hidden': 'true' });
  readonly #marks = makeSvg('g', {});
  readonly #stretch = makeSvg('rect', { class: 'live-stretch', width: 0 });

  constructor() {
    this.element.append(this.#stretch, this.#marks);
  }

  /** Takes the size of a drawing. */
  fit(drawn: SVGSVGElement): void {
    this.element.setAttribute('viewBox', drawn.getAttribute('viewBox') ?? '');
  }

  /** Marks a reading; nothing is marked for null or for one that lies beside what is drawn. */
  mark(drawn: DrawnChart, reading: Reading | null): void {
    this.#marks.replaceChildren();
    const x = reading === null ? null : pxAt(drawn, reading.at);
    if (reading === null || x === null) return;
    const { top, bottom } = drawn.area;
    this.#marks.append(makeSvg('line', { class: 'live-line', x1: x, x2: x, y1: top, y2: bottom }));
    for (const { yPx } of reading.values)
      if (yPx !== null) this.#marks.append(makeSvg('circle', { class: 'live-dot', cx: x, cy: yPx, r: DOT }));
  }

  /** Shades the drawing between two places, px of it; null takes the shade away. */
  shade({ area }: DrawnChart, ends: readonly [number, number] | null): void {
    const inside = (x: number): number => Math.min(area.right, Math.max(area.left, x));
    const [from, to] = ends === null ? [0, 0] : [inside(Math.min(...ends)), inside(Math.max(...ends))];
    const size = { x: from, width: to - from, y: area.top, height: area.bottom - area.top };
    for (const [key, value] of Object.entries(size)) this.#stretch.setAttribute(key, String(value));
  }
}
