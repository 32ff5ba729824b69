/** Tables and folded-away data tables of the report. */
import { html, type Insert, type Markup } from './markup.js';

/** A table: the first column names the rows. */
export interface TableData {
  readonly caption: string;
  readonly head: readonly Insert[];
  readonly rows: readonly (readonly Insert[])[];
  /** Columns that hold numbers are set flush right; by index. */
  readonly numeric?: readonly number[];
  /** Columns that a phone leaves out; by index. */
  readonly wideOnly?: readonly number[];
}

/** Writes a table with caption and row headings, in a box that scrolls by itself when the page is narrow. */
export function table({ caption, head, rows, numeric = [], wideOnly = [] }: TableData): Markup {
  const classes = head.map((_, column) =>
    [numeric.includes(column) ? 'num' : '', wideOnly.includes(column) ? 'wide' : ''].join(' ').trim(),
  );
  const named = (column: number): Markup | null =>
    classes[column] === '' ? null : html` class="${classes[column]}"`;
  return html`<div class="scroll" role="region" tabindex="0" aria-label="${caption}">
    <table>
      <caption>
        ${caption}
      </caption>
      <thead>
        <tr>
          ${head.map((text, column) => headCell(text, named(column)))}
        </tr>
      </thead>
      <tbody>
        ${rows.map(
          (row) =>
            html`<tr>
              ${row.map((text, column) =>
                column === 0
                  ? html`<th scope="row" ${named(0)}>${text}</th>`
                  : html`<td ${named(column)}>${text}</td>`,
              )}
            </tr> `,
        )}
      </tbody>
    </table>
  </div>`;
}

/** A heading of a column; the corner over the names of the rows may be empty, and heads nothing then. */
function headCell(text: Insert, classed: Markup | null): Markup {
  return text === '' ? html`<td ${classed}></td>` : html`<th scope="col" ${classed}>${text}</th>`;
}

/** The figures behind a chart, folded away. */
export function behind(data: TableData): Markup {
  return html`<details>
    <summary>Figures: ${data.caption}</summary>
    ${table(data)}
  </details>`;
}

/** A list of names and values. */
export function facts(entries: readonly (readonly [string, Insert])[]): Markup {
  return html`<dl class="facts">
    ${entries.map(
      ([name, value]) =>
        html`<div>
          <dt>${name}</dt>
          <dd>${value}</dd>
        </div>`,
    )}
  </dl>`;
}
