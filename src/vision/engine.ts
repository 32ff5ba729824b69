/**
 * The part of OpenCV.js that this room uses, typed by hand: the published types promise functions that the
 * binary does not hold, and none of them may leave this room.
 */

/** An image or column of points in the memory of the engine; must be deleted by whoever made it. */
export interface Mat {
  readonly rows: number;
  readonly cols: number;
  /** Views go stale when the memory grows: read them anew after each call, never keep them. */
  readonly data: Uint8Array;
  readonly data32F: Float32Array;
  convertTo(target: Mat, type: number): void;
  roi(rect: Rect): Mat;
  delete(): void;
}

interface Size {
  readonly width: number;
  readonly height: number;
}

interface Rect extends Size {
  readonly x: number;
  readonly y: number;
}

/** When an iteration stops; `type` 3 means either of the two limits. */
interface TermCriteria {
  readonly type: number;
  readonly maxCount: number;
  readonly epsilon: number;
}

/** The engine's own names; a start-up check asserts that each is there. */
export interface Engine {
  readonly CV_8UC1: number;
  readonly CV_32F: number;
  readonly CV_32FC1: number;
  readonly CV_32FC2: number;
  readonly BORDER_REFLECT_101: number;
  readonly OPTFLOW_USE_INITIAL_FLOW: number;
  readonly HEAPU8: Uint8Array;
  readonly Mat: { new (): Mat; new (rows: number, cols: number, type: number): Mat };
  readonly Size: new (width: number, height: number) => Size;
  readonly Rect: new (x: number, y: number, width: number, height: number) => Rect;
  readonly TermCriteria: new (type: number, maxCount: number, epsilon: number) => TermCriteria;
  GaussianBlur(source: Mat, target: Mat, kernel: Size, sigmaX: number, sigmaY: number, border: number): void;
  cornerMinEigenVal(source: Mat, target: Mat, block: number, aperture: number, border: number): void;
  calcOpticalFlowPyrLK(
    previous: Mat,
    next: Mat,
    points: Mat,
    nextPoints: Mat,
    status: Mat,
    error: Mat,
    window: Size,
    maxLevel: number,
    criteria: TermCriteria,
    flags: number,
    minEigenvalue: number,
  ): void;
  exceptionFromPtr(pointer: number): { readonly msg: string };
}

/** Functions and classes whose absence must be noticed at the start, not in the middle of a clip. */
export const ENGINE_FUNCTIONS = [
  'Mat',
  'Size',
  'Rect',
  'TermCriteria',
  'GaussianBlur',
  'cornerMinEigenVal',
  'calcOpticalFlowPyrLK',
  'exceptionFromPtr',
] as const satisfies readonly (keyof Engine)[];
