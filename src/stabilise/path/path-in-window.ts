/**
 * The path with the least sum of differences whose crop window stays inside every frame: a linear programme (px), solved
 * again about its own solution until its straight limits fit the true ones.
 */
import { leastAbsolute, type SparseRows } from '../../numerics/index.js';
import type { Camera } from '../../optics/index.js';
import { ANGULAR_AXES } from '../../run/index.js';
import { exactCrop, wholeHalfWidth } from '../crop/exact-crop.js';
import type { AngularVibration, RowChanges } from '../types.js';
import { drawnInside, furthestOutPx, pxPerRad, windowLimits, windowOutline } from './window-limits.js';

/** What is made smooth, and within what. */
export interface PathInWindow {
  /** Differences of the path as terms of the corrections in px, see `smoothnessTerms`. */
  readonly terms: SparseRows;
  /** Corrections in radians that keep the window inside every frame: the path about as it was filmed. */
  readonly filmed: AngularVibration;
  readonly rows: RowChanges | null;
  readonly camera: Camera;
  /** Height per width. */
  readonly shape: number;
  /** Most that the exact crop may be, per cent; above that of `filmed`. */
  readonly limitPercent: number;
}

/** Points that stand for a bent side of the window; a reserve makes up for what lies between two. */
const POINTS_PER_BENT_SIDE = 5;
const MOST_ROUNDS = 14;
/** Gap of the first round, which only finds the place for the next lines. */
const FIRST_GAP = 1e-4;
/** Share of the limit that is kept free from the start, and of the room that the lines may be off in the end. */
const RESERVE_SHARE = 3e-5;
/** Once the lines are off by less than this share of the room, a reserve makes up for what they and the outline leave out. */
const FIT_SHARE = 1e-3;
/** Most of the room between filmed path and limit that a reserve may take. */
const MOST_RESERVE = 0.9;
/** Relative change of the roughness below which a round has settled: what is left is about the square of it. */
const SETTLED = 3e-3;
/** What is left of the roughness as filmed below this share is nothing. */
const SETTLED_OF_FILMED = 1e-8;
/** Each round should miss by this share of the round before; where one does not, steps are held back from then on. */
const IMPROVED = 0.25;
const HOLD_BACK = 0.4;
/** A step may always be this many times what was drawn back into the frame before it. */
const DRAWN_BACK = 10;

/**
 * Corrections that make the path smoothest with the exact crop at most at its limit.
 *
 * Lines that fit badly would make the solutions jump between equally smooth paths; a round that does not come closer holds
 * the next to a part of its own step (sequential linear programming with a trust region: Fletcher & Sainz de la Maza, 1989,
 * from memory; the rule for the region is our own).
 */
export function smoothInWindow(within: PathInWindow): AngularVibration {
  const { terms, filmed, rows, camera, shape, limitPercent } = within;
  const cropOf = (vibration: AngularVibration): number =>
    exactCrop({ vibration, rows }, camera, shape).cropPercent;
  const perSide = rows !== null || camera.distortion !== null ? POINTS_PER_BENT_SIDE : 2;
  const whole = wholeHalfWidth(camera, shape);
  const mostReserve = MOST_RESERVE * (limitPercent - cropOf(filmed));
  const roomPx = (whole * limitPercent) / 100;
  const start = toPx(filmed, camera);
  const filmedPx = terms.right.reduce((sum, d) => sum + Math.abs(d), 0);
  let vibration = filmed;
  let roughness = Infinity;
  let missedPx = Infinity;
  let reserve = Math.min(mostReserve, RESERVE_SHARE * limitPercent);
  let reachPx = Infinity;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const outline = windowOutline(camera, whole * (1 - (limitPercent - reserve) / 100), shape, perSide);
    const about = round === 0 ? filmed : drawnInside(outline, { vibration: filmed, rows }, vibration);
    const aboutPx = toPx(about, camera);
    const drawnBackPx = largestChange(aboutPx, toPx(vibration, camera));
    const limits = windowLimits(
      outline,
      { vibration: about, rows },
      Math.max(reachPx, DRAWN_BACK * drawnBackPx),
    );
    if (limits === null) break;
    const solved = leastAbsolute(terms, limits, start, round === 0 ? { gap: FIRST_GAP } : {});
    vibration = fromPx(solved.x, camera);
    const settled =
      Math.abs(solved.objective - roughness) <= SETTLED * solved.objective + SETTLED_OF_FILMED * filmedPx;
    roughness = solved.objective;
    const excess = cropOf(vibration) - limitPercent;
    if (settled && excess <= 0) break;
    const before = missedPx;
    missedPx = furthestOutPx(outline, { vibration, rows });
    // Held back once, the steps shrink on: what they miss falls with their square.
    if (missedPx > RESERVE_SHARE * roomPx && (reachPx < Infinity || missedPx > IMPROVED * before))
      reachPx = HOLD_BACK * largestChange(solved.x, aboutPx);
    if (settled && missedPx <= FIT_SHARE * roomPx)
      reserve = Math.min(mostReserve, reserve + excess + RESERVE_SHARE * limitPercent);
  }
  return trimmed(filmed, vibration, cropOf, limitPercent);
}

/** As much of the way from the filmed path to the wished one as the limit allows: all of it but for rounding. */
function trimmed(
  filmed: AngularVibration,
  wished: AngularVibration,
  cropOf: (vibration: AngularVibration) => number,
  limitPercent: number,
): AngularVibration {
  let inside = 0;
  let insideCrop = cropOf(filmed);
  let outside = 1;
  let outsideCrop = cropOf(wished);
  if (outsideCrop <= limitPercent) return wished;
  let best = filmed;
  for (let trial = 0; trial < 30 && outside - inside > 1e-9; trial++) {
    // The crop grows faster and faster along the way, so a straight line between the two stays inside.
    const line = inside + ((outside - inside) * (limitPercent - insideCrop)) / (outsideCrop - insideCrop);
    const way = trial < 6 ? line : (inside + outside) / 2;
    const tried = between(filmed, wished, way);
    const crop = cropOf(tried);
    if (crop <= limitPercent) [best, inside, insideCrop] = [tried, way, crop];
    else [outside, outsideCrop] = [way, crop];
    if (crop <= limitPercent && limitPercent - crop < 1e-7) break;
  }
  return best;
}

function between(a: AngularVibration, b: AngularVibration, share: number): AngularVibration {
  const [pan, tilt, roll] = ANGULAR_AXES.map((axis) =>
    a[axis].map((value, t) => value + share * (b[axis][t] - value)),
  );
  return { pan, tilt, roll };
}

function toPx(vibration: AngularVibration, camera: Camera): Float64Array {
  const scale = pxPerRad(camera);
  return Float64Array.from(
    { length: 3 * vibration.pan.length },
    (_, i) => scale[i % 3] * vibration[ANGULAR_AXES[i % 3]][Math.floor(i / 3)],
  );
}

function largestChange(a: Readonly<Float64Array>, b: Readonly<Float64Array>): number {
  let most = 0;
  for (let i = 0; i < a.length; i++) most = Math.max(most, Math.abs(a[i] - b[i]));
  return most;
}

function fromPx(x: Readonly<Float64Array>, camera: Camera): AngularVibration {
  const scale = pxPerRad(camera);
  const [pan, tilt, roll] = [0, 1, 2].map((a) =>
    Float64Array.from({ length: x.length / 3 }, (_, t) => x[3 * t + a] / scale[a]),
  );
  return { pan, tilt, roll };
}
