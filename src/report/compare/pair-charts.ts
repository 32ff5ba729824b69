/** The charts and tables of one pair: ratios as observed, by wavelength and by band. */
import type { ComparedPair, ComparedRatio } from '../../run/index.js';
import { figure } from '../../run/index.js';
import { ratioChart, ratioSpan, type RatioRow } from '../charts/index.js';
import { html, trusted, type Insert, type Markup } from '../html/markup.js';
import { behind, table } from '../html/table.js';
import { axisName, listed, ratioFigures, ratioMark, saysWords, sideWords } from './words.js';

/** The factor that the axes of several pairs share, so that their charts can be laid side by side. */
export function sharedSpan(pairs: readonly ComparedPair[]): number {
  return ratioSpan(pairs.flatMap(({ axes, wavelength }) => [...axes, ...(wavelength?.axes ?? [])]));
}

/** The ratios of a pair as observed. */
export function axesChart(pair: ComparedPair, span: number): Markup {
  return chart(
    pair,
    pair.axes.map((ratio) => rowOf(axisName(ratio.axis), ratio)),
    span,
    'Shake',
  );
}

function rowOf(name: string, ratio: ComparedRatio, corrected = false): RatioRow {
  const { value, range } = ratioFigures(ratio);
  return { name, ratio: ratio.ratio, ci95: ratio.ci95, value, range, mark: ratioMark(ratio, corrected) };
}

function chart({ a, b }: ComparedPair, rows: readonly RatioRow[], span: number, what: string): Markup {
  const told = rows.map(({ name, value, range }) =>
    value === '' ? `${name} not compared` : `${name} ${value}${range === '' ? '' : ` (${range})`}`,
  );
  return trusted(ratioChart({ label: `${what} of ${a} over ${b}: ${told.join(', ')}`, a, b, rows, span }));
}

/** How the marks of the charts are read. */
export const RATIO_LEGEND =
  'Below 1 the left one is smoother. Bars: 95 % ranges. Solid with a triangle: clear. Dashed with a circle: not clear. Square: the same within 10 %. An arrow at an end: the range goes on.';

/** The figures of a pair in full: what each axis says, and why it was not compared where it was not. */
export function axesTable(pair: ComparedPair): Markup {
  // What is clear stands in the table already.
  const open = pair.axes.filter(({ says }) => says !== 'aSmoother' && says !== 'bSmoother');
  return html`${table({
    caption: `Shake RMS, mean over the lanes, noise taken off: ${pair.a} against ${pair.b}`,
    head: ['Axis', pair.a, pair.b, 'Ratio (95 % range)', 'Says'],
    rows: pair.axes.map((ratio) => ratioRow(axisName(ratio.axis), ratio, pair)),
    numeric: [1, 2, 3],
    wideOnly: [1, 2],
  })}
  ${
    open.length === 0
      ? null
      : html`<ul>
          ${open.map(({ axis, sentence }) => html`<li><b>${axisName(axis)}.</b> ${sentence}</li>`)}
        </ul>`
  }
  ${chances(pair)}`;
}

function ratioRow(name: string, ratio: ComparedRatio, pair: ComparedPair): Insert[] {
  const { value, range } = ratioFigures(ratio);
  return [
    name,
    sideWords(ratio.aRms, ratio.unit, '°'),
    sideWords(ratio.bRms, ratio.unit, '°'),
    value === '' ? '–' : html`${value}${range === '' ? null : html`<span class="sub">${range}</span>`}`,
    saysWords(ratio, pair),
  ];
}

function chances(pair: ComparedPair): Markup {
  const { alike } = pair;
  return behind({
    caption: `chances and degrees of freedom, ${pair.a} against ${pair.b}`,
    head: [
      'Axis',
      'Chance that the first is smoother',
      'p',
      'p, corrected for all axes',
      'Degrees',
      'Passes alike',
    ],
    rows: pair.axes.map(({ axis, aSmoother, p, pHolm, degrees }): Insert[] => {
      const same = alike[axis];
      return [
        axisName(axis),
        probability(aSmoother),
        probability(p),
        probability(pHolm),
        degrees === null ? '–' : figure(degrees),
        same === undefined ? '–' : figure(same),
      ];
    }),
    numeric: [1, 2, 3, 4, 5],
  });
}

function probability(value: number | null): string {
  if (value === null) return '–';
  return value < 0.001 ? '< 0.001' : value > 0.999 ? '> 0.999' : String(Number(value.toFixed(3)));
}

/** The setup alone where the speeds differ: by wavelength, or why not. Nothing at speeds that are alike. */
export function wavelengthPart(pair: ComparedPair, span: number): Markup | null {
  const { wavelength } = pair;
  if (wavelength === null) return null;
  const { bandM, refused, axes } = wavelength;
  const band = bandM === null ? '' : `${figure(1000 * bandM[0])} to ${figure(1000 * bandM[1])} mm`;
  return html`<h3>The setup alone, by wavelength of the floor</h3>
    ${refused === null ? null : html`<p class="note">${refused}</p>`}
    ${
      axes.length === 0
        ? null
        : html`<figure class="ratios">
            ${chart(
              pair,
              axes.map((ratio) => rowOf(axisName(ratio.axis), ratio)),
              span,
              'Shake in common wavelengths',
            )}
            <figcaption>
              The speeds differ, so the chart above shows setup and speed
              together.${band === '' ? '' : ` Here only waves of ${band} count, which both could meet.`}
            </figcaption>
          </figure>`
    }`;
}

/** The same by frequency band; nothing where there are none. */
export function bandsPart(pair: ComparedPair): Markup | null {
  const { bands } = pair;
  if (bands.length === 0) return null;
  const span = ratioSpan(bands);
  const all = [...new Set(bands.map(({ axis }) => axis))];
  const axes = all.filter((axis) => bands.some((band) => band.axis === axis && band.ratio !== null));
  const left = all.filter((axis) => !axes.includes(axis));
  return html`<h3>By frequency</h3>
    <div class="charts">
      ${axes.map(
        (axis) =>
          html`<figure class="chart-box">
            <figcaption><b>${axisName(axis)}</b></figcaption>
            ${chart(
              pair,
              bands.filter((band) => band.axis === axis).map((band) => rowOf(band.label, band, true)),
              span,
              `${axisName(axis)} by band`,
            )}
          </figure>`,
      )}
    </div>
    <p class="legend">
      ${bands.length} bands are looked at together, so some differ by chance: only what stands up to the
      correction for that (Holm) is
      solid.${left.length === 0 ? '' : ` Not compared in any band: ${listed(left)}.`}
    </p>
    ${behind({
      caption: `by frequency band, ${pair.a} against ${pair.b}`,
      head: ['Band', pair.a, pair.b, 'Ratio (95 % range)', 'p, corrected'],
      rows: bands.map((band): Insert[] => [
        `${axisName(band.axis)}, ${figure(band.fromHz)} to ${figure(band.toHz)} Hz`,
        ...ratioRow('', band, pair).slice(1, 4),
        probability(band.pHolm),
      ]),
      numeric: [1, 2, 3, 4],
    })}`;
}
