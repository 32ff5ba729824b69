/** Trundle as a library: measure a clip, read and check run documents, write reports, estimate spectra. */
export { measure } from './measure.js';
export type { MeasureHooks, MeasureRequest, Stage } from './measure-request.js';
export { writeRun, renderHtml, terminalSummary, type ReportBundle } from './report/index.js';
export { findTools, probeClip, type ClipFacts, type Tools } from './footage/index.js';
export * from './run/index.js';
export { calibrateLens, type LensHooks, type LensRequest } from './calibrate-lens.js';
export { rigLens, type FittedFigure, type LensCalibration } from './lens-calibration.js';
export { printBoard, type PrintRequest } from './print-board.js';
export {
  coherenceThreshold,
  crossSpectrum,
  placeSpectrogram,
  spectrogram,
  thirdOctaves,
  welch,
} from './spectrum/index.js';
export { compareRuns, type CompareRequest } from './compare.js';
export { askWhatIf, type AskedWhatIf, type WhatIfSources } from './what-if.js';
