/** Starts the image engine of this thread and hands out its functions on plain typed arrays. */
import type { BoardCrossings, CalibrationBoard } from '../optics/index.js';
import { BoardFinder, markerCells } from './board-finder.js';
import { cornerStrengthIn } from './corner-strength.js';
import type { Engine, Mat } from './engine.js';
import { fitLens, type LensFit, type LensFitOptions } from './fit-lens.js';
import { blurInto } from './gaussian-blur.js';
import { loadEngine } from './load-engine.js';
import { lucasKanade } from './lucas-kanade.js';
import { EnginePair } from './engine-pair.js';
import { withMats, type Keep } from './scope.js';
import type { FoundPoints, GreyPicture, LucasKanadeOptions, PicturePair, Points } from './types.js';

/** The image functions of one thread. Inputs are not changed and results are fresh arrays. */
export interface Vision {
  /**
   * Gaussian blur with mirrored borders, rounded to whole grey levels.
   * @param sigmaPx standard deviation, px, above 0
   */
  gaussianBlur(picture: GreyPicture, sigmaPx: number): Uint8Array;
  /**
   * Smaller eigenvalue of the gradient matrix summed over blockPx x blockPx (Shi and Tomasi, CVPR 1994).
   * Length widthPx * heightPx; borders mirrored.
   */
  minEigenvalueMap(picture: GreyPicture, blockPx: number): Float32Array;
  /**
   * Follows points from one picture to the next by pyramidal Lucas-Kanade (Bouguet 2000), to a fraction of a pixel.
   * Points that leave the picture or stand on no texture come back with found = 0.
   * @throws RangeError when the pictures differ in size or the window is not odd
   */
  pyramidalLucasKanade(
    previous: GreyPicture,
    next: GreyPicture,
    points: Points,
    options?: LucasKanadeOptions,
  ): FoundPoints;
  /** Opens a pair of pictures held in the engine's memory, for following a clip frame by frame; sigmaPx as above, or 0. */
  openPair(widthPx: number, heightPx: number, sigmaPx: number): PicturePair;
  /** Opens a finder of one calibration board, for a clip of it. */
  openBoardFinder(board: CalibrationBoard): BoardFinder;
  /** Cells of one marker of the board, row by row: 1 black, 0 white, border included. */
  markerCells(board: CalibrationBoard, id: number): Uint8Array;
  /**
   * Fits focal length and distortion to views of a board.
   * @throws RangeError without views, or for a view of fewer than 4 crossings
   * @throws Error with the engine's message when the views do not determine a lens
   */
  fitLens(board: CalibrationBoard, views: readonly BoardCrossings[], options: LensFitOptions): LensFit;
  /** Memory the engine has taken from the system so far, bytes; it never shrinks. */
  heapBytes(): number;
}

let started: Promise<Vision> | undefined;

/**
 * The image functions of this thread; the first call starts the engine (about half a second), later calls
 * give the same one.
 * @throws Error when the engine cannot start
 */
export function startVision(): Promise<Vision> {
  started ??= loadEngine().then(({ engine }) => visionOn(engine));
  return started;
}

function visionOn(engine: Engine): Vision {
  return {
    gaussianBlur: (picture, sigmaPx) =>
      withMats(engine, (keep) => {
        if (!(sigmaPx > 0)) throw new RangeError(`sigmaPx: expected a number above 0, got ${sigmaPx}`);
        const mat = pictureMat(engine, keep, picture);
        blurInto(engine, keep, mat, mat, sigmaPx);
        return mat.data.slice();
      }),
    minEigenvalueMap: (picture, blockPx) =>
      withMats(engine, (keep) =>
        cornerStrengthIn(engine, keep, pictureMat(engine, keep, picture), blockPx, {
          xPx: 0,
          yPx: 0,
          widthPx: picture.widthPx,
          heightPx: picture.heightPx,
        }),
      ),
    pyramidalLucasKanade: (previous, next, points, options = {}) =>
      withMats(engine, (keep) => {
        if (previous.widthPx !== next.widthPx || previous.heightPx !== next.heightPx) {
          throw new RangeError(
            `pictures: sizes differ, ${previous.widthPx} x ${previous.heightPx} and ${next.widthPx} x ${next.heightPx}`,
          );
        }
        return lucasKanade(
          engine,
          keep,
          pictureMat(engine, keep, previous),
          pictureMat(engine, keep, next),
          points,
          options,
        );
      }),
    openPair: (widthPx, heightPx, sigmaPx) => new EnginePair(engine, widthPx, heightPx, sigmaPx),
    openBoardFinder: (board) => new BoardFinder(engine, board),
    markerCells: (board, id) => markerCells(engine, board, id),
    fitLens: (board, views, options) => fitLens(engine, board, views, options),
    heapBytes: () => engine.HEAPU8.length,
  };
}

function pictureMat(engine: Engine, keep: Keep, picture: GreyPicture): Mat {
  const { widthPx, heightPx, grey } = picture;
  if (grey.length !== widthPx * heightPx) {
    throw new RangeError(
      `grey: expected ${widthPx * heightPx} bytes for ${widthPx} x ${heightPx}, got ${grey.length}`,
    );
  }
  const mat = keep(new engine.Mat(heightPx, widthPx, engine.CV_8UC1));
  mat.data.set(grey);
  return mat;
}
