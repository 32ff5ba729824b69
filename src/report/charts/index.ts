/** Charts as SVG text from data and options alone: the same bytes for the same data, in a report, a web page or a test. */
export * from './crop-curve.js';
export * from './crop-picture.js';
export * from './delivery-window.js';
export * from './motion-chart.js';
export * from './profile-chart.js';
export * from './share-bar.js';
export * from './spectrogram-chart.js';
export * from './spectrum-chart.js';
export * from './svg.js';
export * from './thin-out.js';
export * from './third-octave-chart.js';
export * from './verdict-badge.js';
export * from './wavelength-chart.js';
export * from './style.js';
