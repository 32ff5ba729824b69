/** Brings the charts of a page to life: each `figure.live` with its data beside it, those of one axis together. */
import { UNITS, type Units } from '../../run/index.js';
import type { ChartKind } from '../charts/index.js';
import { ChartGroup } from './chart-group.js';
import { readByKeys } from './keys.js';
import { LiveChart, type BoundChart } from './live-chart.js';
import { readByPointer } from './pointer.js';
import { placeTools, type Started } from './place-tools.js';

/** Kinds of charts by name; each is given the data that the page stores beside its name. */
export type Kinds = Readonly<Record<string, ChartKind<never>>>;

/** How charts are started. */
export interface StartOptions {
  /** Lengths and speeds are shown in these; those of the page when missing. */
  readonly units?: Units;
  /** Ends what reaches beyond the charts themselves: before they are taken out of a page that stays. */
  readonly signal?: AbortSignal;
}

/**
 * Starts all charts below an element or of a whole page; a figure whose kind is not known stays the picture that it is.
 *
 * Charts of one axis move together as far as they are started together.
 */
export function startCharts(
  root: ParentNode,
  kinds: Kinds,
  { units = unitsOfPage(), signal = new AbortController().signal }: StartOptions = {},
): void {
  const groups = new Map<string, ChartGroup>();
  const started: Started[] = [];
  for (const figure of root.querySelectorAll<HTMLElement>('figure.live')) {
    const one = startChart(figure, kinds, groups, units);
    if (one !== null) started.push(one);
  }
  placeTools(started);
  signal.addEventListener('abort', () => started.forEach(({ chart }) => chart.end()));

  const print = (printing: boolean): void => started.forEach(({ chart }) => chart.print(printing));
  addEventListener('beforeprint', () => print(true), { signal });
  addEventListener('afterprint', () => print(false), { signal });
  const paper = matchMedia('print');
  paper.addEventListener('change', () => print(paper.matches), { signal });
  if (paper.matches) print(true);
}

function unitsOfPage(): Units {
  return UNITS.find((one) => one === document.documentElement.dataset.units) ?? 'metric';
}

function startChart(
  figure: HTMLElement,
  kinds: Kinds,
  groups: Map<string, ChartGroup>,
  units: Units,
): Started | null {
  const box = figure.querySelector<HTMLElement>('.live-chart');
  const stored = figure.querySelector('.live-data')?.textContent;
  if (box === null || stored === null || stored === undefined) return null;
  const bound = bind(stored, kinds);
  if (bound === null) return null;
  const group = groups.get(bound.axis) ?? new ChartGroup();
  // Other axes have nothing in common.
  if (bound.axis !== 'other') groups.set(bound.axis, group);
  const chart = new LiveChart(figure, box, bound, group, units);
  group.add(chart);
  readByPointer(chart);
  readByKeys(chart);
  return { figure, box, chart };
}

/** The data of a figure in the hands of its kind. */
function bind(stored: string, kinds: Kinds): BoundChart | null {
  // The page was written from the same registry: the data belong to the kind beside them.
  const { kind: name, data } = JSON.parse(stored) as { readonly kind: string; readonly data: never };
  if (!Object.hasOwn(kinds, name)) return null;
  const { draw, series, axis, zoom, closest = 0 } = kinds[name];
  return { draw: (view) => draw(data, view), series: series(data), axis, zoom, closest };
}
