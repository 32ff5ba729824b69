/**
 * What keeps a crop window inside the recorded frame, as linear limits on the correction: outline points of the window in
 * pixels, corrections in pixels of picture motion (focal length times pan and tilt, half the diagonal times roll).
 *
 * Every outline point comes from a place in the recorded frame that must lie within -0.5 .. W - 0.5 and -0.5 .. H - 0.5.
 * Without distortion and row changes the sides stay straight and the four corners tell all; else points along the sides
 * stand for them. Places are exact, lens and rows included; only their change with the correction is taken as linear.
 */
import { emptyRows, type SparseRows } from '../../numerics/index.js';
import { normalisePoints, type Camera } from '../../optics/index.js';
import { ANGULAR_AXES } from '../../run/index.js';
import { turnOfFrame, type FrameTurn } from '../turn/frame-turn.js';
import { sourcePlacesOfRays } from '../turn/source-places.js';
import type { AngularVibration, Corrections } from '../types.js';

/** Corrections are tried this far to both sides to see how the places follow, px. */
const TRIAL_PX = 1;

/** Share of the room that corrections keep which are drawn back to the side of the frame. */
const KEPT_ROOM = 1e-4;

/** One outline point must not cross one side of the frame. */
interface Check {
  readonly point: number;
  /** False: columns, against left or right; true: rows, against top or bottom. */
  readonly isRow: boolean;
  /** -1: left or top; 1: right or bottom. */
  readonly sign: 1 | -1;
}

/** The outline of one crop window. */
export interface WindowOutline {
  readonly camera: Camera;
  readonly rays: { readonly x: Float64Array; readonly y: Float64Array };
  readonly checks: readonly Check[];
}

/** Picture motion per radian of pan, tilt and roll, px: what makes the three axes weigh alike. */
export function pxPerRad(camera: Camera): readonly [number, number, number] {
  return [camera.focalPx, camera.focalPx, Math.hypot(camera.widthPx, camera.heightPx) / 2];
}

/**
 * The outline of a centred window.
 *
 * @param halfWidthPx half the width of the window before the zoom, px of the camera
 * @param shape height per width
 * @param perSide points per side, both corners counted, at least 2; more than 2 where lens or rows bend the sides
 */
export function windowOutline(
  camera: Camera,
  halfWidthPx: number,
  shape: number,
  perSide: number,
): WindowOutline {
  const x: number[] = [];
  const y: number[] = [];
  const checks: Check[] = [];
  for (const isRow of [false, true]) {
    for (const sign of [-1, 1] as const) {
      for (let k = 0; k < perSide; k++) {
        const along = (2 * k) / (perSide - 1) - 1;
        checks.push({ point: x.length, isRow, sign });
        x.push((camera.widthPx - 1) / 2 + halfWidthPx * (isRow ? along : sign));
        y.push((camera.heightPx - 1) / 2 + halfWidthPx * shape * (isRow ? sign : along));
      }
    }
  }
  return { camera, rays: normalisePoints(camera, x, y), checks };
}

/** How far inside the frame the outline of frame t lies and how that changes; filled by `windowRoom`. */
export interface WindowRoom {
  /** Room of every check, px; negative outside. */
  readonly roomPx: Float64Array;
  /** Change of the room per px of pan, tilt and roll correction, three of each check. */
  readonly slopes: Float64Array;
}

/** An empty room for one outline. */
export function emptyRoom(outline: WindowOutline): WindowRoom {
  const checks = outline.checks.length;
  return { roomPx: new Float64Array(checks), slopes: new Float64Array(3 * checks) };
}

/**
 * Measures the room of frame t for given corrections.
 *
 * @returns false when part of the outline has no place in the recorded frame at all: behind the camera, or beyond the lens
 */
export function windowRoom(
  outline: WindowOutline,
  corrections: Corrections,
  t: number,
  room: WindowRoom,
): boolean {
  const turn = turnOfFrame(corrections, t);
  if (!roomAt(outline, turn, room.roomPx)) return false;
  const scale = pxPerRad(outline.camera);
  const more = new Float64Array(room.roomPx.length);
  const less = new Float64Array(room.roomPx.length);
  for (let a = 0; a < 3; a++) {
    const axis = ANGULAR_AXES[a];
    const rad = TRIAL_PX / scale[a];
    if (!roomAt(outline, { ...turn, [axis]: turn[axis] + rad }, more)) return false;
    if (!roomAt(outline, { ...turn, [axis]: turn[axis] - rad }, less)) return false;
    for (let i = 0; i < more.length; i++) room.slopes[3 * i + a] = (more[i] - less[i]) / (2 * TRIAL_PX);
  }
  return true;
}

