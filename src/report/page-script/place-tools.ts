/** Puts the tools of the charts into the page: switches and keys under each, buttons for a stretch once for charts that stand together. */
import { pageScriptTexts } from '../../texts/index.js';
import { make } from './elements.js';
import type { LiveChart } from './live-chart.js';
import { seriesSwitches } from './switches.js';
import { zoomTools } from './zoom-tools.js';

/** A chart that is alive, where it stands. */
export interface Started {
  readonly figure: HTMLElement;
  /** Around its drawing. */
  readonly box: HTMLElement;
  readonly chart: LiveChart;
}

/** Keys that were explained on this page so far: each has a name of its own, however often charts are started. */
let explained = 0;

/** Puts the tools of all charts. @param started in order of the page */
export function placeTools(started: readonly Started[]): void {
  const zoomed = started.filter(({ chart }) => chart.zoomAxis !== null);
  const rows = rowsOf(zoomed);
  for (const row of rows) if (row.length > 1) standOf(row[0].figure).before(toolsOf(row[0]));
  const alone = rows.flatMap((row) => (row.length === 1 ? row : []));
  started.forEach((one) => {
    const { box, chart } = one;
    const keys = make('p', { class: 'live-keys', id: `live-keys-${explained++}` }, pageScriptTexts.readKeys);
    if (chart.zoomAxis !== null) keys.append(` ${pageScriptTexts.zoomKeys}`);
    chart.layer.setAttribute('aria-describedby', keys.id);
    const own = alone.includes(one) ? toolsOf(one) : null;
    const parts = [seriesSwitches(chart), own].filter((part) => part !== null);
    box.after(make('div', { class: 'live-tools' }, ...parts, keys));
  });
}

function toolsOf({ chart }: Started): HTMLElement {
  return zoomTools(chart.group, chart.chart.axis, chart.descending);
}

/** Charts that show one stretch and stand side by side or under each other with nothing in between. */
function rowsOf(zoomed: readonly Started[]): readonly (readonly Started[])[] {
  const rows: Started[][] = [];
  for (const one of zoomed) {
    const row = rows[rows.length - 1];
    const before = row?.[row.length - 1];
    if (before !== undefined && before.chart.group === one.chart.group && follows(before.figure, one.figure))
      row.push(one);
    else rows.push([one]);
  }
  return rows;
}

function follows(before: HTMLElement, figure: HTMLElement): boolean {
  const [first, second] = [standOf(before), standOf(figure)];
  return first === second || first.nextElementSibling === second;
}

/** The part of its section that a figure stands in: itself or a grid of figures. */
function standOf(figure: HTMLElement): Element {
  let stand: Element = figure;
  while (stand.parentElement !== null && !/^(section|details|main|body)$/i.test(stand.parentElement.tagName))
    stand = stand.parentElement;
  return stand;
}
