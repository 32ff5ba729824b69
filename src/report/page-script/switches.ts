/** A button for each series of a chart, with a sample of its line: pressed where it is drawn. */
import { pageScriptTexts } from '../../texts/index.js';
import type { ChartSeries } from '../charts/index.js';
import { make, makeButton, makeSvg, setIdle } from './elements.js';
import type { LiveChart } from './live-chart.js';

/** Makes the switches; null where there is nothing to switch. */
export function seriesSwitches(chart: LiveChart): HTMLElement | null {
  const { series } = chart.chart;
  if (series.length < 2) return null;
  const buttons = series.map((one) => {
    const button = makeButton(sampleOf(one), () => {
      const { hidden } = chart;
      chart.hide(hidden.includes(one.id) ? hidden.filter((id) => id !== one.id) : [...hidden, one.id]);
      show();
    });
    button.append(one.name);
    return button;
  });
  const show = (): void =>
    series.forEach(({ id }, i) => {
      const drawn = !chart.hidden.includes(id);
      buttons[i].setAttribute('aria-pressed', String(drawn));
      // One stays: an empty plot says nothing.
      setIdle(buttons[i], drawn && chart.hidden.length === series.length - 1);
    });
  show();
  return make(
    'div',
    { class: 'live-series', role: 'group', 'aria-label': pageScriptTexts.series },
    ...buttons,
  );
}

function sampleOf({ sample }: ChartSeries): Node {
  const picture = makeSvg('svg', { viewBox: '0 0 22 8', 'aria-hidden': 'true' });
  if (sample === undefined) return document.createDocumentFragment();
  picture.append(makeSvg('line', { class: sample, x1: 0, x2: 22, y1: 4, y2: 4 }));
  return picture;
}
