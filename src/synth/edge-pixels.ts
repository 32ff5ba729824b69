/**
 * Pixels on the border between surfaces: the share of each surface from 16 places inside the pixel, its luminance at the
 * middle of its share.
 *
 * The places form a 16 x 16 grid with one place in each row and each column, so upright and level edges move in steps of
 * 1/16 pixel; the whole pattern is shifted by up to 1/32 pixel from pixel to pixel, so along an edge the steps even out.
 */
import { PLANE_STRIDE } from './projected-surfaces.js';
import { narrowSpan } from './row-span.js';
import type { Shader } from './shading.js';
import type { Surface } from './surface.js';
import type { ViewingRays } from './viewing-rays.js';

const PLACES = 16;
/** Column of the place in each of the 16 sub-rows: bit reversal spreads them evenly. */
const PLACE_COLUMN = [0, 8, 4, 12, 2, 10, 6, 14, 1, 9, 5, 13, 3, 11, 7, 15];

/** What the resolver works on; arrays are shared with the renderer and refilled for each row. */
export interface EdgeSetting {
  readonly all: readonly Surface[];
  readonly solidCount: number;
  readonly planes: Float64Array;
  readonly rays: ViewingRays;
  readonly rayX: Float64Array;
  readonly rayY: Float64Array;
  /** Size of a pixel in normalised coordinates. */
  readonly pixel: number;
  readonly shader: Shader;
}

/** Resolves the marked pixels of one row after another. */
export interface EdgeResolver {
  resolveRow(
    row: number,
    active: Uint16Array,
    activeCount: number,
    edge: Uint8Array,
    cutouts: readonly number[],
    seen: Uint8Array,
    luma: Float32Array,
    base: number,
  ): void;
}

/** Makes the resolver. */
export function createEdgeResolver(setting: EdgeSetting): EdgeResolver {
  const { all, planes, rays, rayX, rayY, pixel, shader } = setting;
  const spanFrom = new Float64Array(all.length);
  const spanTo = new Float64Array(all.length);
  const listed = new Uint16Array(all.length);
  const span = new Float64Array(2);
  const near = new Uint16Array(all.length);
  const places = new Int32Array(all.length);
  const sumX = new Float64Array(all.length);
  const sumY = new Float64Array(all.length);
  const blend = new Float32Array(1);

  /** Spans of all active surfaces over the row, half a pixel wider on every side. */
  function listSpans(row: number, active: Uint16Array, activeCount: number): number {
    const half = pixel / 2;
    let count = 0;
    for (let k = 0; k < activeCount; k++) {
      span[0] = -Infinity;
      span[1] = Infinity;
      narrowSpan(planes, active[k] * PLANE_STRIDE, rays.rowLow[row] - half, rays.rowHigh[row] + half, span);
      if (span[0] > span[1]) continue;
      listed[count] = active[k];
      spanFrom[count] = span[0] - half;
      spanTo[count] = span[1] + half;
      count++;
    }
    return count;
  }

  /** Surface with the largest 1/depth at a ray, as index into `near`; -1 when none is hit. */
  function front(nearCount: number, rx: number, ry: number): number {
    let best = -1;
    let bestW = 0;
    for (let k = 0; k < nearCount; k++) {
      const at = near[k] * PLANE_STRIDE;
      const w = planes[at + 6] * rx + planes[at + 7] * ry + planes[at + 8];
      if (w <= bestW) continue;
      const u = planes[at] * rx + planes[at + 1] * ry + planes[at + 2];
      if (u < 0 || u > w) continue;
      const v = planes[at + 3] * rx + planes[at + 4] * ry + planes[at + 5];
      if (v < 0 || v > w) continue;
      best = k;
      bestW = w;
    }
    return best;
  }

  function resolvePixel(
    x: number,
    row: number,
    nearCount: number,
    cutouts: readonly number[],
    seen: Uint8Array,
  ) {
    const shift = ((5 * x + 7 * row) & 15) - 7.5;
    const shiftX = shift / 256;
    const shiftY = (((11 * x + 3 * row) & 15) - 7.5) / 256;
    for (let k = 0; k < nearCount; k++) {
      places[k] = 0;
      sumX[k] = 0;
      sumY[k] = 0;
    }
    for (let s = 0; s < PLACES; s++) {
      const dx = ((PLACE_COLUMN[s] - 7.5) / PLACES + shiftX) * pixel;
      const dy = ((s - 7.5) / PLACES + shiftY) * pixel;
      const k = front(nearCount, rayX[x] + dx, rayY[x] + dy);
      if (k < 0) continue;
      places[k]++;
      sumX[k] += dx;
      sumY[k] += dy;
    }
    let sum = 0;
    for (let k = 0; k < nearCount; k++) {
      if (places[k] === 0) continue;
      const rx = rayX[x] + sumX[k] / places[k];
      const ry = rayY[x] + sumY[k] / places[k];
      blend[0] = shader.shadeRay(near[k], rx, ry);
      const at = near[k] * PLANE_STRIDE;
      const w = planes[at + 6] * rx + planes[at + 7] * ry + planes[at + 8];
      for (const c of cutouts)
        if (seen[c] && coversInFront(c, rx, ry, w)) shader.cutoutOver(c, rx, ry, blend, 0);
      sum += blend[0] * places[k];
    }
    return sum / PLACES;
  }

  function coversInFront(i: number, rx: number, ry: number, behindW: number): boolean {
    const at = i * PLANE_STRIDE;
    const w = planes[at + 6] * rx + planes[at + 7] * ry + planes[at + 8];
    if (w <= behindW) return false;
    const u = planes[at] * rx + planes[at + 1] * ry + planes[at + 2];
    const v = planes[at + 3] * rx + planes[at + 4] * ry + planes[at + 5];
    return u >= 0 && v >= 0 && u <= w && v <= w;
  }

  return {
    resolveRow(row, active, activeCount, edge, cutouts, seen, luma, base) {
      const count = listSpans(row, active, activeCount);
      for (let x = 0; x < edge.length; x++) {
        if (!edge[x]) continue;
        const rx = rayX[x];
        let nearCount = 0;
        for (let k = 0; k < count; k++) {
          if (rx >= spanFrom[k] && rx <= spanTo[k]) near[nearCount++] = listed[k];
        }
        luma[base + x] = resolvePixel(x, row, nearCount, cutouts, seen);
      }
    },
  };
}
