/** The page of an answer: one HTML file that stands alone, with the verdict, both states, crop over lens and speed, and the tables. */
import { limitFigure, type PredictedOutcome, type WhatIfDocument, type WhatIfRow } from '../../run/index.js';
import {
  gradeMark,
  gradeWord,
  verdictBadge,
  whatIfChart,
  type PointGrade,
  type WhatIfChartData,
  type WhatIfMark,
  type WhatIfPoint,
} from '../charts/index.js';
import { reasonsSection } from '../html/reasons.js';
import { adviceList } from '../html/first-screen.js';
import { html, trusted, verbatim, type Insert, type Markup } from '../html/markup.js';
import { standalonePage } from '../html/standalone.js';
import { table } from '../html/table.js';
import {
  askedInWords,
  caseTables,
  comparedRows,
  firstLine,
  RANGES_HOLD,
  type Case,
  type Cases,
  type Figure,
} from './words.js';

const STYLE = `
.grade-mark{width:.72em;height:.72em;margin-right:.35em;vertical-align:-.02em}
.asked{margin:.2rem 0 0;padding:0;list-style:none}
.tables{columns:2;column-gap:2.4rem}
.cases{break-inside:avoid;margin:0 0 1.4rem}
.cases caption{color:var(--ink);font-weight:600;font-size:.9375rem}
.cases tbody th{font-weight:400}
.cases .grade,.cases .sub{white-space:nowrap}
@media (max-width:52rem){.tables{columns:1}}
@media print{.tables{columns:2;column-gap:6mm}.cases caption{font-size:9.5pt}}
`;

/** Renders the page; the same text for the same answer. Everything that comes from outside is escaped. */
export function renderWhatIf(answer: WhatIfDocument): string {
  const { run, refused, then, measured, assumes } = answer;
  const { grade, word, sentence } = firstLine(answer);
  const asked = askedInWords(answer);
  const { verdict } = then ?? measured;
  const body = html`<header class="top">
      <div class="steps" aria-hidden="true"></div>
      <p class="slate">
        <span class="name">${verbatim(run.clip)}</span><span>${setupOf(answer)}</span
        ><span>Trundle what if</span>
      </p>
    </header>
    <main>
      <section class="first" aria-labelledby="verdict">
        <div class="verdict ${grade}">
          <h1 id="verdict">
            <span class="mark" aria-hidden="true">${trusted(verdictBadge(grade))}</span
            ><span class="word">${word}</span> <span class="sentence">${sentence}</span>
          </h1>
        </div>
        <div class="advice">
          <h2>${asked.length === 0 ? 'Nothing asked' : 'Asked'}</h2>
          ${
            asked.length === 0
              ? html`<p>The pass as it was measured, and what else it could be used for.</p>`
              : html`<ul class="asked">
                  ${asked.map((text) => html`<li>${text}</li>`)}
                </ul>`
          }
        </div>
        ${refused === null ? adviceOf(verdict, answer.adviceNote) : null}
        <div class="picture">${comparison(answer)}</div>
      </section>
      ${chartsSection(answer)} ${tablesSection(answer)}
      ${refused === null ? reasonsSection({ verdict }) : null}
      ${
        assumes.length === 0
          ? null
          : html`<section aria-labelledby="assumes">
              <h2 id="assumes">Taken for granted</h2>
              <ul>
                ${assumes.map((text) => html`<li>${text}</li>`)}
              </ul>
            </section>`
      }
    </main>`;
  return standalonePage({
    title: `${word}: what if, ${run.clip}`,
    about: run.clip,
    kind: 'Trundle what if',
    style: STYLE,
    body,
  });
}

function setupOf({ run: { pass } }: WhatIfDocument): string {
  const words = [pass.floor, pass.lane, pass.setup].filter((word) => word !== undefined);
  return words.length === 0 ? 'no sheet of the pass' : words.join(', ');
}

/** Empty where nothing is foretold that has to do with what keeps the verdict from pass. */
function adviceOf(verdict: WhatIfDocument['measured']['verdict'], note: string | null): Markup {
  return html`<div class="advice">
    ${verdict.advice.length === 0 ? null : adviceList(verdict)}
    ${note === null ? null : html`<p class="muted">${note}</p>`}
  </div>`;
}

function comparison(answer: WhatIfDocument): Markup {
  const { head, rows } = comparedRows(answer);
  const words = rows.map(([name, ...texts]): Insert[] => [
    name,
    ...(name === 'Grade' ? texts.map((text, i) => gradeOfState(answer, i, text)) : texts),
  ]);
  return table({
    caption: answer.then === null ? 'The pass as it is' : 'The pass as it is, and as asked for',
    head: ['', ...head],
    rows: words,
  });
}

function gradeOfState({ measured, then }: WhatIfDocument, column: number, word: string): Insert {
  const { grade } = (column === 1 && then !== null ? then : measured).verdict;
  return grade === 'unmeasurable' ? word : graded(grade);
}

