/** Tables of cases, such as lenses: what each would cost and leave, and the grade that it would earn; a sentence where nobody can tell. */
import { whatIfTexts } from '../../texts/index.js';
import { gradeMark, gradeWord, type PointGrade } from '../charts/index.js';
import { html, trusted, type Insert, type Markup } from './markup.js';

/** A figure with the range that decides. */
export interface Figure {
  readonly text: string;
  /** "1.1 to 1.5"; empty where both ends read the same. */
  readonly range: string;
}

/** A row of a table; a refusal stands in the place of the figures. */
export interface Case {
  readonly name: string;
  /** Whether it is the case of the pass, or the one that was asked for; else nothing. */
  readonly note: string;
  readonly crop: Figure;
  readonly left: Figure;
  readonly grade: PointGrade | null;
  readonly refused: string | null;
}

/** One of the tables. */
export interface Cases {
  readonly title: string;
  readonly head: string;
  readonly cases: readonly Case[];
  /** In the place of the table. */
  readonly refused: string | null;
  /** A sentence below the table; null where there is nothing to say. */
  readonly below: string | null;
}

/** Writes the table, or what stands in its place. */
export function caseTable({ title, head, cases, refused, below }: Cases): Markup {
  if (refused !== null)
    return html`<div class="cases">
      <h3>${title}</h3>
      <p class="note">${refused}</p>
    </div>`;
  const heads = [head, whatIfTexts.head.crop, whatIfTexts.head.left, whatIfTexts.head.grade];
  return html`<div class="cases">
    <div class="scroll" role="region" tabindex="0" aria-label="${title}">
      <table>
        <caption>
          ${title}
        </caption>
        <thead>
          <tr>
            ${heads.map((text) => html`<th scope="col">${text}</th>`)}
          </tr>
        </thead>
        <tbody>
          ${cases.map(
            (one) =>
              html`<tr>
                ${caseCells(one)}
              </tr> `,
          )}
        </tbody>
      </table>
    </div>
    ${below === null ? null : html`<p class="legend">${below}</p>`}
  </div>`;
}

function caseCells({ name, note, crop, left, grade, refused }: Case): Markup {
  const row = html`<th scope="row">
    ${note === '' ? name : html`<strong>${name}</strong><span class="sub">${note}</span>`}
  </th>`;
  // A sentence takes the place of the figures.
  if (refused !== null)
    return html`${row}
      <td colspan="3" class="muted">${refused}</td>`;
  return html`${row}
    <td>${figureCell(crop)}</td>
    <td>${figureCell(left)}</td>
    <td class="grade">${grade === null ? '–' : graded(grade)}</td>`;
}

function figureCell({ text, range }: Figure): Insert {
  return range === '' ? text : html`${text}<span class="sub">${range}</span>`;
}

/** A grade as shape and word. */
export function graded(grade: PointGrade): Markup {
  return html`${trusted(gradeMark(grade))}${gradeWord(grade)}`;
}
