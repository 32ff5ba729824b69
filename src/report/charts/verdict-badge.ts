/** The mark of a verdict: a shape of its own for each grade, so that colour is never needed to tell them apart. */
import { verdictTexts } from '../../texts/index.js';
import { element, svgRoot } from './svg.js';

/** The grades of a verdict. */
export type BadgeGrade = 'pass' | 'marginal' | 'fail' | 'unmeasurable';

const SHAPES: Record<BadgeGrade, { outline: string; sign: string }> = {
  pass: { outline: 'M24 3a21 21 0 1 1 0 42a21 21 0 1 1 0 -42z', sign: 'M14 25l7 7l14 -15' },
  marginal: { outline: 'M24 4l22 39h-44z', sign: 'M24 17v13M24 35.5v1.5' },
  fail: {
    outline: 'M15 3h18l12 12v18l-12 12h-18l-12 -12v-18z',
    sign: 'M16 16l16 16M32 16l-16 16',
  },
  unmeasurable: {
    outline: 'M24 2l22 22l-22 22l-22 -22z',
    sign: 'M18.5 19a5.5 5.5 0 1 1 8.5 4.6q-3 1.7 -3 4.4M24 33v1.5',
  },
};

/** The word that goes with a grade. */
export function gradeWord(grade: BadgeGrade): string {
  return verdictTexts.grades[grade];
}

/** Draws the mark: circle, triangle, octagon or diamond with its sign. @returns SVG text, 48 x 48 */
export function verdictBadge(grade: BadgeGrade): string {
  const { outline, sign } = SHAPES[grade];
  return svgRoot(
    48,
    48,
    verdictTexts.grades[grade],
    element('path', { class: `badge ${grade}`, d: outline }),
    element('path', { class: 'badge-sign', d: sign }),
  );
}
