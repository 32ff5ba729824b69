/** The printed board of `trundle lens --print`, to scale, as the bytes of a PDF or PNG. */
import { CALIBRATION_BOARD, markerCount } from './optics/index.js';
import { boardPage, boardPdf, boardPng, type BoardPage, type PaperName } from './report/index.js';
import { startVision } from './vision/index.js';

/** What to print. */
export interface PrintRequest {
  readonly format: 'pdf' | 'png';
  readonly paper: PaperName;
  /** The largest whole number of millimetres that fits when missing. */
  readonly squareMm?: number | undefined;
}

/**
 * Draws the one board that calibrateLens looks for.
 * @returns the sheet and the bytes of the file
 * @throws TrundleError `argument-invalid` when the squares do not fit the paper
 */
export async function printBoard(request: PrintRequest): Promise<{ page: BoardPage; bytes: Uint8Array }> {
  const vision = await startVision();
  const markers = Array.from({ length: markerCount(CALIBRATION_BOARD) }, (_, id) =>
    vision.markerCells(CALIBRATION_BOARD, id),
  );
  const page = boardPage(CALIBRATION_BOARD, markers, request.paper, request.squareMm);
  return { page, bytes: request.format === 'pdf' ? boardPdf(page) : await boardPng(page) };
}
