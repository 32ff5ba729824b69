/** The log of runs behind the page: lists, sheets, reports, files and comparisons of what was measured. */
export { openRuns, type Runs } from './runs.js';
export { runRoutes } from './run-routes.js';
export { comparisonRoutes } from './comparison-routes.js';
