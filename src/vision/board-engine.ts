/** The part of OpenCV.js that finds calibration boards and fits lenses, typed by hand and checked when first used. */
import { assert } from '../run/plain.js';
import type { Engine, Mat } from './engine.js';

/** A list of Mats in the engine's memory. */
export interface MatVector {
  size(): number;
  /** A new handle on the same data; must be deleted by whoever asked for it. */
  get(index: number): Mat;
  push_back(mat: Mat): void;
  delete(): void;
}

/** Mats of doubles and whole numbers. */
export interface NumberMat extends Mat {
  readonly data64F: Float64Array;
  readonly data32S: Int32Array;
}

interface Handle {
  delete(): void;
}

/** A family of square markers. */
export interface Dictionary extends Handle {
  generateImageMarker(id: number, sidePx: number, target: Mat, borderCells: number): void;
}

/** Finds the crossings of one board. */
export interface CharucoDetector extends Handle {
  /** Marker lists that are not empty are taken as found already: hand in fresh ones. */
  detectBoard(picture: Mat, corners: Mat, ids: Mat, markers: MatVector, markerIds: Mat): void;
}

/** The names used here, besides those of `Engine`. */
export interface BoardEngine extends Engine {
  readonly CV_32FC3: number;
  readonly CV_64F: number;
  readonly DICT_4X4_50: number;
  readonly CALIB_FIX_ASPECT_RATIO: number;
  readonly CALIB_FIX_PRINCIPAL_POINT: number;
  readonly CALIB_USE_INTRINSIC_GUESS: number;
  readonly CALIB_ZERO_TANGENT_DIST: number;
  readonly CALIB_FIX_K2: number;
  readonly CALIB_FIX_K3: number;
  readonly MatVector: new () => MatVector;
  readonly aruco_CharucoBoard: new (
    squares: InstanceType<Engine['Size']>,
    squareSide: number,
    markerSide: number,
    dictionary: Dictionary,
    markerIds: Mat,
  ) => Handle;
  readonly aruco_CharucoParameters: new () => Handle;
  readonly aruco_DetectorParameters: new () => Handle;
  readonly aruco_RefineParameters: new (
    leastDistance: number,
    errorCorrection: number,
    allOrders: boolean,
  ) => Handle;
  readonly aruco_CharucoDetector: new (
    board: Handle,
    charuco: Handle,
    detector: Handle,
    refine: Handle,
  ) => CharucoDetector;
  getPredefinedDictionary(name: number): Dictionary;
  calibrateCameraExtended(
    objectPoints: MatVector,
    imagePoints: MatVector,
    size: InstanceType<Engine['Size']>,
    cameraMatrix: Mat,
    coefficients: Mat,
    turns: MatVector,
    shifts: MatVector,
    intrinsicDeviations: Mat,
    poseDeviations: Mat,
    viewErrors: Mat,
    flags: number,
    criteria: InstanceType<Engine['TermCriteria']>,
  ): number;
}

const FUNCTIONS = [
  'MatVector',
  'aruco_CharucoBoard',
  'aruco_CharucoParameters',
  'aruco_DetectorParameters',
  'aruco_RefineParameters',
  'aruco_CharucoDetector',
  'getPredefinedDictionary',
  'calibrateCameraExtended',
] as const satisfies readonly (keyof BoardEngine)[];

/** The same engine, after a look whether all that is used here is there. @throws Error when a function is missing */
export function boardEngine(engine: Engine): BoardEngine {
  const board = engine as BoardEngine;
  for (const name of FUNCTIONS) assert(typeof board[name] === 'function', `OpenCV.js lacks ${name}`);
  return board;
}
