/** The marks of the ratio chart, in px of the drawing: the bar of a range, and a shape for what a ratio says. */
import type { RatioMark } from './ratio-chart.js';
import { element } from './svg.js';

/** The bar of a range; an end that lies outside of the plot is an arrow, an end inside a short stroke. */
export function rangeBar(
  [from, to]: readonly [number, number],
  outside: { readonly low: boolean; readonly high: boolean },
  clear: boolean,
  y: number,
): string {
  const end = (at: number, goesOn: boolean, towards: 1 | -1): string =>
    goesOn ? `M${at - 5 * towards} ${y - 4}l${5 * towards} 4l${-5 * towards} 4` : `M${at} ${y - 4}v8`;
  return [
    element('line', { class: clear ? 'ratio-bar clear' : 'ratio-bar', x1: from, x2: to, y1: y, y2: y }),
    element('path', {
      class: 'ratio-end',
      d: rounded(end(from, outside.low, -1) + end(to, outside.high, 1)),
    }),
  ].join('');
}

/** A triangle that points to the smoother side, a square for the same, a circle for what is not clear. */
export function ratioMark(mark: RatioMark, x: number, y: number): string {
  switch (mark) {
    case 'aSmoother':
      return element('path', { class: 'ratio-mark clear', d: rounded(`M${x - 8} ${y}l14 -7v14z`) });
    case 'bSmoother':
      return element('path', { class: 'ratio-mark clear', d: rounded(`M${x + 8} ${y}l-14 -7v14z`) });
    case 'same':
      return element('rect', { class: 'ratio-mark', x: x - 5, y: y - 5, width: 10, height: 10 });
    default:
      return element('circle', { class: 'ratio-mark', cx: x, cy: y, r: 5 });
  }
}

function rounded(path: string): string {
  return path.replace(/-?\d+\.\d+/g, (text) => String(Math.round(100 * Number(text)) / 100));
}
