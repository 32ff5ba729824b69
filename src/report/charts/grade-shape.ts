/** The shape of a verdict in a chart, a table or a line of text: told apart without colour. */
import type { VerdictSection } from '../../run/index.js';
import { element } from './svg.js';

/** Draws the shape about a place in px: pass a disc, marginal a triangle, fail a cross, unmeasurable a dash. */
export function gradeShape(grade: VerdictSection['grade'], x: number, y: number): string {
  const at = `${x.toFixed(2)} ${y.toFixed(2)}`;
  if (grade === 'pass') return element('circle', { class: 'grade-fill', cx: x, cy: y, r: 3.4 });
  if (grade === 'marginal') return element('path', { class: 'grade-fill', d: `M${at}m0 -4.6l4.6 8h-9.2z` });
  if (grade === 'fail')
    return element('path', { class: 'grade-line', d: `M${at}m-3.4 -3.4l6.8 6.8m0 -6.8l-6.8 6.8` });
  return element('path', { class: 'grade-line', d: `M${at}m-3.6 0h7.2` });
}

/** The shape in a line of text or a table; its word stands beside it. @returns SVG text, 12 x 12 */
export function gradeMark(grade: VerdictSection['grade']): string {
  return element(
    'svg',
    { class: 'grade-mark', viewBox: '0 0 12 12', 'aria-hidden': 'true' },
    gradeShape(grade, 6, 6),
  );
}
