/** The page of an answer: one HTML file that stands alone, with the verdict, both states, crop over lens and speed, and the tables. */
import { LONGER_TAKE_OVER_LIMIT } from '../../judge/index.js';
import {
  figure,
  limitFigure,
  type PredictedOutcome,
  type WhatIfDocument,
  type WhatIfRow,
  type WhatIfState,
} from '../../run/index.js';
import { firstScreenTexts, whatIfTexts } from '../../texts/index.js';
import {
  gradeMark,
  gradeWord,
  verdictBadge,
  type WhatIfChartData,
  type WhatIfMark,
  type WhatIfPoint,
} from '../charts/index.js';
import { reasonsSection } from '../html/reasons.js';
import { adviceList } from '../html/advice.js';
import { caseTable, graded } from '../html/case-table.js';
import { liveFigure } from '../html/live-figure.js';
import { html, trusted, verbatim, type Insert, type Markup } from '../html/markup.js';
import { standalonePage } from '../html/standalone.js';
import { table } from '../html/table.js';
import { askedInWords, caseTables, comparedRows, firstLine } from './words.js';

const STYLE = `
.asked{margin:.2rem 0 0;padding:0;list-style:none}
`;

/** Widths of the charts: two beside each other on a desk, one alone, and on a phone, px. */
const SIDE_PX = 540;
const ALONE_PX = 1080;
const PHONE_PX = 360;

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
        ><span>${whatIfTexts.pageKind}</span>
      </p>
    </header>
    <main>
      <section class="first" aria-labelledby="verdict">
        <div class="verdict ${grade}">
          <h1 id="verdict">
            <span class="mark" aria-hidden="true">${trusted(verdictBadge(grade))}</span
            ><span class="word">${word}</span> <span class="sentence">${sentence}</span>
          </h1>
          ${refused === null ? minded(verdict) : null}
        </div>
        <div class="advice">
          <h2>${asked.length === 0 ? whatIfTexts.nothingAsked : whatIfTexts.askedHeading}</h2>
          ${
            asked.length === 0
              ? html`<p>${whatIfTexts.nothingAskedText}</p>`
              : html`<ul class="asked">
                  ${asked.map((text) => html`<li>${text}</li>`)}
                </ul>`
          }
        </div>
        ${refused === null ? adviceOf(then ?? measured, answer.adviceNote) : null}
        <div class="picture">${comparison(answer)}</div>
      </section>
      ${chartsSection(answer)} ${tablesSection(answer)}
      ${refused === null ? reasonsSection({ verdict }) : null}
      ${
        assumes.length === 0
          ? null
          : html`<section aria-labelledby="assumes">
              <h2 id="assumes">${whatIfTexts.assumedHeading}</h2>
              <ul>
                ${assumes.map((text) => html`<li>${text}</li>`)}
              </ul>
            </section>`
      }
    </main>`;
  return standalonePage({
    title: whatIfTexts.pageTitle(word, run.clip),
    about: run.clip,
    kind: whatIfTexts.pageKind,
    style: STYLE,
    units: run.units,
    body,
  });
}

/** What the verdict does not hold for: a longer take. */
function minded({ grade, reasons }: WhatIfState['verdict']): Markup[] {
  if (grade === 'unmeasurable') return [];
  return reasons
    .filter(({ code }) => code === LONGER_TAKE_OVER_LIMIT)
    .map(
      ({ text }) =>
        html`<p class="reservation"><span class="word">${firstScreenTexts.mind}:</span> ${text}</p>`,
    );
}

function setupOf({ run: { pass } }: WhatIfDocument): string {
  const words = [pass.floor, pass.lane, pass.setup].filter((word) => word !== undefined);
  return words.length === 0 ? whatIfTexts.noSheet : words.join(', ');
}

/** Empty where nothing is foretold that has to do with what keeps the verdict from pass. */
function adviceOf(state: WhatIfDocument['measured'], note: string | null): Markup {
  return html`<div class="advice">
    ${state.verdict.advice.length === 0 ? null : adviceList(state)}
    ${note === null ? null : html`<p class="muted">${note}</p>`}
  </div>`;
}

function comparison(answer: WhatIfDocument): Markup {
  const { head, rows } = comparedRows(answer);
  const words = rows.map(([name, ...texts]): Insert[] => [
    name,
    ...(name === whatIfTexts.rows.grade ? texts.map((text, i) => gradeOfState(answer, i, text)) : texts),
  ]);
  return table({
    caption: answer.then === null ? whatIfTexts.oneState : whatIfTexts.twoStates,
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
  const widthPx = focal === null || speed === null ? ALONE_PX : SIDE_PX;
  const box = (over: string, data: WhatIfChartData): Markup =>
    liveFigure({
      kind: 'whatIfCrop',
      data,
      caption: html`<b>${whatIfTexts.crop}</b> ${over}`,
      widthPx,
      phoneWidthPx: PHONE_PX,
    });
  return html`<section aria-labelledby="crop">
    <h2 id="crop">${whatIfTexts.chartsHeading}</h2>
    <div class="side">
      ${focal === null ? null : box(whatIfTexts.overLens, focal)}
      ${speed === null ? null : box(whatIfTexts.overSpeed, speed)}
    </div>
    <p class="legend">
      ${(['pass', 'marginal', 'fail'] as const).map((grade) => html`${trusted(gradeMark(grade))}${gradeWord(grade).toLowerCase()} &emsp;`)}
      ${whatIfTexts.chartLegend}${offCurve(answer)}
    </p>
  </section>`;
}

/** Why a diamond may lie beside the curve: all else is as asked for there. */
function offCurve({ then, asked }: WhatIfDocument): string {
  const others = asked.filter(({ from, to }) => from !== to).map(({ what }) => what.toLowerCase());
  return then === null || others.length === 0 ? '' : whatIfTexts.offCurve(others);
}

function focalChart(answer: WhatIfDocument): WhatIfChartData | null {
  const { tables, measured, then } = answer;
  const inMm = tables.focal.every(({ focalLengthMm }) => focalLengthMm !== null);
  const points = pointsOf(
    tables.focal,
    ({ focalLengthMm, factor }) => focalLengthMm ?? factor,
    ({ focalLengthMm, factor }) =>
      focalLengthMm === null
        ? whatIfTexts.lensTimesUsed(figure(factor))
        : whatIfTexts.aLens(figure(focalLengthMm)),
  );
  return chartOf(answer, points, {
    over: whatIfTexts.overLens,
    xTitle: inMm ? whatIfTexts.lensAxis : whatIfTexts.lensTimesAxis,
    measuredX: inMm ? measured.focalLengthMm : 1,
    askedX: then === null ? null : inMm ? then.focalLengthMm : 1,
  });
}

function speedChart(answer: WhatIfDocument): WhatIfChartData | null {
  const { tables, measured, then } = answer;
  return chartOf(
    answer,
    pointsOf(
      tables.speed,
      ({ speedMps }) => speedMps,
      ({ speedMps }) => whatIfTexts.speed(figure(speedMps)),
    ),
    {
      over: whatIfTexts.overSpeed,
      xTitle: whatIfTexts.speedAxis,
      measuredX: measured.speedMps,
      askedX: then === null ? null : then.speedMps,
    },
  );
}

function pointsOf<Row extends WhatIfRow>(
  rows: readonly Row[],
  x: (row: Row) => number,
  name: (row: Row) => string,
): WhatIfPoint[] {
  return rows.flatMap((row) =>
    row.outcome?.coverable === true ? [pointOf(x(row), name(row), row.outcome)] : [],
  );
}

function pointOf(
  x: number,
  name: string,
  { cropPercent: { value, low, high }, grade }: PredictedOutcome,
): WhatIfPoint {
  return { x, name, percent: value, low, high, grade };
}

interface Axis {
  readonly over: string;
  readonly xTitle: string;
  readonly measuredX: number | null;
  readonly askedX: number | null;
}

/** Null where fewer than two cases can be foretold: that is no curve. */
function chartOf(
  { measured, then }: WhatIfDocument,
  points: readonly WhatIfPoint[],
  { over, xTitle, measuredX, askedX }: Axis,
): WhatIfChartData | null {
  if (points.length < 2) return null;
  const { delivery } = then ?? measured;
  const mark = (x: number | null, state: typeof measured | null, name: string): WhatIfMark[] =>
    x === null || state === null || !state.coverable ? [] : [{ x, percent: state.cropPercent.value, name }];
  const shot = mark(measuredX, measured, whatIfTexts.markShot);
  const asked = mark(askedX, then, whatIfTexts.markAsked);
  const same =
    shot.length > 0 && asked.length > 0 && shot[0].x === asked[0].x && shot[0].percent === asked[0].percent;
  return {
    label: whatIfTexts.chartLabel(over, limitFigure(delivery.maxCropPercent)),
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
    <h2 id="tables">${whatIfTexts.tablesHeading}</h2>
    <p class="muted">${whatIfTexts.tablesIntro(answer.then !== null)} ${whatIfTexts.rangesHold}</p>
    <div class="tables">${tables.map(caseTable)}</div>
  </section>`;
}
