/**
 * How views of a calibration board differ from one another and how much of the picture they reach, from the crossings seen
 * in each, in pixels.
 */
import { solveSymmetric } from '../numerics/index.js';
import { crossingAt, type CalibrationBoard } from './calibration-board.js';
import type { PictureSize } from './camera-for-frame.js';

/** Crossings of the board seen in one picture: columns of one length. */
export interface BoardCrossings {
  /** Number of each crossing, see crossingAt. */
  readonly ids: Readonly<Int32Array>;
  /** Pixel centres on whole numbers. */
  readonly xPx: Readonly<Float64Array>;
  readonly yPx: Readonly<Float64Array>;
}

/** A view needs this many crossings, so that its pose is more than guessed. */
export const LEAST_CROSSINGS = 12;
/** Rows and columns of crossings that a view needs: fewer say little about the tilt of the board. */
const LEAST_LINES = 3;

/** True for a view with enough crossings, in enough rows and columns, to tell where the board was. */
export function isUsableView(board: CalibrationBoard, { ids }: BoardCrossings): boolean {
  const places = Array.from(ids, (id) => crossingAt(board, id));
  const lines = (axis: 'x' | 'y'): number => new Set(places.map((place) => place[axis])).size;
  return ids.length >= LEAST_CROSSINGS && lines('x') >= LEAST_LINES && lines('y') >= LEAST_LINES;
}

/**
 * Pixels of the four corners of the pattern, x and y in turn, carried over from the crossings by the homography that fits
 * them best (direct linear transform; lens distortion is not looked at, so this is for comparing views only).
 */
export function boardOutline(board: CalibrationBoard, { ids, xPx, yPx }: BoardCrossings): Float64Array {
  const normal = new Float64Array(64);
  const right = new Float64Array(8);
  // Coordinates about the middle and of order one keep the equations well conditioned.
  const scalePx = Math.max(1, ...xPx.map((x) => Math.abs(x)), ...yPx.map((y) => Math.abs(y)));
  const onBoard = (x: number, y: number): [number, number] => [
    (2 * x) / board.columns - 1,
    (2 * y) / board.rows - 1,
  ];
  const add = (row: readonly number[], value: number): void => {
    for (let i = 0; i < 8; i++) {
      right[i] += row[i] * value;
      for (let j = 0; j < 8; j++) normal[8 * i + j] += row[i] * row[j];
    }
  };
  for (let k = 0; k < ids.length; k++) {
    const { x, y } = crossingAt(board, ids[k]);
    const [u, v] = onBoard(x, y);
    const [px, py] = [xPx[k] / scalePx, yPx[k] / scalePx];
    add([u, v, 1, 0, 0, 0, -u * px, -v * px], px);
    add([0, 0, 0, u, v, 1, -u * py, -v * py], py);
  }
  const h = solveSymmetric(normal, right, 8);
  const corners = [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ];
  return Float64Array.from(
    corners.flatMap(([u, v]) => {
      const w = h[6] * u + h[7] * v + 1;
      return [(scalePx * (h[0] * u + h[1] * v + h[2])) / w, (scalePx * (h[3] * u + h[4] * v + h[5])) / w];
    }),
  );
}

/**
 * Picks views that differ: the one with the most crossings first, then again and again the one furthest from all that were
 * picked, as far as the corner of the board that moved most.
 * @param outlines of boardOutline, one per view
 * @param leastPx views nearer than this to a picked one are left out
 * @returns indices of the views, in the order picked
 */
export function pickDifferentViews(
  views: readonly BoardCrossings[],
  outlines: readonly Readonly<Float64Array>[],
  atMost: number,
  leastPx: number,
): number[] {
  const distance = outlines.map(() => Infinity);
  const picked: number[] = [];
  let next = views.reduce((best, view, i) => (view.ids.length > views[best].ids.length ? i : best), 0);
  while (picked.length < Math.min(atMost, views.length) && distance[next] > leastPx) {
    picked.push(next);
    outlines.forEach(
      (outline, i) => (distance[i] = Math.min(distance[i], outlineDistance(outline, outlines[next]))),
    );
    next = distance.reduce((best, d, i) => (d > distance[best] ? i : best), 0);
  }
  return picked;
}

function outlineDistance(a: Readonly<Float64Array>, b: Readonly<Float64Array>): number {
  let most = 0;
  for (let i = 0; i < 8; i += 2) most = Math.max(most, Math.hypot(a[i] - b[i], a[i + 1] - b[i + 1]));
  return most;
}

/** A quarter of the picture. */
export type PictureQuarter = 'top left' | 'top right' | 'bottom left' | 'bottom right';

/** How much of the picture the crossings of all views reach. */
export interface BoardCoverage {
  /** Share of the picture's cells (16 x 9 of them) with a crossing in them, 0..1. */
  readonly share: number;
  /** Distance of the outermost crossing from the middle, over half the diagonal, in each quarter of the picture. */
  readonly reach: Readonly<Record<PictureQuarter, number>>;
}

const CELL_COLUMNS = 16;
const CELL_ROWS = 9;

/** Coverage of a picture by the crossings of some views. */
export function boardCoverage(
  views: readonly BoardCrossings[],
  { widthPx, heightPx }: PictureSize,
): BoardCoverage {
  const cells = new Set<number>();
  const reach = { 'top left': 0, 'top right': 0, 'bottom left': 0, 'bottom right': 0 };
  for (const { xPx, yPx } of views) {
    for (let i = 0; i < xPx.length; i++) {
      const x = (xPx[i] + 0.5) / widthPx;
      const y = (yPx[i] + 0.5) / heightPx;
      cells.add(Math.floor(CELL_ROWS * y) * CELL_COLUMNS + Math.floor(CELL_COLUMNS * x));
      const quarter: PictureQuarter = `${y < 0.5 ? 'top' : 'bottom'} ${x < 0.5 ? 'left' : 'right'}`;
      const radius =
        (2 * Math.hypot((x - 0.5) * widthPx, (y - 0.5) * heightPx)) / Math.hypot(widthPx, heightPx);
      reach[quarter] = Math.max(reach[quarter], radius);
    }
  }
  return { share: cells.size / (CELL_COLUMNS * CELL_ROWS), reach };
}

/** Mean over the quarters of how far out the crossings go: 1 is the corners of the picture. */
export function meanReach({ reach }: BoardCoverage): number {
  return Object.values(reach).reduce((sum, r) => sum + r, 0) / 4;
}
