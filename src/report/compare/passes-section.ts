/** The passes of every setup side by side: small charts on one scale each, and the figures in tables. */
import { figure, percentFigure, type ComparedRun, type Comparison } from '../../run/index.js';
import { gradeWord, markerKey, passDots } from '../charts/index.js';
import { laneName } from '../../judge/index.js';
import { html, trusted, verbatim, type Insert, type Markup } from '../html/markup.js';
import { table } from '../html/table.js';

interface Shown {
  readonly name: string;
  readonly axisTitle: string;
  readonly of: (run: ComparedRun) => number | null;
}

const SHOWN: readonly Shown[] = [
  { name: 'Tilt', axisTitle: 'RMS, °', of: ({ rmsDeg }) => rmsDeg.tilt },
  { name: 'Pan', axisTitle: 'RMS, °', of: ({ rmsDeg }) => rmsDeg.pan },
  { name: 'Roll', axisTitle: 'RMS, °', of: ({ rmsDeg }) => rmsDeg.roll },
  { name: 'Crop', axisTitle: '% of the width', of: ({ cropPercent }) => cropPercent },
];

/** Lanes by name, in the order in which they are met; their place decides the shape of their dots. */
export function lanesOf({ groups }: Comparison): string[] {
  return [...new Set(groups.flatMap(({ runs }) => runs.map(({ lane }) => lane)))];
}

/** The section. */
export function passesSection(comparison: Comparison): Markup {
  const { groups, common } = comparison;
  const lanes = lanesOf(comparison);
  return html`<section aria-labelledby="passes">
    <h2 id="passes">The passes side by side</h2>
    <div class="dots ${groups.length > 3 ? 'many' : groups.length > 2 ? 'three' : ''}">
      ${SHOWN.map(({ name, axisTitle, of }) => {
        const columns = groups.map((group) => ({
          name: group.name,
          dots: group.runs.map((run) => ({ value: of(run), lane: lanes.indexOf(run.lane) })),
        }));
        return html`<figure class="chart-box">
          <figcaption><b>${name}</b></figcaption>
          ${trusted(passDots({ label: `${name} of every pass: ${told(columns)}`, axisTitle, columns }))}
        </figure>`;
      })}
    </div>
    <p class="legend">
      ${lanes.map((lane, i) => html`<span class="lane-key">${trusted(markerKey(i))}${laneName(lane)}</span> `)}
      A mark for each pass, its shape the lane; line and bold figure: the median. ${common.words}
    </p>
    ${passTable(comparison)}
  </section>`;
}

function told(columns: readonly { name: string; dots: readonly { value: number | null }[] }[]): string {
  return columns
    .map(
      ({ name, dots }) =>
        `${name} ${dots.map(({ value }) => (value === null ? 'below noise' : figure(value))).join(', ')}`,
    )
    .join('; ');
}

/** The numbers of the passes where they tell all of them apart, else running numbers. */
function passNumbers(runs: readonly ComparedRun[]): (run: ComparedRun) => number {
  const numbers = new Set(runs.map(({ passNumber }) => passNumber));
  const distinct = numbers.size === runs.length && !numbers.has(null);
  return (run) => (distinct && run.passNumber !== null ? run.passNumber : runs.indexOf(run) + 1);
}

function passTable({ groups }: Comparison): Markup {
  const degrees = (value: number | null): string => (value === null ? 'below noise' : `${figure(value)}°`);
  const number = passNumbers(groups.flatMap(({ runs }) => runs));
  return table({
    caption: 'Every pass',
    head: ['Pass', 'Group', 'Lane', 'Way', 'Speed', 'Tilt', 'Pan', 'Roll', 'Crop', 'Grade'],
    rows: groups.flatMap(({ name, runs }) =>
      runs.map((run): Insert[] => [
        html`${number(run)}: ${verbatim(run.clip)}`,
        name,
        laneName(run.lane),
        run.direction ?? '–',
        run.speedMps === null ? '–' : `${figure(run.speedMps)} m/s`,
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
