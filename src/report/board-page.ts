/** A sheet of paper with the calibration board on it: places in millimetres from the top left corner of the sheet, y down. */
import { blackRectangles, type BoardRectangle, type CalibrationBoard } from '../optics/index.js';
import { TrundleError } from '../run/index.js';
import { boardTexts } from '../texts/index.js';

/** Sheets, lying on their long side: width and height in mm (ISO 216; letter is 11 x 8.5 in). */
export const PAPERS = {
  a4: [297, 210],
  a3: [420, 297],
  letter: [279.4, 215.9],
} as const satisfies Record<string, readonly [number, number]>;

/** Name of a sheet. */
export type PaperName = keyof typeof PAPERS;

/** A line of text, its left end on the base line. */
export interface PageText {
  readonly xMm: number;
  readonly yMm: number;
  readonly sizeMm: number;
  readonly text: string;
}

/** A sheet ready to be drawn: everything is black on white. */
export interface BoardPage {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly squareMm: number;
  /** In mm. */
  readonly rectangles: readonly BoardRectangle[];
  readonly texts: readonly PageText[];
}

/** Printers keep off the edge of the sheet. */
const EDGE_MM = 8;
/** Between the pattern and the line below it. */
const GAP_MM = 5;
/** Below the pattern: gap, line to check the scale, two lines of text. */
const FOOT_MM = 17;
/** Length of the line by which the scale of a print is checked. */
export const RULER_MM = 100;
const RULER_THICK_MM = 0.3;
const TICK_MM = 2.5;
const TEXT_MM = 2.9;
const SMALLEST_SQUARE_MM = 5;

/**
 * Lays the board out on a sheet, in the middle of its width.
 * @param squareMm side of the squares; when missing, the largest whole number of millimetres that fits
 * @param markers cells of each marker, see blackRectangles
 * @throws TrundleError `argument-invalid` when squares of that size do not fit the sheet, or are too small to be seen
 */
export function boardPage(
  board: CalibrationBoard,
  markers: readonly Readonly<Uint8Array>[],
  paper: PaperName,
  squareMm?: number,
): BoardPage {
  const [widthMm, heightMm] = PAPERS[paper];
  const largestMm = Math.min(
    (widthMm - 2 * EDGE_MM) / board.columns,
    (heightMm - 2 * EDGE_MM - FOOT_MM) / board.rows,
  );
  const side = squareMm ?? Math.floor(largestMm);
  if (!(side >= SMALLEST_SQUARE_MM && side <= largestMm))
    throw new TrundleError(
      'argument-invalid',
      `Squares of ${mm(side)} do not go on ${paper}: from ${SMALLEST_SQUARE_MM}mm to ${mm(Math.floor(10 * largestMm) / 10)} fit${paper === 'a3' || side < SMALLEST_SQUARE_MM ? '' : ', or take a3 with --paper'}.`,
    );
  const left = (widthMm - board.columns * side) / 2;
  const top = EDGE_MM;
  const rulerTop = top + board.rows * side + GAP_MM;
  return {
    widthMm,
    heightMm,
    squareMm: side,
    rectangles: [
      ...blackRectangles(board, markers).map((r) => ({
        x: left + r.x * side,
        y: top + r.y * side,
        width: r.width * side,
        height: r.height * side,
      })),
      // The line and its ends: outer edges are 100 mm apart.
      { x: left, y: rulerTop, width: RULER_MM, height: RULER_THICK_MM },
      { x: left, y: rulerTop - TICK_MM, width: RULER_THICK_MM, height: TICK_MM },
      { x: left + RULER_MM - RULER_THICK_MM, y: rulerTop - TICK_MM, width: RULER_THICK_MM, height: TICK_MM },
    ],
    texts: [
      {
        xMm: left + RULER_MM + 3,
        yMm: rulerTop + 0.6,
        sizeMm: TEXT_MM,
        text: boardTexts.ruler(RULER_MM),
      },
      {
        xMm: left,
        yMm: rulerTop + 6,
        sizeMm: TEXT_MM,
        text: boardTexts.squares(side),
      },
    ],
  };
}

function mm(value: number): string {
  return `${Number(value.toFixed(3))}mm`;
}
