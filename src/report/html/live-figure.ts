/** A chart with its data beside it: complete as it stands in the file, and open to the script of the page for a closer look. */
import { CHART_KINDS, type ChartData, type ChartKind, type ChartName } from '../charts/index.js';
import { html, trusted, type Insert, type Markup } from './markup.js';

/** A chart as a page wants it. */
export interface LiveFigure<Name extends ChartName> {
  readonly kind: Name;
  readonly data: ChartData<Name>;
  /** Over the chart. */
  readonly caption: Insert;
  /** Width of the drawing on a desk, px. */
  readonly widthPx: number;
  /** Width of a second drawing for phones, whose text would be too small otherwise; one drawing serves both when missing. */
  readonly phoneWidthPx?: number;
  /** Legend and table of figures under it. */
  readonly after?: Insert;
}

/** Writes the figure. */
export function liveFigure<Name extends ChartName>(figure: LiveFigure<Name>): Markup {
  const { kind, data, caption, widthPx, phoneWidthPx, after = null } = figure;
  const { draw, axis } = CHART_KINDS[kind] as unknown as ChartKind<ChartData<Name>>;
  const drawn = (width: number): Markup => trusted(draw(data, { widthPx: width }).svg);
  return html`<figure class="live" data-axis="${axis}">
    <figcaption>${caption}</figcaption>
    <div class="live-chart">
      ${
        phoneWidthPx === undefined
          ? drawn(widthPx)
          : html`<div class="for-desk">${drawn(widthPx)}</div>
              <div class="for-phone">${drawn(phoneWidthPx)}</div>`
      }
    </div>
    ${trusted(`<script type="application/json" class="live-data">${dataJson(kind, data)}</script>`)}${after}
  </figure>`;
}

/** Digits of a number that a chart can show. */
const DIGITS = 5;

/** The data as JSON that cannot end its element; numbers to five digits. */
function dataJson(kind: string, data: unknown): string {
  const short = (_: string, value: unknown): unknown =>
    typeof value === 'number' ? Number(value.toPrecision(DIGITS)) : value;
  return JSON.stringify({ kind, data }, short).replace(/</g, '\\u003c');
}
