/** Trundle as a library: measure a clip, read and check run documents, write reports, make clips of known motion. */
export { measure, type MeasureHooks, type MeasureRequest, type Stage } from './measure.js';
export { writeRun, renderHtml, terminalSummary, type ReportBundle } from './report/index.js';
export { findTools, probeClip, type ClipFacts, type Tools } from './footage/index.js';
export * from './run/index.js';
