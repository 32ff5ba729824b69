/**
 * The calibration board: a chessboard whose white squares carry coded markers (ChArUco), measured in squares.
 *
 * Axes of the board: x right, y down from the top left corner of the printed pattern, in squares; the square in that corner
 * is black. Markers are numbered row by row through the white squares, corners row by row through the inner crossings.
 * Every crossing has a name of its own, so that a board that is cut off by the frame or by a hand can still be used.
 * S. Garrido-Jurado et al., "Automatic generation and detection of highly reliable fiducial markers under occlusion",
 * Pattern Recognition 47 (2014); the layout is that of OpenCV from version 4.6 on.
 */

/** A board; lengths in squares. */
export interface CalibrationBoard {
  readonly columns: number;
  readonly rows: number;
  /** Side of a marker, black border included. */
  readonly markerSide: number;
  /** Cells along the side of a marker, black border included. */
  readonly markerCells: number;
}

/** The one board that is printed and looked for: 35 markers of 4 x 4 bits, 54 crossings. */
export const CALIBRATION_BOARD: CalibrationBoard = Object.freeze({
  columns: 10,
  rows: 7,
  markerSide: 0.7,
  markerCells: 6,
});

/** An upright rectangle, in squares. */
export interface BoardRectangle {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** How many markers the board carries. */
export function markerCount({ columns, rows }: CalibrationBoard): number {
  return Math.floor((columns * rows) / 2);
}

/** How many inner crossings the board has. */
export function crossingCount({ columns, rows }: CalibrationBoard): number {
  return (columns - 1) * (rows - 1);
}

/** Place of an inner crossing by its number, in squares. */
export function crossingAt({ columns }: CalibrationBoard, id: number): { x: number; y: number } {
  return { x: (id % (columns - 1)) + 1, y: Math.floor(id / (columns - 1)) + 1 };
}

/** True where the square in this column and row is black. */
function isBlackSquare(column: number, row: number): boolean {
  return (column + row) % 2 === 0;
}

/**
 * Everything that is black on the board: the squares, and of each marker the runs of black cells along its rows.
 *
 * @param markers per marker its cells row by row, length markerCells^2: 1 black, 0 white
 * @throws RangeError unless there is one pattern of the right length per marker
 */
export function blackRectangles(
  board: CalibrationBoard,
  markers: readonly Readonly<Uint8Array>[],
): BoardRectangle[] {
  const { columns, rows, markerSide, markerCells } = board;
  if (markers.length !== markerCount(board))
    throw new RangeError(`markers must hold ${markerCount(board)} patterns, got ${markers.length}`);
  const rectangles: BoardRectangle[] = [];
  const cell = markerSide / markerCells;
  const inset = (1 - markerSide) / 2;
  let id = 0;
  for (let row = 0; row < rows; row++) {
    for (let column = 0; column < columns; column++) {
      if (isBlackSquare(column, row)) {
        rectangles.push({ x: column, y: row, width: 1, height: 1 });
        continue;
      }
      const cells = markers[id++];
      if (cells.length !== markerCells ** 2)
        throw new RangeError(`a marker must hold ${markerCells ** 2} cells, got ${cells.length}`);
      for (let j = 0; j < markerCells; j++) {
        for (const [from, to] of blackRuns(cells.subarray(j * markerCells, (j + 1) * markerCells)))
          rectangles.push({
            x: column + inset + from * cell,
            y: row + inset + j * cell,
            width: (to - from) * cell,
            height: cell,
          });
      }
    }
  }
  return rectangles;
}

function blackRuns(cells: Readonly<Uint8Array>): [number, number][] {
  const runs: [number, number][] = [];
  for (let i = 0; i < cells.length; i++) {
    if (!cells[i]) continue;
    const from = i;
    while (i < cells.length && cells[i]) i++;
    runs.push([from, i]);
  }
  return runs;
}
