/** Spectra of the vibration: power density, window figures, peaks, and their section of the run document. */
export * from './types.js';
export * from './estimate/windows.js';
export * from './estimate/welch.js';
export * from './peaks/find-peaks.js';
export * from './analyse-spectrum.js';
export * from './spectrum-section.js';
