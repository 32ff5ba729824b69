/** Spectra of the vibration: power density, window figures, peaks, and their section of the run document. */
export * from './types.js';
export * from './windows.js';
export * from './welch.js';
export * from './find-peaks.js';
export * from './analyse-spectrum.js';
export * from './spectrum-section.js';
