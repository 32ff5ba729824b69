/**
 * The largest square window that lies inside every one of many borders, wherever its middle is, in the unit of the borders.
 *
 * Branch and bound over the middle of the window: a cell of middles is left out when none of its windows can be larger than
 * the best one known. Two limits tell. A window at least as large as the best one spans a stretch of each side whatever
 * its middle in the cell, and the borders on these stretches set the room between them. And the room around a place, the
 * half width of the largest window centred there, changes by no more than the place is moved (across or down, whichever
 * is more). Neither needs straight sides. Own derivation.
 */
import { borderEnvelope, type BorderEnvelope, type Borders } from './border-envelope.js';
import { largestCentredHalfWidth } from './crop-geometry.js';

/** A square window. */
export interface SquareWindow {
  readonly x: number;
  readonly y: number;
  readonly halfWidth: number;
}

/** Places that are still looked at, and the borders that can limit the window there. */
interface Cell {
  readonly x: number;
  readonly y: number;
  readonly halfX: number;
  readonly halfY: number;
  readonly borders: Int32Array;
}

/** Far more cells than were ever needed; beyond it the best window so far is given. */
const MOST_CELLS = 200_000;
/** The distance to the origin is halved this often when a window is drawn towards it. */
const PULLS = 10;

/**
 * The largest window inside all borders.
 *
 * Of windows that are equally large it gives one near the origin, and the one on the origin itself unless another is larger
 * by half of the tolerance.
 *
 * @param most no window is larger than this half width
 * @param tolerance half width that may be given up
 * @returns half width 0 on the origin when there is none; `most` when there is no border
 */
export function largestWindow(borders: Borders, most: number, tolerance: number): SquareWindow {
  const room = roomFinder(borders);
  const envelope = borderEnvelope(borders);
  // No use to go on below `enough`.
  const roomOfAll = (x: number, y: number, enough: number): number => {
    let least = most;
    for (let b = 0; b < borders.count && least > enough; b++) least = Math.min(least, room(b, x, y));
    return least;
  };
  let best: SquareWindow = { x: 0, y: 0, halfWidth: roomOfAll(0, 0, 0) };
  const whole = cellOfAll(borders, best.halfWidth);
  let cells = Math.min(whole.halfX, whole.halfY) >= 0 ? [whole] : [];
  for (let looked = 0; cells.length > 0 && looked < MOST_CELLS;) {
    const open: Cell[] = [];
    for (const cell of cells) {
      looked++;
      const enough = best.halfWidth + tolerance / 2;
      if (Math.min(most, betweenSides(cell, envelope, enough)) <= enough) continue;
      const seen = lookAt(cell, room, most, enough);
      if (seen === null) continue;
      if (seen.room > enough) best = { x: cell.x, y: cell.y, halfWidth: seen.room };
      open.push({ ...cell, borders: seen.borders });
    }
    cells = open.flatMap((cell) => split(cell, envelope, best.halfWidth + tolerance / 2, tolerance / 4));
  }
  return pulledToOrigin(best, roomOfAll, tolerance / 2);
}

/** Gives the half width of the largest window around a place inside one border. */
function roomFinder({ points, x, y }: Borders): (border: number, atX: number, atY: number) => number {
  const fromX = new Float64Array(points);
  const fromY = new Float64Array(points);
  return (border, atX, atY) => {
    const at = border * points;
    for (let i = 0; i < points; i++) {
      fromX[i] = x[at + i] - atX;
      fromY[i] = y[at + i] - atY;
    }
    return largestCentredHalfWidth(fromX, fromY, 1);
  };
}

