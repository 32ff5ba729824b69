/**
 * Films a flat calibration board through a lens with distortion along a known path: ray by ray, sixteen rays a pixel, with
 * blur and noise. Written apart from the detector and the fit; only the marker patterns and the lens model are shared.
 */
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { encodeClip, findTools } from '../../src/footage/index.js';
import { gaussianRandom, seededRandom } from '../../src/numerics/index.js';
import {
  CALIBRATION_BOARD,
  blackRectangles,
  crossingAt,
  crossingCount,
  markerCount,
  pixelOfNormalised,
  rotationFromVector,
  undistort,
  type Camera,
} from '../../src/optics/index.js';
import { startVision } from '../../src/vision/index.js';

const CACHE = path.resolve(import.meta.dirname, '../../.cache/clips');
const BOARD = CALIBRATION_BOARD;
/** Paper around the pattern, in squares. */
const MARGIN = 0.4;
/** Cells of the drawing per square: a marker cell is 0.7 / 6 = 7 / 60 of a square. */
const PER_SQUARE = 120;
/** Rays per pixel, no two in one column or row of it: an upright edge moves in steps of 1/16 px. */
const RAYS = 16;

const FPS = 12;

/** Where the board is: turned about its middle by a rotation vector in radians, its middle at x, y, z in squares. */
export interface BoardPose {
  readonly turn: readonly [number, number, number];
  readonly at: readonly [number, number, number];
}

/** How the board is filmed. */
export interface BoardShot {
  readonly camera: Camera;
  /** Lens blur, standard deviation in px. */
  readonly blurPx?: number;
  /** Sensor noise, grey levels RMS. */
  readonly noiseGrey?: number;
  readonly seed?: number;
}

/** A camera with its centre in the middle of the frame. */
export function boardCamera(
  widthPx: number,
  heightPx: number,
  focalPx: number,
  lens: Partial<Camera['distortion'] & object>,
): Camera {
  return {
    widthPx,
    heightPx,
    focalPx,
    centreXPx: (widthPx - 1) / 2,
    centreYPx: (heightPx - 1) / 2,
    distortion: { k1: 0, k2: 0, p1: 0, p2: 0, k3: 0, ...lens },
  };
}

/**
 * A path on which the board turns, nears and goes through the whole picture without haste, every frame a new view.
 * @param spread how far from the middle it goes: 1 takes its middle half way out to the edges
 */
export function boardPath({ widthPx, heightPx, focalPx }: Camera, frames: number, spread = 1): BoardPose[] {
  return Array.from({ length: frames }, (_, i) => {
    const a = (2 * Math.PI * i) / frames;
    const z = (focalPx / widthPx) * (16.5 + 4.5 * Math.sin(3 * a + 1));
    const reach = (spread * z) / (4 * focalPx);
    return {
      turn: [0.5 * Math.sin(5 * a), 0.5 * Math.cos(4 * a), 0.3 * Math.sin(2 * a)],
      at: [reach * widthPx * Math.cos(7 * a + 0.3), reach * heightPx * Math.sin(9 * a), z],
    };
  });
}

/** True pixel of each crossing, by its number; null behind the camera. */
export function trueCrossings(camera: Camera, pose: BoardPose): ({ xPx: number; yPx: number } | null)[] {
  const r = rotationFromVector(...pose.turn);
  return Array.from({ length: crossingCount(BOARD) }, (_, id) => {
    const { x, y } = crossingAt(BOARD, id);
    const [u, v] = [x - BOARD.columns / 2, y - BOARD.rows / 2];
    const z = r[6] * u + r[7] * v + pose.at[2];
    if (z <= 0) return null;
    return pixelOfNormalised(
      camera,
      (r[0] * u + r[1] * v + pose.at[0]) / z,
      (r[3] * u + r[4] * v + pose.at[1]) / z,
    );
  });
}

interface RayGrid {
  readonly columns: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** The board as a fine drawing: 1 white, 0 black, row by row. */
interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly white: Uint8Array;
}

async function drawing(): Promise<Drawing> {
  const vision = await startVision();
  const markers = Array.from({ length: markerCount(BOARD) }, (_, id) => vision.markerCells(BOARD, id));
  const width = BOARD.columns * PER_SQUARE;
  const height = BOARD.rows * PER_SQUARE;
  const white = new Uint8Array(width * height).fill(1);
  for (const { x, y, width: w, height: h } of blackRectangles(BOARD, markers)) {
    const [left, right] = [x, x + w].map((a) => Math.round(a * PER_SQUARE));
    const [top, bottom] = [y, y + h].map((a) => Math.round(a * PER_SQUARE));
    for (let row = top; row < bottom; row++) white.fill(0, row * width + left, row * width + right);
  }
  return { width, height, white };
}