/** Writes the room of every check for one turn. */
export function roomAt(outline: WindowOutline, turn: FrameTurn, roomPx: Float64Array): boolean {
  const { camera, rays, checks } = outline;
  const placeX = new Float64Array(rays.x.length);
  const placeY = new Float64Array(rays.x.length);
  sourcePlacesOfRays(turn, camera, rays, placeX, placeY);
  for (let i = 0; i < checks.length; i++) {
    const { point, isRow, sign } = checks[i];
    const size = isRow ? camera.heightPx : camera.widthPx;
    const fromMiddle = (isRow ? placeY : placeX)[point] - (size - 1) / 2;
    roomPx[i] = size / 2 - sign * fromMiddle;
    if (Number.isNaN(roomPx[i])) return false;
  }
  return true;
}

/**
 * The limits that keep the window inside every frame, linear about the given corrections: G x <= h, x being the corrections
 * in px, frame by frame pan, tilt and roll.
 *
 * @param reachPx how far from the given corrections the lines are trusted, on each axis: the limits hold x within it
 * @returns null when part of the outline has no place in some frame
 */
export function windowLimits(
  outline: WindowOutline,
  corrections: Corrections,
  reachPx = Infinity,
): SparseRows | null {
  const n = corrections.vibration.pan.length;
  const checks = outline.checks.length;
  const scale = pxPerRad(outline.camera);
  const limits = emptyRows(n * (checks + (reachPx < Infinity ? 6 : 0)), 3);
  const room = emptyRoom(outline);
  for (let t = 0, row = 0; t < n; t++) {
    if (!windowRoom(outline, corrections, t, room)) return null;
    const places = ANGULAR_AXES.map((axis, a) => scale[a] * corrections.vibration[axis][t]);
    for (let i = 0; i < checks; i++, row++) {
      limits.right[row] = room.roomPx[i];
      for (let a = 0; a < 3; a++) {
        const slope = room.slopes[3 * i + a];
        limits.columns[3 * row + a] = 3 * t + a;
        limits.coefficients[3 * row + a] = -slope;
        limits.right[row] -= slope * places[a];
      }
    }
    if (reachPx === Infinity) continue;
    for (let a = 0; a < 3; a++) {
      for (const sign of [1, -1]) {
        for (let k = 0; k < 3; k++) limits.columns[3 * row + k] = 3 * t + a;
        limits.coefficients[3 * row] = sign;
        limits.right[row] = sign * places[a] + reachPx;
        row++;
      }
    }
  }
  return limits;
}

/** How far the outline reaches out of the frame where it reaches furthest, px; 0 when it lies inside, infinite without a place. */
export function furthestOutPx(outline: WindowOutline, corrections: Corrections): number {
  const roomPx = new Float64Array(outline.checks.length);
  let furthest = 0;
  for (let t = 0; t < corrections.vibration.pan.length; t++) {
    if (!roomAt(outline, turnOfFrame(corrections, t), roomPx)) return Infinity;
    for (let i = 0; i < roomPx.length; i++) furthest = Math.max(furthest, -roomPx[i]);
  }
  return furthest;
}

/**
 * Draws corrections whose window leaves the frame back towards others whose window does not, frame by frame.
 *
 * @param inside corrections that keep the window inside every frame
 * @param wished what is drawn back where it does not
 * @returns wished, or nearly as much of the way from inside to wished as stays in the frame
 */
export function drawnInside(
  outline: WindowOutline,
  inside: Corrections,
  wished: AngularVibration,
): AngularVibration {
  const out = {
    pan: Float64Array.from(wished.pan),
    tilt: Float64Array.from(wished.tilt),
    roll: Float64Array.from(wished.roll),
  };
  const from = new Float64Array(outline.checks.length);
  const to = new Float64Array(outline.checks.length);
  for (let t = 0; t < out.pan.length; t++) {
    const start = turnOfFrame(inside, t);
    let way = 1;
    const end = { ...start, pan: wished.pan[t], tilt: wished.tilt[t], roll: wished.roll[t] };
    if (!roomAt(outline, start, from) || !roomAt(outline, end, to)) way = 0;
    for (let i = 0; i < to.length; i++)
      if (to[i] < 0) way = Math.min(way, ((1 - KEPT_ROOM) * Math.max(0, from[i])) / (from[i] - to[i]));
    if (way === 1) continue;
    for (const axis of ANGULAR_AXES) out[axis][t] = start[axis] + way * (wished[axis][t] - start[axis]);
  }
  return out;
}
