/** The same shake on other lenses and at other speeds: which lens still passes, and what another speed would change. */
import {
  figure,
  limitFigure,
  percentFigure,
  type RunDocument,
  type StabiliseSection,
} from '../../run/index.js';
import { whatIfTexts } from '../../texts/index.js';
import type { WhatIfChartData } from '../charts/index.js';
import type { Readers, ReportBundle } from '../types.js';
import { lensCases, lensPoints, lensesOf, speedCases, speedName } from '../what-if/run-cases.js';
import { caseTable } from './case-table.js';
import { liveFigure } from './live-figure.js';
import { html, type Insert, type Markup } from './markup.js';
import { behind, table } from './table.js';

/** The section on other lenses and speeds. @param readers who has sliders is not sent to a command */
export function whatIfSection({ run }: Pick<ReportBundle, 'run'>, readers: Readers = 'file'): Markup {
  const { whatIf, steadiness } = run.stabilise;
  const own = whatIf.speed.find(({ factor }) => factor === 1)?.assumes ?? '';
  return html`<section aria-labelledby="what-if">
    <h2 id="what-if">${whatIfTexts.heading}</h2>
    <p>${longestLens(run)}</p>
    ${lensChart(run)}
    <div class="tables">
      ${caseTable({
        title: whatIfTexts.lensTable,
        head: whatIfTexts.lensHead,
        cases: lensCases(run),
        refused: null,
        below: whatIf.focalAssumes,
      })}
      ${caseTable({
        title: whatIfTexts.speedTable,
        head: whatIfTexts.speedHead,
        cases: speedCases(run),
        refused: null,
        below: whatIfTexts.speedLegend(own, readers),
      })}
    </div>
    ${
      readers === 'page'
        ? null
        : html`<p>${whatIfTexts.askMore} <code class="command">${whatIfTexts.askCommand}</code></p>`
    }
    ${extremes(whatIf)}
    <details>
      <summary>${whatIfTexts.papers}</summary>
      ${steadinessTable(steadiness)}
      <p class="legend">${whatIfTexts.papersLegend}</p>
    </details>
  </section>`;
}

/** Up to which lens the limits are kept, and which of them ends it. */
function longestLens(run: RunDocument): string {
  const { stabilise, delivery } = run;
  const { longestLens: longest } = stabilise.recommended;
  if (longest === null)
    return whatIfTexts.noLens(limitFigure(delivery.maxCropPercent), limitFigure(delivery.maxResidualPx));
  // A lens that was found at a limit stands on it: its range passes over.
  const sure = longest.limitedBy === null && lensesOf(run).at(-1)?.outcome.grade === 'pass';
  const lens =
    longest.focalLengthMm === null
      ? whatIfTexts.lensesUpToTimes(figure(longest.factor), sure)
      : whatIfTexts.lensesUpTo(figure(longest.focalLengthMm), sure);
  return `${whatIfTexts.longestLens(lens, whatIfTexts.longerOnes[longest.limitedBy ?? 'none'])}${passes(run)}`;
}

/** The longest lens of the table that passes; nothing where the focal lengths are not known. */
function passes(run: RunDocument): string {
  const lenses = lensesOf(run);
  const lengths = lenses.map(({ row, outcome }) => (outcome.grade === 'pass' ? row.focalLengthMm : null));
  if (lenses.every(({ row }) => row.focalLengthMm === null)) return '';
  const longest = lengths.filter((mm) => mm !== null).at(-1);
  return whatIfTexts.lensesPass(longest === undefined ? null : figure(longest));
}

/** Crop over the focal length; nothing where fewer than two lenses can be told, for that is no curve. */
function lensChart(run: RunDocument): Markup | null {
  const { stabilise, delivery } = run;
  const points = lensPoints(run);
  if (points.length < 2) return null;
  const inMm = stabilise.whatIf.focal.every(({ focalLengthMm }) => focalLengthMm !== null);
  const used = stabilise.whatIf.focal.find((lens) => lens.used && lens.coverable);
  const data: WhatIfChartData = {
    label: whatIfTexts.chartLabel(whatIfTexts.overLens, limitFigure(delivery.maxCropPercent)),
    xTitle: inMm ? whatIfTexts.lensAxis : whatIfTexts.lensTimesAxis,
    points,
    limitPercent: delivery.maxCropPercent,
    marks:
      used === undefined
        ? []
        : [
            {
              x: inMm ? (used.focalLengthMm ?? used.factor) : used.factor,
              percent: used.cropPercent,
              name: whatIfTexts.markShot,
            },
          ],
  };
  return liveFigure({
    kind: 'whatIfCrop',
    data,
    caption: html`<b>${whatIfTexts.crop}</b> ${whatIfTexts.overLens}`,
    widthPx: 1080,
    phoneWidthPx: 360,
    after: html`<p class="legend">${whatIfTexts.gradeLegend} ${whatIfTexts.rangeLegend}</p>`,
  });
}

function extremes({ speed }: StabiliseSection['whatIf']): Markup {
  const { floor, machine, floorLeft, machineLeft } = whatIfTexts.extremesHead;
  return behind({
    caption: whatIfTexts.extremes,
    head: [whatIfTexts.speedHead, floor, floorLeft, machine, machineLeft],
    rows: speed.flatMap((row): Insert[][] => {
      const { allFloor, allMachine } = row;
      if (allFloor === null || allMachine === null) return [];
      return [
        [speedName(row), ...[allFloor, allMachine].flatMap((one) => [crop(one), left(one.residualPx)])],
      ];
    }),
    numeric: [1, 2, 3, 4],
  });
}

function crop({ cropPercent, coverable }: { cropPercent: number; coverable: boolean }): string {
  return coverable ? whatIfTexts.percent(percentFigure(cropPercent)) : whatIfTexts.overHalf;
}

function left(residualPx: number | null): string {
  return residualPx === null ? '–' : whatIfTexts.leftPx(figure(residualPx), false);
}

function steadinessTable({ before, after }: StabiliseSection['steadiness']): Markup {
  const three = (value: number): string => value.toFixed(3);
  const { clip, cropping, distortion, stability } = whatIfTexts.papersHead;
  return table({
    caption: whatIfTexts.papersCaption,
    head: [clip, cropping, distortion, stability],
    rows: [
      [whatIfTexts.asShot, '1 (1)', three(before.distortion), three(before.stability)],
      [
        whatIfTexts.stabilised,
        `${three(after.croppingLinear)} (${three(after.croppingArea)})`,
        three(after.distortion),
        three(after.stability),
      ],
    ],
    numeric: [1, 2, 3],
  });
}
