/** The charts and tables of one pair: ratios as observed, by wavelength and by band. */
import type { ComparedPair, ComparedRatio } from '../../run/index.js';
import { figure } from '../../run/index.js';
import { comparedRatioTexts, compareTexts } from '../../texts/index.js';
import { ratioSpan, type RatioRow } from '../charts/index.js';
import { liveFigure } from '../html/live-figure.js';
import { html, type Insert, type Markup } from '../html/markup.js';
import { behind, table } from '../html/table.js';
import { axisName, leastFactor, markWords, ratioFigures, ratioMark, saysWords, sideWords } from './words.js';

/** The factor that the axes of several pairs share, so that their charts can be laid side by side. */
export function sharedSpan(pairs: readonly ComparedPair[]): number {
  return ratioSpan(pairs.flatMap(({ axes, wavelength }) => [...axes, ...(wavelength?.axes ?? [])]));
}

/** Widths of a chart: on a desk, beside others, and on a phone; px. */
const WIDTHS = { alone: 576, beside: 352, phone: 346 } as const;

/** The ratios of a pair as observed. @param after what stands under the chart */
export function axesChart(
  pair: ComparedPair,
  span: number,
  size: 'alone' | 'beside',
  after: Insert = null,
): Markup {
  const rows = pair.axes.map((ratio) => rowOf(axisName(ratio.axis), ratio, pair));
  return chart(pair, rows, { span, what: comparedRatioTexts.shake, size, after });
}

function rowOf(name: string, ratio: ComparedRatio, pair: ComparedPair, corrected = false): RatioRow {
  const { value, range } = ratioFigures(ratio);
  const mark = ratioMark(ratio, corrected);
  return {
    name,
    ratio: ratio.ratio,
    ci95: ratio.ci95,
    value,
    range,
    says: markWords(mark, pair),
    mark,
    least: corrected ? null : leastFactor(ratio, mark),
  };
}

interface ChartOptions {
  readonly span: number;
  /** What the ratios are of. */
  readonly what: string;
  readonly size: 'alone' | 'beside';
  readonly caption?: Insert;
  readonly after?: Insert;
}

function chart(
  { a, b }: ComparedPair,
  rows: readonly RatioRow[],
  { span, what, size, caption = null, after = null }: ChartOptions,
): Markup {
  const { label, row, notComparedRow } = comparedRatioTexts.chart;
  const told = rows.map(({ name, value, range, mark, says }) => {
    if (value !== '') return row(name, value, range);
    return mark === 'none' ? notComparedRow(name) : row(name, says, '');
  });
  return liveFigure({
    kind: 'ratios',
    data: { label: label(what, a, b, told), a, b, rows, span },
    caption,
    widthPx: WIDTHS[size],
    ...(size === 'alone' ? { phoneWidthPx: WIDTHS.phone } : {}),
    after,
  });
}

/** How the marks of the charts of these pairs are read. */
export function ratioLegend(pairs: readonly ComparedPair[]): Markup {
  const { legend, leastLegend } = comparedRatioTexts.chart;
  const least = pairs.some(({ axes }) => axes.some((ratio) => leastFactor(ratio, ratioMark(ratio)) !== null));
  return html`<p class="legend">${legend}${least ? ` ${leastLegend}` : null}</p>`;
}

/** The figures of a pair in full: what each axis says, and why it was not compared where it was not. */
export function axesTable(pair: ComparedPair): Markup {
  // What is clear stands in the table already.
  const open = pair.axes.filter(
    ({ says, ratio }) => ratio === null || (says !== 'aSmoother' && says !== 'bSmoother'),
  );
  return html`${table({
    caption: comparedRatioTexts.table(pair.a, pair.b),
    head: comparedRatioTexts.heads(pair.a, pair.b),
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
    value === ''
      ? compareTexts.none
      : html`${value}${range === '' ? null : html`<span class="sub">${range}</span>`}`,
    saysWords(ratio, pair),
  ];
}

function chances(pair: ComparedPair): Markup {
  const { alike } = pair;
  return behind({
    caption: comparedRatioTexts.chances(pair.a, pair.b),
    head: comparedRatioTexts.chanceHeads,
    rows: pair.axes.map(({ axis, aSmoother, p, pHolm, degrees }): Insert[] => {
      const same = alike[axis];
      return [
        axisName(axis),
        probability(aSmoother),
        probability(p),
        probability(pHolm),
        degrees === null ? compareTexts.none : figure(degrees),
        same === undefined ? compareTexts.none : figure(same),
      ];
    }),
    numeric: [1, 2, 3, 4, 5],
  });
}

function probability(value: number | null): string {
  if (value === null) return compareTexts.none;
  return value < 0.001 ? '< 0.001' : value > 0.999 ? '> 0.999' : String(Number(value.toFixed(3)));
}

/** The setup alone where the speeds differ: by wavelength, or why not. Nothing at speeds that are alike. */
export function wavelengthPart(pair: ComparedPair, span: number): Markup | null {
  const { wavelength } = pair;
  if (wavelength === null) return null;
  const { bandM, refused, axes } = wavelength;
  const { wavelengths, wavelengthsLegend, waveBand, wavesThatCount, shakeInWavelengths } = comparedRatioTexts;
  const band =
    bandM === null ? '' : ` ${wavesThatCount(waveBand(figure(1000 * bandM[0]), figure(1000 * bandM[1])))}`;
  return html`<h3>${wavelengths}</h3>
    ${refused === null ? null : html`<p class="note">${refused}</p>`}
    ${
      axes.length === 0
        ? null
        : html`<p>${wavelengthsLegend}${band}</p>
            <div class="ratios">
              ${chart(
                pair,
                axes.map((ratio) => rowOf(axisName(ratio.axis), ratio, pair)),
                { span, what: shakeInWavelengths, size: 'alone' },
              )}
            </div>`
    }`;
}

/** The same by frequency band; nothing where there are none. */
export function bandsPart(pair: ComparedPair): Markup | null {
  const { bands, a, b } = pair;
  if (bands.length === 0) return null;
  const span = ratioSpan(bands);
  const all = [...new Set(bands.map(({ axis }) => axis))];
  const axes = all.filter((axis) =>
    bands.some((band) => band.axis === axis && ratioMark(band, true) !== 'none'),
  );
  const left = all.filter((axis) => !axes.includes(axis));
  const clear = bands.filter((band) => ['aSmoother', 'bSmoother'].includes(ratioMark(band, true)));
  const texts = comparedRatioTexts;
  return html`<h3>${texts.byFrequency}</h3>
    <p>
      ${clear.length === 0 ? texts.bandsNone : texts.bandsClear(clear.map(({ axis, label }) => texts.bandName(axis, label)))}
    </p>
    <div class="charts">
      ${axes.map((axis) =>
        chart(
          pair,
          bands.filter((band) => band.axis === axis).map((band) => rowOf(band.label, band, pair, true)),
          {
            span,
            what: texts.byBand(axisName(axis)),
            size: 'beside',
            caption: html`<b>${axisName(axis)}</b>`,
          },
        ),
      )}
    </div>
    <p class="legend">${texts.bandsLegend(bands.length, left)}</p>
    ${behind({
      caption: texts.bandsTable(a, b),
      head: texts.bandHeads(a, b),
      rows: bands.map((band): Insert[] => [
        texts.bandRow(axisName(band.axis), figure(band.fromHz), figure(band.toHz)),
        ...ratioRow('', band, pair).slice(1, 4),
        probability(band.pHolm),
      ]),
      numeric: [1, 2, 3, 4],
    })}`;
}
