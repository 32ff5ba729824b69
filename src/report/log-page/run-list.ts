/** Every run of the log as a table: picture, sheet, figures, verdict, and the way to its report. */
import { figure, percentFigure } from '../../run/index.js';
import { logPageTexts } from '../../texts/index.js';
import { gradeMark, gradeWord } from '../charts/index.js';
import { lensMm } from '../format.js';
import { html, trusted, verbatim, type Insert, type Markup } from '../html/markup.js';
import { isMeasured } from './by-floor.js';
import type { ListedRun, LogPage, ShownRun } from './types.js';

/** Classes of columns: flush right, and left out on a phone. */
const NUMERIC = 'num';
const WIDE = 'wide';

/** The table; the script of the page makes it sortable by the values that its cells carry. */
export function runList(page: LogPage): Markup {
  const [run, measured, what, lens, crop, left, surface, verdict] = logPageTexts.runHeads;
  const pictures = page.runs.some(({ thumbnailUri }) => thumbnailUri !== null);
  const head: readonly [string, string][] = [
    [run, NUMERIC],
    [measured, WIDE],
    [what, ''],
    [lens, WIDE],
    [crop, NUMERIC],
    [left, `${NUMERIC} ${WIDE}`],
    [surface, WIDE],
    [verdict, ''],
  ];
  return html`<div class="scroll" role="region" tabindex="0" aria-label="${logPageTexts.runTable}">
    <table class="run-list">
      <caption>
        ${logPageTexts.runTable}
      </caption>
      <thead>
        <tr>
          ${pictures ? html`<td class="thumb-cell"></td>` : null}
          ${head.map(([name, kind]) => html`<th scope="col" class="${kind}">${name}</th>`)}
        </tr>
      </thead>
      <tbody>
        ${page.runs.map((shown) => row(shown, page, pictures))}
      </tbody>
    </table>
  </div>`;
}

function row({ run, reportHref, thumbnailUri }: ShownRun, page: LogPage, pictures: boolean): Markup {
  const measured = run.grade !== 'unmeasurable';
  const number =
    reportHref === null
      ? html`<span title="${logPageTexts.reportGone}">${run.id}</span>`
      : html`<a href="${reportHref}" aria-label="${logPageTexts.openReport(run.id)}">${run.id}</a>`;
  return html`<tr>
    ${
      pictures
        ? html`<td class="thumb-cell">
            ${thumbnailUri === null ? null : html`<img class="thumb" src="${thumbnailUri}" alt="" loading="lazy" />`}
          </td>`
        : null
    }
    <th scope="row" class="num" data-sort="${run.id}">${number}</th>
    <td class="wide" data-sort="${run.createdAt}">${page.atMinute(run.createdAt)}</td>
    <td data-sort="${[run.pass.floor ?? '', run.pass.lane ?? '', run.pass.setup ?? ''].join(' ')}">
      ${whatRolled(run)}<span class="sub narrow">${page.atMinute(run.createdAt)}</span>
    </td>
    <td class="wide" data-sort="${run.focalLengthMm ?? ''}">${lensAndSpeed(run)}</td>
    <td class="num" data-sort="${isMeasured(run) ? run.cropPercent : ''}">${cropOf(run)}</td>
    <td class="num wide" data-sort="${run.residualPx ?? ''}">
      ${measured && run.residualPx !== null ? logPageTexts.px(figure(run.residualPx)) : '–'}
    </td>
    <td class="wide" data-sort="${run.surfaceClass ?? ''}">${run.surfaceClass ?? '–'}</td>
    <td class="verdict-cell" data-sort="${ORDER[run.grade]}">
      ${trusted(gradeMark(run.grade))}${gradeWord(run.grade)}${inDoubt(run)}
    </td>
  </tr> `;
}

/** That the verdict is doubted; the report says why. */
function inDoubt({ grade, doubts }: ListedRun): Markup | null {
  return doubts.length === 0 || grade === 'unmeasurable'
    ? null
    : html`<span class="sub">${logPageTexts.inDoubt}</span>`;
}

/** From best to worst, for sorting. */
const ORDER: Readonly<Record<ListedRun['grade'], number>> = {
  pass: 0,
  marginal: 1,
  fail: 2,
  unmeasurable: 3,
};

function whatRolled({ pass, clipFile, readable, delivery }: ListedRun): Insert {
  const parts = [
    ...(pass.lane === undefined ? [] : [logPageTexts.lane(pass.lane)]),
    ...(pass.setup === undefined ? [] : [pass.setup]),
    ...(pass.direction === undefined ? [] : [logPageTexts.way(pass.direction)]),
    ...(delivery.name === null ? [] : [logPageTexts.delivery(delivery.name)]),
    ...(pass.tags ?? []),
    ...(readable ? [] : [logPageTexts.otherVersion]),
  ];
  return html`${pass.floor === undefined ? verbatim(clipFile) : html`${verbatim(pass.floor)}<span class="sub">${verbatim(clipFile)}</span>`}${
    parts.length === 0 ? null : html`<span class="sub">${verbatim(parts.join(', '))}</span>`
  }`;
}

function lensAndSpeed({ focalLengthMm, speedMps }: ListedRun): Insert {
  return html`${focalLengthMm === null ? '–' : logPageTexts.lens(lensMm(focalLengthMm))}${
    speedMps === null ? null : html`<span class="sub">${logPageTexts.speed(figure(speedMps))}</span>`
  }`;
}

function cropOf(run: ListedRun): string {
  if (run.grade === 'unmeasurable') return '–';
  return run.coverable ? logPageTexts.percent(percentFigure(run.cropPercent)) : logPageTexts.moreThanHalf;
}
