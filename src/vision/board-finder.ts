/** Finds the crossings of a calibration board in grey pictures, to a small fraction of a pixel. */
import type { BoardCrossings, CalibrationBoard } from '../optics/index.js';
import { boardEngine, type BoardEngine, type CharucoDetector, type NumberMat } from './board-engine.js';
import type { Engine } from './engine.js';
import { refineCrossing } from './refine-crossings.js';
import { withMats } from './scope.js';
import type { GreyPicture } from './types.js';

/** Borders of a marker around its bits, cells. */
const BORDER_CELLS = 1;

/** The engine counts from the corner of a pixel, this project from its centre. */
const ENGINE_SHIFT_PX = 0.5;

/** Cells of one marker, row by row: 1 black, 0 white, border included. */
export function markerCells(plain: Engine, board: CalibrationBoard, id: number): Uint8Array {
  const engine = boardEngine(plain);
  return withMats(engine, (keep) => {
    const dictionary = keep(engine.getPredefinedDictionary(engine.DICT_4X4_50));
    const picture = keep(new engine.Mat());
    dictionary.generateImageMarker(id, board.markerCells, picture, BORDER_CELLS);
    return Uint8Array.from(picture.data, (level) => (level > 127 ? 0 : 1));
  });
}

/** Looks for one board; owns engine memory: call `close` when done. */
export class BoardFinder {
  readonly #engine: BoardEngine;
  readonly #board: CalibrationBoard;
  readonly #detector: CharucoDetector;

  /** Made by `Vision.openBoardFinder`. */
  constructor(plain: Engine, board: CalibrationBoard) {
    const engine = boardEngine(plain);
    this.#engine = engine;
    this.#board = board;
    this.#detector = withMats(engine, (keep) => {
      const pattern = keep(
        new engine.aruco_CharucoBoard(
          new engine.Size(board.columns, board.rows),
          1,
          board.markerSide,
          keep(engine.getPredefinedDictionary(engine.DICT_4X4_50)),
          keep(new engine.Mat()),
        ),
      );
      return new engine.aruco_CharucoDetector(
        pattern,
        keep(new engine.aruco_CharucoParameters()),
        keep(new engine.aruco_DetectorParameters()),
        keep(new engine.aruco_RefineParameters(10, 3, true)),
      );
    });
  }

  /** The crossings in a picture; empty columns when there is no board. @throws RangeError when size and bytes disagree */
  find(picture: GreyPicture): BoardCrossings {
    const engine = this.#engine;
    const { widthPx, heightPx, grey } = picture;
    if (grey.length !== widthPx * heightPx)
      throw new RangeError(
        `grey: expected ${widthPx * heightPx} bytes for ${widthPx} x ${heightPx}, got ${grey.length}`,
      );
    return withMats(engine, (keep) => {
      const mat = keep(new engine.Mat(heightPx, widthPx, engine.CV_8UC1));
      mat.data.set(grey);
      const corners = keep(new engine.Mat());
      const ids = keep(new engine.Mat()) as NumberMat;
      this.#detector.detectBoard(mat, corners, ids, keep(new engine.MatVector()), keep(new engine.Mat()));
      const count = ids.rows;
      if (count === 0) return refined(picture, this.#board, [], []);
      return refined(picture, this.#board, ids.data32S.slice(0, count), corners.data32F.slice(0, 2 * count));
    });
  }

  /** Gives the engine's memory back; the finder must not be used afterwards. */
  close(): void {
    this.#detector.delete();
  }
}

/** Drops crossings that the picture does not bear out, and moves the others to where they are. */
function refined(
  picture: GreyPicture,
  { columns }: CalibrationBoard,
  ids: ArrayLike<number>,
  flat: ArrayLike<number>,
): BoardCrossings {
  const rough = new Map(
    Array.from(ids, (id, i) => [
      id,
      [flat[2 * i] - ENGINE_SHIFT_PX, flat[2 * i + 1] - ENGINE_SHIFT_PX] as const,
    ]),
  );
  const perRow = columns - 1;
  // One step of the board at a crossing, from whichever of the two neighbours along it were found.
  const step = (id: number, by: number): readonly [number, number] | null => {
    const isSameLine = (other: number): boolean =>
      by !== 1 || Math.floor(other / perRow) === Math.floor(id / perRow);
    const here = rough.get(id);
    const before = isSameLine(id - by) ? rough.get(id - by) : undefined;
    const after = isSameLine(id + by) ? rough.get(id + by) : undefined;
    const [from, to] = [before ?? here, after ?? here];
    if (!from || !to || from === to) return null;
    const steps = before && after ? 2 : 1;
    return [(to[0] - from[0]) / steps, (to[1] - from[1]) / steps];
  };
  const kept: { id: number; xPx: number; yPx: number }[] = [];
  for (const [id, [x, y]] of rough) {
    const right = step(id, 1);
    const down = step(id, perRow);
    const place = right && down ? refineCrossing(picture, x, y, { right, down }) : null;
    if (place) kept.push({ id, ...place });
  }
  return {
    ids: Int32Array.from(kept, ({ id }) => id),
    xPx: Float64Array.from(kept, ({ xPx }) => xPx),
    yPx: Float64Array.from(kept, ({ yPx }) => yPx),
  };
}