/** The places that can be the middle of a window of at least `halfWidth`: those so far inside the bounds of every border. */
function cellOfAll({ count, points, x, y }: Borders, halfWidth: number): Cell {
  const range = (column: Float64Array): readonly [number, number] => {
    let low = -Infinity;
    let high = Infinity;
    for (let p = 0; p < count; p++) {
      const own = column.subarray(p * points, (p + 1) * points);
      low = Math.max(
        low,
        own.reduce((a, b) => Math.min(a, b), Infinity),
      );
      high = Math.min(
        high,
        own.reduce((a, b) => Math.max(a, b), -Infinity),
      );
    }
    return [low + halfWidth, high - halfWidth];
  };
  const [left, right] = range(x);
  const [top, bottom] = range(y);
  return {
    x: count > 0 ? (left + right) / 2 : 0,
    y: count > 0 ? (top + bottom) / 2 : 0,
    halfX: count > 0 ? (right - left) / 2 : 0,
    halfY: count > 0 ? (bottom - top) / 2 : 0,
    borders: Int32Array.from({ length: count }, (_, p) => p),
  };
}

/** What the sides let a window have that is larger than `enough` and centred in the cell. */
function betweenSides({ x, y, halfX, halfY }: Cell, envelope: BorderEnvelope, enough: number): number {
  const top = envelope.top.least(x + halfX - enough, x - halfX + enough);
  const bottom = envelope.bottom.least(x + halfX - enough, x - halfX + enough);
  const left = envelope.left.least(y + halfY - enough, y - halfY + enough);
  const right = envelope.right.least(y + halfY - enough, y - halfY + enough);
  return Math.min(
    (left + right) / 2,
    (top + bottom) / 2,
    right - (x - halfX),
    left + (x + halfX),
    bottom - (y - halfY),
    top + (y + halfY),
  );
}

/**
 * The room in the middle of a cell, and the borders that can limit a window in it, tightest first; null when no window in
 * the cell is larger than `enough`.
 */
function lookAt(
  { x, y, halfX, halfY, borders }: Cell,
  room: (border: number, x: number, y: number) => number,
  most: number,
  enough: number,
): { room: number; borders: Int32Array } | null {
  const reach = Math.max(halfX, halfY);
  const rooms = new Float64Array(borders.length);
  let least = most;
  for (let i = 0; i < borders.length; i++) {
    rooms[i] = room(borders[i], x, y);
    if (rooms[i] + reach <= enough) return null;
    least = Math.min(least, rooms[i]);
  }
  const kept = Array.from(borders.keys()).filter((i) => rooms[i] - reach < least + reach);
  kept.sort((i, j) => rooms[i] - rooms[j]);
  return { room: least, borders: Int32Array.from(kept, (i) => borders[i]) };
}

/** Thirds along the side whose length leaves the borders the more room, along the longer one when that is no matter. */
function split(cell: Cell, envelope: BorderEnvelope, enough: number, matters: number): Cell[] {
  const { x, y, halfX, halfY } = cell;
  const gain =
    betweenSides({ ...cell, halfY: 0 }, envelope, enough) -
    betweenSides({ ...cell, halfX: 0 }, envelope, enough);
  const acrossX = Math.abs(gain) > matters ? gain > 0 : halfX > halfY;
  return acrossX
    ? [-1, 0, 1].map((i) => ({ ...cell, x: x + (2 * i * halfX) / 3, halfX: halfX / 3 }))
    : [-1, 0, 1].map((i) => ({ ...cell, y: y + (2 * i * halfY) / 3, halfY: halfY / 3 }));
}

/** Moves a window towards the origin, along one axis after the other, as long as it need not shrink by more than `giveUp`. */
function pulledToOrigin(
  best: SquareWindow,
  roomOfAll: (x: number, y: number, enough: number) => number,
  giveUp: number,
): SquareWindow {
  const enough = best.halfWidth - giveUp;
  let pulled = best;
  for (const axis of ['y', 'x'] as const) {
    let tooNear = 0;
    let share = 0;
    const start = pulled;
    for (let k = 0; k < PULLS; k++) {
      const tried = { ...start, [axis]: share * start[axis] + 0 };
      const halfWidth = roomOfAll(tried.x, tried.y, enough);
      if (halfWidth > enough) {
        pulled = { ...tried, halfWidth };
        if (k === 0) break;
      } else {
        tooNear = share;
      }
      share = (tooNear + pulled[axis] / start[axis]) / 2;
    }
  }
  return pulled;
}