/** Makes a function that draws one picture of the board per pose. */
export async function boardPainter({
  camera,
  blurPx = 0.7,
  noiseGrey = 1.5,
  seed = 1,
}: BoardShot): Promise<(pose: BoardPose | null) => Uint8Array> {
  const { widthPx, heightPx } = camera;
  const board = await drawing();
  const rays = rayGrid(camera);
  const gauss = gaussianRandom(seededRandom(seed));
  const kernel = blurKernel(blurPx);
  return (pose) => {
    const light = pose ? lightOf(camera, rays, board, pose) : wall(widthPx, heightPx);
    const soft = blurred(light, widthPx, heightPx, kernel);
    const bytes = new Uint8Array(soft.length);
    for (let i = 0; i < soft.length; i++)
      bytes[i] = Math.max(0, Math.min(255, Math.round(soft[i] + noiseGrey * gauss())));
    return bytes;
  };
}

/**
 * Films the board along a path, or takes the clip from the cache.
 * @param name only helps a person who looks into the folder
 * @param spoiled frames that are taken by another camera, as if somebody had touched the zoom
 */
export async function boardClip(
  name: string,
  shot: BoardShot,
  poses: readonly (BoardPose | null)[],
  spoiled: { readonly camera: Camera; readonly frames: readonly number[] } | null = null,
): Promise<string> {
  const key = createHash('sha256')
    .update(JSON.stringify([shot, poses, spoiled]))
    .update(fs.readFileSync(import.meta.filename, 'utf8'))
    .digest('hex')
    .slice(0, 12);
  const file = path.join(CACHE, `board-${name}-${key}.mp4`);
  if (fs.existsSync(file)) return file;
  fs.mkdirSync(CACHE, { recursive: true });
  const paint = await boardPainter(shot);
  const paintSpoiled = spoiled ? await boardPainter({ ...shot, camera: spoiled.camera }) : paint;
  const { widthPx, heightPx } = shot.camera;
  const frames = poses.map((pose, i) => (spoiled?.frames.includes(i) ? paintSpoiled : paint)(pose));
  await encodeClip(file, { widthPx, heightPx, fps: FPS }, frames, await findTools());
  return file;
}

/** Undistorted rays at the corners of all pixels; those inside a pixel are interpolated (error far below 0.001 px). */
function rayGrid({ widthPx, heightPx, focalPx, centreXPx, centreYPx, distortion }: Camera): RayGrid {
  const columns = widthPx + 1;
  const x = new Float64Array(columns * (heightPx + 1));
  const y = new Float64Array(columns * (heightPx + 1));
  const lens = distortion ?? { k1: 0, k2: 0, p1: 0, p2: 0, k3: 0 };
  for (let j = 0; j <= heightPx; j++) {
    for (let i = 0; i < columns; i++) {
      const ideal = undistort(lens, (i - 0.5 - centreXPx) / focalPx, (j - 0.5 - centreYPx) / focalPx);
      x[j * columns + i] = ideal.x;
      y[j * columns + i] = ideal.y;
    }
  }
  return { columns, x, y };
}

/** Where each ray meets the plane of the board, in squares from its top left corner; NaN where it does not. */
function onBoard(rays: RayGrid, { turn, at }: BoardPose): { u: Float64Array; v: Float64Array } {
  const r = rotationFromVector(...turn);
  const u = new Float64Array(rays.x.length);
  const v = new Float64Array(rays.x.length);
  // Ray (x, y, 1) meets the plane where R^T (s (x, y, 1) - t) has no third component.
  const offset = [0, 1, 2].map((c) => r[c] * at[0] + r[3 + c] * at[1] + r[6 + c] * at[2]);
  for (let i = 0; i < u.length; i++) {
    const [x, y] = [rays.x[i], rays.y[i]];
    const s = offset[2] / (r[2] * x + r[5] * y + r[8]);
    u[i] = s > 0 ? s * (r[0] * x + r[3] * y + r[6]) - offset[0] + BOARD.columns / 2 : NaN;
    v[i] = s > 0 ? s * (r[1] * x + r[4] * y + r[7]) - offset[1] + BOARD.rows / 2 : NaN;
  }
  return { u, v };
}

