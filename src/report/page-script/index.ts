/** What makes markup of a report live inside another page, which says where it stands and when it ends. */
export { startCropSlider } from './crop-slider.js';
export { startRunLists } from './run-list.js';
export { startCharts, type Kinds, type StartOptions } from './start-charts.js';
