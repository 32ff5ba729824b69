/**
 * Where the stabilised picture comes from in each frame, on a grid: fractions of the frame (0 left or top, 1 right or bottom) from the
 * corrections in radians. The places are exact at the points of the grid, with lens distortion and rows that were read one by one, and
 * straight between them: the geometry of the proof clip.
 */
import { normalisePoints, type Camera } from '../../../../optics/index.js';
import {
  correctionAt,
  sourcePlacesOfRays,
  wholeHalfWidth,
  type Corrections,
} from '../../../../stabilise/index.js';

/** What is taken out of the frames, and which part of them is shown then. */
export interface PlayedView {
  /** Seconds from the start of the clip, one per sample, rising; at least one. */
  readonly timeS: Float64Array;
  readonly corrections: Corrections;
  /** Of the frames that were measured; they show the same picture at any size. */
  readonly camera: Camera;
  readonly zoom: number;
  /** Height per width of the delivery. */
  readonly shape: number;
}

/** Cells of the grid. A lens that bends lines errs by its square over a cell: below a hundredth of a px of 640 at k1 = -0.1. */
export const MESH = { columns: 24, rows: 14 } as const;

/** Points of the grid. */
export const MESH_POINTS = (MESH.columns + 1) * (MESH.rows + 1);

/** The grid of one view. */
export class FrameMesh {
  readonly #view: PlayedView;
  readonly #rays: { readonly x: Float64Array; readonly y: Float64Array };
  readonly #x = new Float64Array(MESH_POINTS);
  readonly #y = new Float64Array(MESH_POINTS);

  constructor(view: PlayedView) {
    this.#view = view;
    const { camera, zoom, shape } = view;
    const halfWidth = wholeHalfWidth(camera, shape) / zoom;
    const at = gridPoints();
    const x = new Float64Array(MESH_POINTS);
    const y = new Float64Array(MESH_POINTS);
    for (let i = 0; i < MESH_POINTS; i++) {
      x[i] = (camera.widthPx - 1) / 2 + halfWidth * (2 * at[2 * i] - 1);
      y[i] = (camera.heightPx - 1) / 2 + halfWidth * shape * (2 * at[2 * i + 1] - 1);
    }
    this.#rays = normalisePoints(camera, x, y);
  }

  /**
   * Places at a moment, x and y in turn, row by row from top left; beyond 0..1 outside of the frame, NaN where nothing lies behind a
   * point.
   *
   * @param atS seconds from the start of the clip; before the first sample and after the last one their correction is held
   * @param out length 2 * MESH_POINTS, filled and given back
   */
  places(atS: number, out = new Float32Array(2 * MESH_POINTS)): Float32Array {
    const { timeS, corrections, camera } = this.#view;
    sourcePlacesOfRays(correctionAt(corrections, timeS, atS), camera, this.#rays, this.#x, this.#y);
    for (let i = 0; i < MESH_POINTS; i++) {
      // Pixel centres lie on whole numbers, so the frame reaches from -0.5 to width - 0.5.
      out[2 * i] = (this.#x[i] + 0.5) / camera.widthPx;
      out[2 * i + 1] = (this.#y[i] + 0.5) / camera.heightPx;
    }
    return out;
  }
}

/** Points of the grid in the stabilised picture, fractions of its width and height, x and y in turn, row by row from top left. */
export function gridPoints(): Float32Array {
  const out = new Float32Array(2 * MESH_POINTS);
  let i = 0;
  for (let row = 0; row <= MESH.rows; row++)
    for (let column = 0; column <= MESH.columns; column++) {
      out[i++] = column / MESH.columns;
      out[i++] = row / MESH.rows;
    }
  return out;
}

/** Two triangles for each cell of the grid, as places of its points. */
export function gridTriangles(): Uint16Array {
  const out = new Uint16Array(6 * MESH.columns * MESH.rows);
  const across = MESH.columns + 1;
  let i = 0;
  for (let row = 0; row < MESH.rows; row++)
    for (let column = 0; column < MESH.columns; column++) {
      const a = row * across + column;
      out.set([a, a + 1, a + across, a + 1, a + across + 1, a + across], i);
      i += 6;
    }
  return out;
}

/** The edge of the grid clockwise from top left, x and y in turn: the outline of the delivered picture in the frame. */
export function outlineOf(places: Float32Array): Float32Array {
  const across = MESH.columns + 1;
  const down = MESH.rows + 1;
  const around: number[] = [];
  for (let c = 0; c < across - 1; c++) around.push(c);
  for (let r = 0; r < down - 1; r++) around.push(r * across + across - 1);
  for (let c = across - 1; c > 0; c--) around.push((down - 1) * across + c);
  for (let r = down - 1; r > 0; r--) around.push(r * across);
  return Float32Array.from({ length: 2 * around.length }, (_, i) => places[2 * around[i >> 1] + (i & 1)]);
}

/**
 * The affine map that comes nearest to the grid, from fractions of the stabilised picture to fractions of the frame:
 * x' = a x + c y + e, y' = b x + d y + f. Least squares over the four corners.
 */
export interface AffineMap {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

/** See {@link AffineMap}. @param places of a grid */
export function affineOf(places: Float32Array): AffineMap {
  const across = MESH.columns;
  const last = MESH_POINTS - 1;
  const corner = (point: number): readonly [number, number] => [places[2 * point], places[2 * point + 1]];
  const [[ax, ay], [bx, by], [cx, cy], [dx, dy]] = [0, across, last - across, last].map(corner);
  const a = (bx - ax + dx - cx) / 2;
  const b = (by - ay + dy - cy) / 2;
  const c = (cx - ax + dx - bx) / 2;
  const d = (cy - ay + dy - by) / 2;
  return { a, b, c, d, e: (ax + bx + cx + dx) / 4 - (a + c) / 2, f: (ay + by + cy + dy) / 4 - (b + d) / 2 };
}

/** The map the other way. @throws RangeError when it has none */
export function inverseOf({ a, b, c, d, e, f }: AffineMap): AffineMap {
  const size = a * d - b * c;
  if (!(Math.abs(size) > 0)) throw new RangeError(`the map has no inverse: its determinant is ${size}`);
  const inverse = { a: d / size, b: -b / size, c: -c / size, d: a / size };
  return { ...inverse, e: -(inverse.a * e + inverse.c * f), f: -(inverse.b * e + inverse.d * f) };
}
