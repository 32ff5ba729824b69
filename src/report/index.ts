/** Outlet of a run: charts, one self-contained HTML page, CSV, pictures, terminal text, and the folder that holds them. */
export { motionCsv, spectrumCsv } from './csv.js';
export { encodeCropPicture, encodePicture, dataUri } from './picture.js';
export { renderHtml } from './html/page.js';
export { terminalSummary, type SummaryOptions } from './terminal-summary.js';
export { headline, wayInWords, type Headline } from './wording.js';
export { RUN_FILES, checkRunFolder, writeRun, type RunFile } from './write-run.js';
export type { ReportBundle, RgbPicture } from './types.js';
export { PAPERS, RULER_MM, boardPage, type BoardPage, type PageText, type PaperName } from './board-page.js';
export { boardPdf } from './board-pdf.js';
export { boardPng, pngPixel } from './board-png.js';
