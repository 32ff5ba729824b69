/** Outlet of a run: charts, one self-contained HTML page, CSV, pictures, terminal text, and the folder that holds them. */
export { motionCsv, spectrumCsv } from './csv.js';
export { dataUri, decodePicture, encodeCropPicture, encodePicture, thumbnail } from './picture.js';
export { renderHtml } from './html/page.js';
export { terminalSummary } from './terminal-summary.js';
export { type SummaryOptions } from './terminal-text.js';
export { renderWhatIf } from './what-if/render-what-if.js';
export { whatIfText } from './what-if/what-if-text.js';
export { headline, wayInWords, type Headline } from './wording.js';
export { RUN_FILES, checkRunFolder, jsonText, writeRun, type RunFile } from './write-run.js';
export type { ReportBundle, RgbPicture } from './types.js';
export { PAPERS, RULER_MM, boardPage, type BoardPage, type PageText, type PaperName } from './board-page.js';
export { boardPdf } from './board-pdf.js';
export { boardPng, pngPixel } from './board-png.js';
export { comparisonText } from './compare/comparison-text.js';
export { renderComparison } from './compare/render-comparison.js';
