/** A chart with its data beside it: complete as it stands in the file, and open to the script of the page for a closer look. */
import { chartKind, type ChartData, type ChartName } from '../charts/index.js';
import { html, pageData, trusted, type Insert, type Markup } from './markup.js';

/** A chart as a page wants it. */
export interface LiveFigure<Name extends ChartName> {
  readonly kind: Name;
  readonly data: ChartData<Name>;
  /** Over the chart; none where a sentence before it says all. */
  readonly caption: Insert;
  /** Width of the drawing on a desk, px. */
  readonly widthPx: number;
  /** Width of a second drawing for phones, whose text would be too small otherwise; one drawing serves both when missing. */
  readonly phoneWidthPx?: number;
  /** Legend and table of figures under it. */
  readonly after?: Insert;
}

/** Writes the figure. The drawing is made from the data as the page stores them, so that the script draws the same. */
export function liveFigure<Name extends ChartName>(figure: LiveFigure<Name>): Markup {
  const { kind, caption, widthPx, phoneWidthPx, after = null } = figure;
  const { draw, axis } = chartKind(kind);
  const stored = JSON.stringify(figure.data, shortened);
  const data = JSON.parse(stored) as ChartData<Name>;
  const drawn = (width: number): Markup => trusted(draw(data, { widthPx: width }).svg);
  return html`<figure class="live" data-axis="${axis}">
    ${caption === null ? null : html`<figcaption>${caption}</figcaption>`}
    <div class="live-chart">
      ${
        phoneWidthPx === undefined
          ? drawn(widthPx)
          : html`<div class="for-desk">${drawn(widthPx)}</div>
              <div class="for-phone">${drawn(phoneWidthPx)}</div>`
      }
    </div>
    ${pageData('live-data', `{"kind":${JSON.stringify(kind)},"data":${stored}}`)}${after}
  </figure>`;
}

/** Digits of a number that a chart can show, and decimals of a large one: times in a long clip stay good to the frame. */
const DIGITS = 5;
const DECIMALS = 3;

function shortened(_: string, value: unknown): unknown {
  if (typeof value !== 'number') return value;
  return Number(Math.abs(value) < 100 ? value.toPrecision(DIGITS) : value.toFixed(DECIMALS));
}
