/** Outlet of a run: charts, one self-contained HTML page, CSV, pictures, terminal text, and the folder that holds them. */
export { motionCsv, spectrumCsv } from './csv.js';
export { dataUri, decodePicture, encodeCropPicture, encodePicture, thumbnail } from './picture.js';
export { renderHtml } from './html/page.js';
export { familyStyle } from './html/style.js';
export { reportParts, type ReportPieces } from './live-parts.js';
export { terminalSummary } from './terminal-summary.js';
export { type SummaryOptions } from './terminal-text.js';
export { renderWhatIf } from './what-if/render-what-if.js';
export { whatIfText } from './what-if/what-if-text.js';
export { headline, wayInWords, type Headline } from './wording.js';
export { RUN_FILES, runFiles, type RunFile } from './run-files.js';
export { jsonText } from './json-text.js';
export { checkRunFolder, writeRun, type ReportOptions, type WrittenRun } from './write-run.js';
export { launchChromium, type Launch } from './pdf/launch-chromium.js';
export { pdfOf, writePdfBeside } from './pdf/pdf-beside.js';
export { PRINT_PAPERS, printPage, type PrintOptions, type PrintPaper } from './pdf/print-page.js';
export type { ReportBundle, RgbPicture } from './types.js';
export { PAPERS, RULER_MM, boardPage, type BoardPage, type PageText, type PaperName } from './board-page.js';
export { boardPdf } from './board-pdf.js';
export { boardPng, pngPixel } from './board-png.js';
export { comparisonText, type ComparisonTextOptions } from './compare/comparison-text.js';
export {
  comparisonParts,
  renderComparison,
  type ComparisonOptions,
  type ComparisonPieces,
} from './compare/render-comparison.js';
export { renderLogPage } from './log-page/render-log-page.js';
export type { ListedRun, LogPage, ShownRun } from './log-page/types.js';
