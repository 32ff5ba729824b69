/**
 * How much the stabilised picture of a made-up pass really moves: points of its scene, projected by its true poses row by
 * row and corrected by what was taken out of its frames. px of the camera before the zoom.
 *
 * Poses and points are exact; nothing of the measured path, depths or residue is in it, save the corrections themselves.
 */
import { fourthDifferenceSmooth } from '../../src/numerics/index.js';
import { distort, normalisePoints, type Camera } from '../../src/optics/index.js';
import { turnOfFrame, type Corrections } from '../../src/stabilise/index.js';
import {
  buildScene,
  cameraOf,
  makeCameraPath,
  type CameraPath,
  type Scene,
  type SynthOptions,
} from '../../src/synth/index.js';
import { placementAt } from '../../src/synth/projected-surfaces.js';
import { correctedPlace } from '../stabilise/support/plain-correction.js';

/** What is looked at. */
export interface TruePictureRequest {
  readonly options: SynthOptions;
  readonly corrections: Corrections;
  /** Of the corrections. */
  readonly camera: Camera;
  /** The window that is shown, px of the camera. */
  readonly widthPx: number;
  readonly heightPx: number;
  readonly cutoffHz: number;
  /** Frames left out at both ends. */
  readonly trimFrames: number;
}

type Point = readonly [number, number, number];

/** Points that are looked at together. */
const POINTS = 60;
/** The plastic number: the real root of x^3 = x + 1. */
const PLASTIC = 1.32471795724474602596;
/** So many frames look at the same points, those that are in the picture then. */
const EVERY_FRAMES = 5;
/** Rounds in which the row of a point is found. */
const ROW_ROUNDS = 4;

/** Motion of the picture above the cut-off: length of the motion vector, RMS over picture and frames. */
export function truePictureMotion(request: TruePictureRequest): number {
  const { options, corrections, camera, cutoffHz, trimFrames } = request;
  const path = makeCameraPath(options);
  const scene = buildScene(options, path);
  const turns = Array.from(path.timesS, (_, t) => turnOfFrame(corrections, t));
  let sum = 0;
  let count = 0;
  for (let at = trimFrames; at < turns.length - trimFrames; at += EVERY_FRAMES) {
    const until = Math.min(at + EVERY_FRAMES, turns.length - trimFrames);
    for (const ray of windowRays(request, at * POINTS)) {
      const point = pointOnRay(scene, path, path.timesS[(at + until) >> 1], ray);
      if (point === null) continue;
      const x = new Float64Array(turns.length);
      const y = new Float64Array(turns.length);
      turns.forEach((turn, t) => {
        const { xPx, yPx } = seenAt(point, path, path.timesS[t], camera, options);
        const corrected = correctedPlace(camera, turn, xPx, yPx);
        x[t] = corrected.xPx;
        y[t] = corrected.yPx;
      });
      for (const column of [x, y]) {
        const slow = fourthDifferenceSmooth(column, options.fps, cutoffHz);
        for (let t = at; t < until; t++) sum += (column[t] - slow[t]) ** 2;
      }
      count += until - at;
    }
  }
  return Math.sqrt(sum / count);
}

/** Rays through points spread evenly over the window, others with every call: additive recurrence (Roberts 2018). */
function windowRays(
  { options, widthPx, heightPx }: TruePictureRequest,
  first: number,
): (readonly [number, number])[] {
  const camera = cameraOf(options);
  const spread = (step: number, sidePx: number): number[] =>
    Array.from({ length: POINTS }, (_, i) => ((((first + i) * step) % 1) - 0.5) * sidePx);
  const x = spread(1 / PLASTIC, widthPx).map((at) => camera.centreXPx + at);
  const y = spread(1 / PLASTIC ** 2, heightPx).map((at) => camera.centreYPx + at);
  const rays = normalisePoints(camera, x, y);
  return x.map((_, i) => [rays.x[i], rays.y[i]]);
}

/** What a ray of the middle row's camera meets first, in world metres; null where there is nothing. */
function pointOnRay(
  scene: Scene,
  path: CameraPath,
  timeS: number,
  [rayX, rayY]: readonly [number, number],
): Point | null {
  const { rotation: r, centre } = path.poseAt(timeS);
  const direction = [0, 1, 2].map((i) => r[i] * rayX + r[3 + i] * rayY + r[6 + i]) as unknown as Point;
  let nearest = Infinity;
  for (const surface of scene.surfaces) {
    const { origin, along, down } = placementAt(surface, timeS);
    const normal = cross(along, down);
    const slope = dot(normal, direction);
    if (slope === 0 || (surface.oneSided && slope < 0)) continue;
    const from: Point = [origin[0] - centre[0], origin[1] - centre[1], origin[2] - centre[2]];
    const depth = dot(normal, from) / slope;
    if (!(depth > 0 && depth < nearest)) continue;
    const on: Point = [
      depth * direction[0] - from[0],
      depth * direction[1] - from[1],
      depth * direction[2] - from[2],
    ];
    const u = dot(on, along) / dot(along, along);
    const v = dot(on, down) / dot(down, down);
    if (u >= 0 && u <= 1 && v >= 0 && v <= 1) nearest = depth;
  }
  if (nearest === Infinity) return null;
  return [0, 1, 2].map((i) => centre[i] + nearest * direction[i]) as unknown as Point;
}

/** Where a point is recorded in a frame: at the moment at which its row is read. */
function seenAt(
  point: Point,
  path: CameraPath,
  timeS: number,
  camera: Camera,
  { readoutMs }: SynthOptions,
): { xPx: number; yPx: number } {
  let rowShare = 0.5;
  let place = { xPx: NaN, yPx: NaN };
  for (let round = 0; round < (readoutMs > 0 ? ROW_ROUNDS : 1); round++) {
    const { rotation: r, centre } = path.poseAt(timeS + ((rowShare - 0.5) * readoutMs) / 1000);
    const d: Point = [point[0] - centre[0], point[1] - centre[1], point[2] - centre[2]];
    const [x, y, z] = [0, 3, 6].map((i) => r[i] * d[0] + r[i + 1] * d[1] + r[i + 2] * d[2]);
    const bent = camera.distortion ? distort(camera.distortion, x / z, y / z) : { x: x / z, y: y / z };
    place = {
      xPx: camera.centreXPx + camera.focalPx * bent.x,
      yPx: camera.centreYPx + camera.focalPx * bent.y,
    };
    rowShare = (place.yPx + 0.5) / camera.heightPx;
  }
  return place;
}

function dot(a: Point, b: Point): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

function cross(a: Point, b: Point): Point {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}
