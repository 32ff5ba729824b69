/** The grid of buckets over the picture: 16 columns by 9 rows, numbered row by row. */
import type { Area } from '../vision/index.js';

/** Columns and rows of the grid. */
export const GRID = { columns: 16, rows: 9 } as const;

/** Number of buckets. */
export const BUCKETS = GRID.columns * GRID.rows;

/** Positions as columns, px. */
export interface Positions {
  readonly xPx: ArrayLike<number>;
  readonly yPx: ArrayLike<number>;
}

/** Bucket that holds a position, px; positions outside the picture belong to the nearest bucket. */
export function bucketOf(xPx: number, yPx: number, widthPx: number, heightPx: number): number {
  const column = Math.min(GRID.columns - 1, Math.max(0, Math.floor((xPx * GRID.columns) / widthPx)));
  const row = Math.min(GRID.rows - 1, Math.max(0, Math.floor((yPx * GRID.rows) / heightPx)));
  return row * GRID.columns + column;
}

/** Whole pixels that belong to a bucket. */
export function bucketArea(bucket: number, widthPx: number, heightPx: number): Area {
  const column = bucket % GRID.columns;
  const row = Math.floor(bucket / GRID.columns);
  const xPx = Math.ceil((column * widthPx) / GRID.columns);
  const yPx = Math.ceil((row * heightPx) / GRID.rows);
  return {
    xPx,
    yPx,
    widthPx: Math.ceil(((column + 1) * widthPx) / GRID.columns) - xPx,
    heightPx: Math.ceil(((row + 1) * heightPx) / GRID.rows) - yPx,
  };
}

/** Positions in each bucket. */
export function fillOf(positions: Positions, widthPx: number, heightPx: number): Int32Array {
  const fill = new Int32Array(BUCKETS);
  for (let i = 0; i < positions.xPx.length; i++) {
    fill[bucketOf(positions.xPx[i], positions.yPx[i], widthPx, heightPx)] += 1;
  }
  return fill;
}

/**
 * Buckets that receive something when `count` items are poured in, each into the emptiest bucket: those below the
 * level that the last item reaches.
 */
export function bucketsToFill(fill: ArrayLike<number>, count: number): number[] {
  const all = Array.from(fill);
  let level = Math.min(...all);
  let room = 0;
  while (room < count) {
    level += 1;
    room = 0;
    for (const filled of all) room += Math.max(0, level - filled);
  }
  return all.map((_, bucket) => bucket).filter((bucket) => all[bucket] < level);
}
