/** Starts what makes the page live: charts that can be looked into, the slider under the frame, the list of runs. Without it the page is complete. */
import { CHART_KINDS } from '../charts/index.js';
import { startCropSlider } from './crop-slider.js';
import { startRunLists } from './run-list.js';
import { startCharts } from './start-charts.js';

startCharts(document, CHART_KINDS);
startCropSlider(document);
startRunLists(document);
