/**
 * How the same places changed their grey level from one frame to the next.
 *
 * Looked at are small squares around points that were followed: a scene that is brighter on one side does not change
 * them as the camera travels past it, an exposure that changes does, all of them alike. Levels are coded grey, 0..255;
 * changes are natural logarithms of ratios, so that a gain is one number for dark and bright points.
 */
import { median } from '../../numerics/index.js';
import type { Points } from '../../vision/index.js';

/** A grey picture, row by row. */
export interface GreyPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly grey: Uint8Array;
}

/** The change of the light on the points that a frame shares with the one before, in sums that can be added up. */
export interface LightStep {
  /** Points that agree with the others and are neither black nor burnt out. */
  readonly points: number;
  /** Mean of ln(level after / level before) over them. */
  readonly meanLn: number;
  /** Mean change of the level itself, and mean level, grey levels. */
  readonly meanGrey: number;
  readonly meanLevel: number;
  /** Mean growth of the squared distance from the middle, in squared half diagonals: points that move out get darker under a lens that darkens its corners. */
  readonly meanOut: number;
  /** Sums over the points, about their means: growth squared, growth times ln ratio. */
  readonly sumOutOut: number;
  readonly sumOutLn: number;
}

/** Half the side of the square, px at a width of 960; the side is twice that and one more. */
const HALF_PX = 4;
/** Levels outside of these may be cut off at black or white, and dark ones turn a small offset into a large ratio. */
const USABLE_GREY = [16, 235] as const;
/** Fewer points do not tell a change of the light from things that move in it. */
const LEAST_POINTS = 8;
/** Points farther from the median than so many robust standard deviations, and this much, are left out. */
const FAR = { sigmas: 3, ln: 0.004 } as const;

/**
 * The change of the light from `before` to `after`; null when too few points tell.
 *
 * @param from points in the picture before
 * @param to the same points in the picture after
 */
export function lightStep(
  before: GreyPicture,
  after: GreyPicture,
  from: Points,
  to: Points,
): LightStep | null {
  const halfPx = Math.max(2, Math.round((HALF_PX * before.widthPx) / 960));
  const ratioLn: number[] = [];
  const change: number[] = [];
  const level: number[] = [];
  const out: number[] = [];
  for (let i = 0; i < from.xPx.length; i++) {
    const old = squareMean(before, from.xPx[i], from.yPx[i], halfPx);
    const now = squareMean(after, to.xPx[i], to.yPx[i], halfPx);
    if (!isUsable(old) || !isUsable(now)) continue;
    ratioLn.push(Math.log(now / old));
    change.push(now - old);
    level.push((now + old) / 2);
    out.push(distanceSquared(after, to, i) - distanceSquared(before, from, i));
  }
  if (ratioLn.length < LEAST_POINTS) return null;
  const middle = median(ratioLn);
  const spread = 1.4826 * median(ratioLn.map((one) => Math.abs(one - middle)));
  const agrees = (i: number): boolean => Math.abs(ratioLn[i] - middle) <= FAR.sigmas * spread + FAR.ln;
  let points = 0;
  let [sumLn, sumGrey, sumLevel, sumOut] = [0, 0, 0, 0];
  for (let i = 0; i < ratioLn.length; i++) {
    if (!agrees(i)) continue;
    points += 1;
    sumLn += ratioLn[i];
    sumGrey += change[i];
    sumLevel += level[i];
    sumOut += out[i];
  }
  const [meanLn, meanOut] = [sumLn / points, sumOut / points];
  let [sumOutOut, sumOutLn] = [0, 0];
  for (let i = 0; i < ratioLn.length; i++) {
    if (!agrees(i)) continue;
    sumOutOut += (out[i] - meanOut) ** 2;
    sumOutLn += (out[i] - meanOut) * (ratioLn[i] - meanLn);
  }
  const [meanGrey, meanLevel] = [sumGrey / points, sumLevel / points];
  return { points, meanLn, meanGrey, meanLevel, meanOut, sumOutOut, sumOutLn };
}

function isUsable(level: number): boolean {
  return level >= USABLE_GREY[0] && level <= USABLE_GREY[1];
}

/** From the middle of the picture, in squared half diagonals. */
function distanceSquared({ widthPx, heightPx }: GreyPicture, { xPx, yPx }: Points, i: number): number {
  const [middleX, middleY] = [(widthPx - 1) / 2, (heightPx - 1) / 2];
  return ((xPx[i] - middleX) ** 2 + (yPx[i] - middleY) ** 2) / (middleX ** 2 + middleY ** 2);
}

/** Mean level of a square about a place between the pixels, straight between levels; NaN where it leaves the picture. */
function squareMean(picture: GreyPicture, xPx: number, yPx: number, halfPx: number): number {
  const { grey, widthPx, heightPx } = picture;
  const left = Math.floor(xPx) - halfPx;
  const top = Math.floor(yPx) - halfPx;
  const side = 2 * halfPx + 1;
  if (!(left >= 0 && top >= 0 && left + side < widthPx && top + side < heightPx)) return NaN;
  const [f, g] = [xPx - Math.floor(xPx), yPx - Math.floor(yPx)];
  let sum = 0;
  for (let v = 0; v <= side; v++) {
    const at = (top + v) * widthPx + left;
    // The mean of samples between the pixels is a sum of whole pixels but for the two at the ends.
    let row = (1 - f) * grey[at] + f * grey[at + side];
    for (let u = 1; u < side; u++) row += grey[at + u];
    sum += (v === 0 ? 1 - g : v === side ? g : 1) * row;
  }
  return sum / (side * side);
}
