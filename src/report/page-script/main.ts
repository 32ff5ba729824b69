/** Starts what makes the page live: charts that can be looked into. Without it the page is complete. */
import { CHART_KINDS } from '../charts/index.js';
import { startCharts } from './start-charts.js';

startCharts(document, CHART_KINDS);
