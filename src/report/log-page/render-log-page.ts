/** The log of runs as one HTML file that stands alone: what it says at a glance, floor by floor, and every run with the way to its report. */
import { percentFigure } from '../../run/index.js';
import { logPageTexts } from '../../texts/index.js';
import { html, verbatim, type Insert, type Markup } from '../html/markup.js';
import { liveFigure } from '../html/live-figure.js';
import { standalonePage } from '../html/standalone.js';
import { table } from '../html/table.js';
import { byFloor, isMeasured, verdictsOf, type FloorRuns } from './by-floor.js';
import { runList } from './run-list.js';
import { LOG_PAGE_STYLE } from './style.js';
import type { ListedRun, LogPage } from './types.js';

/** Floors that the chart shows; the table has all. */
const MOST_FLOORS = 20;
const DESK_PX = 1080;
const PHONE_PX = 360;

/** Renders the page; the same text for the same log. Everything that comes from sheets and file names is escaped. */
export function renderLogPage(page: LogPage): string {
  const runs = page.runs.map(({ run }) => run);
  const floors = byFloor(runs);
  const dates = runs.map(({ createdAt }) => page.atMinute(createdAt).slice(0, 10)).sort();
  const count = logPageTexts.runs(runs.length);
  const body = html`<header class="top">
      <div class="steps" aria-hidden="true"></div>
      <p class="slate">
        <span class="name">${count}</span
        >${dates.length === 0 ? null : html`<span>${logPageTexts.days(dates[0], dates[dates.length - 1])}</span>`}${
          page.filter === '' ? null : html`<span>${verbatim(logPageTexts.filtered(page.filter))}</span>`
        }<span>${logPageTexts.kind}</span>
      </p>
    </header>
    <main>
      <section class="answer" aria-labelledby="answer">
        <h1 id="answer"><span class="log-answer">${answer(runs, floors)}</span></h1>
      </section>
      ${runs.length === 0 ? null : html`${floorsSection(floors, page)}${runsSection(page)}`}
      <p class="legend">${verbatim(logPageTexts.about(page.file))}</p>
    </main>`;
  return standalonePage({
    title: logPageTexts.title(count),
    about: count,
    kind: logPageTexts.kind,
    style: LOG_PAGE_STYLE,
    units: page.units,
    body,
  });
}

function answer(runs: readonly ListedRun[], floors: readonly FloorRuns[]): string {
  if (runs.length === 0) return logPageTexts.nothing;
  const { pass, marginal, fail, unmeasurable } = verdictsOf(runs);
  const named = floors.filter(({ floor }) => floor !== null).length;
  const sentence = logPageTexts.answer(
    logPageTexts.runs(runs.length),
    logPageTexts.floors(Math.max(1, named)),
    pass,
    marginal,
    fail,
  );
  return unmeasurable === 0 ? sentence : `${sentence} ${logPageTexts.unmeasurable(unmeasurable)}`;
}

function floorsSection(floors: readonly FloorRuns[], page: LogPage): Markup {
  const drawn = floors.filter(({ crop }) => crop !== null).slice(0, MOST_FLOORS);
  return html`<section aria-labelledby="floors">
    <h2 id="floors">${logPageTexts.floorsHead}</h2>
    <p>${logPageTexts.floorsIntro}</p>
    ${
      drawn.length === 0
        ? null
        : liveFigure({
            kind: 'floorDots',
            data: {
              label: logPageTexts.chart,
              floors: drawn.map(({ floor, runs }) => ({
                name: floor ?? logPageTexts.noFloor,
                dots: runs
                  .filter(isMeasured)
                  .map((run) => ({ percent: run.cropPercent, grade: run.grade, name: nameOf(run) })),
              })),
            },
            caption: logPageTexts.chart,
            widthPx: DESK_PX,
            phoneWidthPx: PHONE_PX,
            after: html`<p class="legend">${logPageTexts.shapes}</p>`,
          })
    }
    ${table({
      caption: logPageTexts.floorTable,
      head: [...logPageTexts.floorHeads],
      rows: floors.map((floor) => floorRow(floor, page)),
      numeric: [1, 3, 4],
      wideOnly: [4, 6, 7],
    })}
  </section>`;
}

function floorRow(
  { floor, runs, verdicts, crop, classes, setups, lastAt }: FloorRuns,
  page: LogPage,
): Insert[] {
  return [
    floor === null ? logPageTexts.noFloor : verbatim(floor),
    runs.length,
    logPageTexts.verdicts(verdicts.pass, verdicts.marginal, verdicts.fail) || '–',
    crop === null ? '–' : logPageTexts.percent(percentFigure(crop.middle)),
    crop === null ? '–' : logPageTexts.percentRange(percentFigure(crop.low), percentFigure(crop.high)),
    classes === null ? '–' : logPageTexts.classRange(...classes),
    setups.length === 0 ? '–' : verbatim(setups.join(', ')),
    page.atMinute(lastAt).slice(0, 10),
  ];
}

/** What a run was, in a few words: its number and what tells it from others of its floor. */
function nameOf({ id, pass, clipFile, cropPercent }: ListedRun): string {
  const words = [pass.setup, pass.lane === undefined ? undefined : logPageTexts.lane(pass.lane)].filter(
    (word) => word !== undefined,
  );
  const what = words.length === 0 ? clipFile : words.join(', ');
  return `${id}, ${what}, ${logPageTexts.percent(percentFigure(cropPercent))}`;
}

function runsSection(page: LogPage): Markup {
  return html`<section aria-labelledby="runs">
    <h2 id="runs">${logPageTexts.runsHead}</h2>
    <div class="run-tools" data-find="${logPageTexts.find}"></div>
    ${runList(page)} ${page.more === 0 ? null : html`<p class="legend">${logPageTexts.more(page.more)}</p>`}
  </section>`;
}
