/** The passes of every setup side by side: small charts that share their scales, and the figures in tables. */
import { ANGULAR_AXES, figure, percentFigure, type ComparedRun, type Comparison } from '../../run/index.js';
import { comparedRatioTexts, compareTexts } from '../../texts/index.js';
import { gradeWord, markerKey, medianOfPasses, passDots, type PassDot } from '../charts/index.js';
import { laneName } from '../../judge/index.js';
import { html, trusted, verbatim, type Insert, type Markup } from '../html/markup.js';
import { table } from '../html/table.js';
import { axisName, lensMm } from './words.js';

interface Shown {
  readonly name: string;
  readonly axisTitle: string;
  readonly of: (run: ComparedRun) => number | null;
  /** Angles share their scale. */
  readonly angle: boolean;
}

const SHOWN: readonly Shown[] = [
  ...(['tilt', 'pan', 'roll'] as const).map((axis) => ({
    name: axisName(axis),
    axisTitle: compareTexts.angularAxis,
    of: ({ rmsDeg }: ComparedRun) => rmsDeg[axis],
    angle: true,
  })),
  {
    name: compareTexts.crop,
    axisTitle: compareTexts.cropAxis,
    of: ({ cropPercent }) => cropPercent,
    angle: false,
  },
];

/** Lanes by name, in the order in which they are met; their place decides the shape of their dots. */
export function lanesOf({ groups }: Comparison): string[] {
  return [...new Set(groups.flatMap(({ runs }) => runs.map(({ lane }) => lane)))];
}

/** The section. */
export function passesSection(comparison: Comparison): Markup {
  const { groups, common } = comparison;
  const lanes = lanesOf(comparison);
  const runs = groups.flatMap((group) => group.runs);
  const most = Math.max(0, ...runs.flatMap(({ rmsDeg }) => ANGULAR_AXES.map((axis) => rmsDeg[axis] ?? 0)));
  return html`<section aria-labelledby="passes">
    <h2 id="passes">${compareTexts.passes}</h2>
    <p>${lead(comparison)}</p>
    <div class="dots ${groups.length > 3 ? 'many' : groups.length > 2 ? 'three' : ''}">
      ${SHOWN.map(({ name, axisTitle, of, angle }) => {
        const columns = groups.map((group) => ({
          name: group.name,
          dots: group.runs.map((run) => ({
            value: of(run),
            lane: lanes.indexOf(run.lane),
            leftOut: run.leftOut,
          })),
        }));
        const label = compareTexts.passesTold(name, columns.map(columnTold));
        return html`<figure class="chart-box">
          <figcaption><b>${name}</b></figcaption>
          ${trusted(passDots({ label, axisTitle, columns, ...(angle ? { most } : {}) }))}
        </figure>`;
      })}
    </div>
    <p class="legend">
      ${lanes.map((lane, i) => html`<span class="lane-key">${trusted(markerKey(i))}${laneName(lane)}</span> `)}
      ${compareTexts.passesLegend}
      ${runs.some(({ leftOut }) => leftOut) ? `${compareTexts.leftOutLegend} ` : null}${compareTexts.sharedScale}
      ${common.words}
    </p>
    <p class="legend">
      ${compareTexts.passCropIs(lensMm(comparison))}
      ${runs.some(({ speedMps }) => speedMps !== null) ? compareTexts.passSpeedIs : null}
    </p>
    ${passTable(comparison)}
  </section>`;
}

/** The medians of the axis that shakes most. */
function lead({ groups }: Comparison): string {
  const medianOf = (axis: (typeof ANGULAR_AXES)[number], runs: readonly ComparedRun[]): number | null =>
    medianOfPasses(runs.filter(({ leftOut }) => !leftOut).map(({ rmsDeg }) => rmsDeg[axis]));
  const all = groups.flatMap(({ runs }) => runs);
  const mostOf = (axis: (typeof ANGULAR_AXES)[number]): number =>
    Math.max(...all.map(({ rmsDeg }) => rmsDeg[axis] ?? -1));
  const [axis] = [...ANGULAR_AXES].sort((p, q) => mostOf(q) - mostOf(p));
  return compareTexts.passesLead(
    axisName(axis),
    groups.map(({ name, runs }) => compareTexts.medianOf(name, degrees(medianOf(axis, runs)))),
  );
}

function degrees(value: number | null): string {
  return value === null ? comparedRatioTexts.belowNoise : `${figure(value)}°`;
}

function columnTold({ name, dots }: { readonly name: string; readonly dots: readonly PassDot[] }): string {
  return compareTexts.columnTold(
    name,
    dots.map(({ value, leftOut }) => {
      const told = value === null ? comparedRatioTexts.belowNoise : figure(value);
      return leftOut === true ? compareTexts.leftOutTold(told) : told;
    }),
  );
}

/** The numbers of the passes where they tell all of them apart, else running numbers. */
function passNumbers(runs: readonly ComparedRun[]): (run: ComparedRun) => number {
  const numbers = new Set(runs.map(({ passNumber }) => passNumber));
  const distinct = numbers.size === runs.length && !numbers.has(null);
  return (run) => (distinct && run.passNumber !== null ? run.passNumber : runs.indexOf(run) + 1);
}

function passTable({ groups }: Comparison): Markup {
  const number = passNumbers(groups.flatMap(({ runs }) => runs));
  return table({
    caption: compareTexts.passTable,
    head: compareTexts.passHeads,
    rows: groups.flatMap(({ name, runs }) =>
      runs.map((run): Insert[] => [
        html`${number(run)}: ${verbatim(run.clip)}`,
        run.leftOut ? html`${name}<span class="sub">${compareTexts.leftOut}</span>` : name,
        laneName(run.lane),
        run.direction ?? compareTexts.none,
        run.speedMps === null ? compareTexts.none : compareTexts.speed(figure(run.speedMps)),
        degrees(run.rmsDeg.tilt),
        degrees(run.rmsDeg.pan),
        degrees(run.rmsDeg.roll),
        `${percentFigure(run.cropPercent)} %`,
        gradeWord(run.grade),
      ]),
    ),
    numeric: [4, 5, 6, 7, 8],
    wideOnly: [2, 3, 4, 6, 7],
  });
}