/** Light of a pixel of the wall behind the board: it darkens downwards. */
function wallLevel(y: number, heightPx: number): number {
  return 120 - (50 * y) / heightPx;
}

function wall(widthPx: number, heightPx: number): Float64Array {
  const light = new Float64Array(widthPx * heightPx);
  for (let row = 0; row < heightPx; row++)
    light.fill(wallLevel(row, heightPx), row * widthPx, (row + 1) * widthPx);
  return light;
}

function lightOf(camera: Camera, rays: RayGrid, board: Drawing, pose: BoardPose): Float64Array {
  const { widthPx, heightPx } = camera;
  const { u, v } = onBoard(rays, pose);
  const light = wall(widthPx, heightPx);
  for (let row = 0; row < heightPx; row++) {
    for (let column = 0; column < widthPx; column++) {
      const at = row * rays.columns + column;
      const below = at + rays.columns;
      // Once around the pixel: wholly beside the paper, and the wall stays as it is.
      if (!nearPaper(u[at], v[at]) && !nearPaper(u[below + 1], v[below + 1])) continue;
      let sum = 0;
      for (let k = 0; k < RAYS; k++) {
        const fx = (k + 0.5) / RAYS;
        const fy = (((5 * k) % RAYS) + 0.5) / RAYS;
        const u0 = u[at] + fy * (u[below] - u[at]);
        const u1 = u[at + 1] + fy * (u[below + 1] - u[at + 1]);
        const v0 = v[at] + fy * (v[below] - v[at]);
        const v1 = v[at + 1] + fy * (v[below + 1] - v[at + 1]);
        sum += levelAt(board, u0 + fx * (u1 - u0), v0 + fx * (v1 - v0), light[row * widthPx + column]);
      }
      light[row * widthPx + column] = sum / RAYS;
    }
  }
  return light;
}

function nearPaper(u: number, v: number): boolean {
  const reach = MARGIN + 0.2;
  return u > -reach && v > -reach && u < BOARD.columns + reach && v < BOARD.rows + reach;
}

/** Light of one place of the paper, or of the wall beside it. */
function levelAt({ width, height, white }: Drawing, u: number, v: number, beside: number): number {
  if (!(u >= -MARGIN && v >= -MARGIN && u <= BOARD.columns + MARGIN && v <= BOARD.rows + MARGIN))
    return beside;
  const column = Math.floor(u * PER_SQUARE);
  const row = Math.floor(v * PER_SQUARE);
  const isBlack = column >= 0 && row >= 0 && column < width && row < height && !white[row * width + column];
  // Uneven light: brighter towards one side, as under a window.
  return (1.1 - 0.02 * u) * (isBlack ? 35 : 190);
}

function blurKernel(sigmaPx: number): number[] {
  const reach = Math.ceil(3 * sigmaPx);
  const weights = Array.from({ length: 2 * reach + 1 }, (_, i) =>
    Math.exp(-((i - reach) ** 2) / (2 * sigmaPx ** 2)),
  );
  const sum = weights.reduce((a, b) => a + b, 0);
  return weights.map((w) => w / sum);
}

/** Blurs along rows and columns; the picture goes on beyond its border as its last pixels. */
function blurred(light: Float64Array, width: number, height: number, kernel: number[]): Float64Array {
  const reach = (kernel.length - 1) / 2;
  const across = new Float64Array(light.length);
  for (let row = 0; row < height; row++) {
    const first = row * width;
    for (let x = 0; x < width; x++) {
      let sum = 0;
      if (x >= reach && x + reach < width)
        for (let k = -reach; k <= reach; k++) sum += kernel[k + reach] * light[first + x + k];
      else
        for (let k = -reach; k <= reach; k++)
          sum += kernel[k + reach] * light[first + Math.max(0, Math.min(width - 1, x + k))];
      across[first + x] = sum;
    }
  }
  // Row upon row, so that what lies together in memory is read together.
  const down = new Float64Array(light.length);
  for (let row = 0; row < height; row++) {
    const to = row * width;
    for (let k = -reach; k <= reach; k++) {
      const from = Math.max(0, Math.min(height - 1, row + k)) * width;
      const weight = kernel[k + reach];
      for (let x = 0; x < width; x++) down[to + x] += weight * across[from + x];
    }
  }
  return down;
}
