/** Keys on a chart: arrows read it off place by place, plus and minus look closer and wider. */
import type { ZoomStep } from './chart-group.js';
import type { LiveChart } from './live-chart.js';
import { placeAfter, stepOf } from './step.js';

const ZOOM_KEYS: Readonly<Record<string, ZoomStep>> = {
  '+': 'closer',
  '=': 'closer',
  '-': 'wider',
  '0': 'whole',
};

/** Lets keys read the chart; those with a modifier stay with the browser. */
export function readByKeys(chart: LiveChart): void {
  const { layer, group } = chart;
  layer.addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const { key } = event;
    const by = stepOf(key);
    if (by !== null) step(chart, chart.descending ? -by : by);
    else if (key === 'Escape') group.read(null);
    else if (Object.hasOwn(ZOOM_KEYS, key) && chart.zoomAxis !== null) group.step(ZOOM_KEYS[key]);
    else return;
    event.preventDefault();
  });
  layer.addEventListener('focus', () => {
    // By key there is no pointer to say where: the first place shows what the keys will move.
    if (group.at === null && layer.matches(':focus-visible')) group.read(placeAfter(chart.stops, null, 1));
  });
  layer.addEventListener('blur', () => group.read(null));
}

/** One step; at the edge of a stretch the stretch goes along. */
function step(chart: LiveChart, by: number): void {
  const { group } = chart;
  const place = placeAfter(chart.stops, group.at, by);
  if (place === group.at && Number.isFinite(by) && group.shown !== null) {
    group.step(by < 0 ? 'left' : 'right');
    group.read(placeAfter(chart.stops, group.at, by));
  } else group.read(place);
}