function chartsSection(answer: WhatIfDocument): Markup | null {
  const focal = focalChart(answer);
  const speed = speedChart(answer);
  if (focal === null && speed === null) return null;
  return html`<section aria-labelledby="crop">
    <h2 id="crop">Crop over lens and speed</h2>
    <div class="side">
      ${focal === null ? null : chartBox('Crop', 'over the focal length', focal)}
      ${speed === null ? null : chartBox('Crop', 'over the speed', speed)}
    </div>
    <p class="legend">
      ${(['pass', 'marginal', 'fail'] as const).map((grade) => html`${trusted(gradeMark(grade))}${gradeWord(grade).toLowerCase()} &emsp;`)}
      The grade is of crop and shake left together. Dashed: the limit of the delivery. Shaded: the range that
      decides (95 %). Diamonds: the pass as it was shot, and what was asked.${offCurve(answer)}
    </p>
  </section>`;
}

/** Why a diamond may lie beside the curve: all else is as asked for there. */
function offCurve({ then, asked }: WhatIfDocument): string {
  const others = asked.filter(({ from, to }) => from !== to).map(({ what }) => what.toLowerCase());
  return then === null || others.length === 0
    ? ''
    : ` A diamond off the curve is the pass as shot (other ${others.join(', other ')}).`;
}

function chartBox(name: string, over: string, chart: WhatIfChartData): Markup {
  return html`<figure class="chart-box">
    <figcaption><b>${name}</b> ${over}</figcaption>
    ${trusted(whatIfChart(chart))}
  </figure>`;
}

function focalChart(answer: WhatIfDocument): WhatIfChartData | null {
  const { tables, measured, then } = answer;
  const inMm = tables.focal.every(({ focalLengthMm }) => focalLengthMm !== null);
  const points = pointsOf(tables.focal, ({ focalLengthMm, factor }) => focalLengthMm ?? factor);
  return chartOf(answer, points, {
    label: 'Crop over the focal length',
    xTitle: inMm ? 'focal length, mm' : 'focal length over the one used',
    measuredX: inMm ? measured.focalLengthMm : 1,
    askedX: then === null ? null : inMm ? then.focalLengthMm : 1,
  });
}

function speedChart(answer: WhatIfDocument): WhatIfChartData | null {
  const { tables, measured, then } = answer;
  return chartOf(
    answer,
    pointsOf(tables.speed, ({ speedMps }) => speedMps),
    {
      label: 'Crop over the speed',
      xTitle: 'speed, m/s',
      measuredX: measured.speedMps,
      askedX: then === null ? null : then.speedMps,
    },
  );
}

function pointsOf<Row extends WhatIfRow>(rows: readonly Row[], x: (row: Row) => number): WhatIfPoint[] {
  return rows.flatMap((row) => (row.outcome?.coverable === true ? [pointOf(x(row), row.outcome)] : []));
}

function pointOf(x: number, { cropPercent: { value, low, high }, grade }: PredictedOutcome): WhatIfPoint {
  return { x, percent: value, low, high, grade };
}

interface Axis {
  readonly label: string;
  readonly xTitle: string;
  readonly measuredX: number | null;
  readonly askedX: number | null;
}

/** Null where fewer than two cases can be foretold: that is no curve. */
function chartOf(
  { measured, then }: WhatIfDocument,
  points: readonly WhatIfPoint[],
  { label, xTitle, measuredX, askedX }: Axis,
): WhatIfChartData | null {
  if (points.length < 2) return null;
  const { delivery } = then ?? measured;
  const mark = (x: number | null, state: typeof measured | null, name: string): WhatIfMark[] =>
    x === null || state === null || !state.coverable ? [] : [{ x, percent: state.cropPercent.value, name }];
  const shot = mark(measuredX, measured, 'as shot');
  const asked = mark(askedX, then, 'asked');
  const same =
    shot.length > 0 && asked.length > 0 && shot[0].x === asked[0].x && shot[0].percent === asked[0].percent;
  return {
    label: `${label}; the limit is ${limitFigure(delivery.maxCropPercent)} %`,
    xTitle,
    points,
    limitPercent: delivery.maxCropPercent,
    marks: same ? shot : [...shot, ...asked],
  };
}

function tablesSection(answer: WhatIfDocument): Markup | null {
  const tables = caseTables(answer);
  if (tables.length === 0) return null;
  return html`<section aria-labelledby="tables">
    <h2 id="tables">One thing at a time</h2>
    <p class="muted">
      In each table one thing differs${answer.then === null ? '' : ' from what was asked'}; all else stays.
      ${RANGES_HOLD}
    </p>
    <div class="tables">${tables.map(caseTable)}</div>
  </section>`;
}

function caseTable({ title, head, cases, refused, below }: Cases): Markup {
  if (refused !== null)
    return html`<div class="cases">
      <h3>${title}</h3>
      <p class="note">${refused}</p>
    </div>`;
  return html`<div class="cases scroll" role="region" tabindex="0" aria-label="${title}">
    <table>
      <caption>
        ${title}
      </caption>
      <thead>
        <tr>
          ${[head, 'Crop', 'Shake left, RMS', 'Grade'].map((text) => html`<th scope="col">${text}</th>`)}
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

function graded(grade: PointGrade): Markup {
  return html`${trusted(gradeMark(grade))}${gradeWord(grade)}`;
}
