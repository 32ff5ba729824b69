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
/** Furthest place from the middle of a pixel, in pixels: half a grid and the largest shift. */
const REACH = 0.5;
/** Column of the place in each of the 16 sub-rows: bit reversal spreads them evenly. */
const PLACE_COLUMN = [0, 8, 4, 12, 2, 10, 6, 14, 1, 9, 5, 13, 3, 11, 7, 15];

/** What the resolver works on; arrays are shared with the renderer and refilled for each row. */
export interface EdgeSetting {
  readonly all: readonly Surface[];
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
  /** @param cutouts those that may be seen in the row, farthest first */
  resolveRow(
    row: number,
    active: Uint16Array,
    activeCount: number,
    edge: Uint8Array,
    cutouts: Uint16Array,
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
  const filling = new Uint8Array(all.length);
  const middleU = new Float64Array(all.length);
  const middleV = new Float64Array(all.length);
  const middleW = new Float64Array(all.length);
  const largestW = new Float64Array(all.length);

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

  /**
   * Of the surfaces listed in `near`, keeps those that can show in the pixel at a ray; what is fully behind another one
   * that fills the pixel goes. Sets `filling` and the numbers of each at the middle of the pixel.
   */
  function keepVisible(nearCount: number, rx: number, ry: number): number {
    const reach = pixel * REACH;
    let kept = 0;
    let nearestFilling = 0;
    for (let k = 0; k < nearCount; k++) {
      const i = near[k];
      const at = i * PLANE_STRIDE;
      const ux = planes[at];
      const uy = planes[at + 1];
      const vx = planes[at + 3];
      const vy = planes[at + 4];
      const wx = planes[at + 6];
      const wy = planes[at + 7];
      const u = ux * rx + uy * ry + planes[at + 2];
      const v = vx * rx + vy * ry + planes[at + 5];
      const w = wx * rx + wy * ry + planes[at + 8];
      const du = reach * (Math.abs(ux) + Math.abs(uy));
      const dv = reach * (Math.abs(vx) + Math.abs(vy));
      const dw = reach * (Math.abs(wx) + Math.abs(wy));
      if (u < -du || v < -dv || u > w + du + dw || v > w + dv + dw || w < -dw) continue;
      const fills = u > du && v > dv && u < w - du - dw && v < w - dv - dw;
      if (fills && w - dw > nearestFilling) nearestFilling = w - dw;
      near[kept] = i;
      filling[kept] = fills ? 1 : 0;
      middleU[kept] = u;
      middleV[kept] = v;
      middleW[kept] = w;
      largestW[kept] = w + dw;
      kept++;
    }
    let visible = 0;
    for (let k = 0; k < kept; k++) {
      if (largestW[k] < nearestFilling) continue;
      near[visible] = near[k];
      filling[visible] = filling[k];
      middleU[visible] = middleU[k];
      middleV[visible] = middleV[k];
      middleW[visible] = middleW[k];
      visible++;
    }
    return visible;
  }

  /** Surface with the largest 1/depth at a place beside the pixel's middle, as index into `near`; -1 when none is hit. */
  function front(count: number, dx: number, dy: number): number {
    let best = -1;
    let bestW = 0;
    for (let k = 0; k < count; k++) {
      const at = near[k] * PLANE_STRIDE;
      const w = middleW[k] + planes[at + 6] * dx + planes[at + 7] * dy;
      if (w <= bestW) continue;
      if (filling[k] === 0) {
        const u = middleU[k] + planes[at] * dx + planes[at + 1] * dy;
        if (u < 0 || u > w) continue;
        const v = middleV[k] + planes[at + 3] * dx + planes[at + 4] * dy;
        if (v < 0 || v > w) continue;
      }
      best = k;
      bestW = w;
    }
    return best;
  }

  /** Luminance of surface `i` at a ray, cut-outs in front of it included. */
  function shadeThrough(i: number, rx: number, ry: number, cutouts: Uint16Array): number {
    let seen = shader.shadeRay(i, rx, ry);
    const at = i * PLANE_STRIDE;
    const w = planes[at + 6] * rx + planes[at + 7] * ry + planes[at + 8];
    for (const c of cutouts) {
      if (coversInFront(c, rx, ry, w)) seen = shader.shadeOver(c, rx, ry, seen);
    }
    return seen;
  }

  function resolvePixel(x: number, row: number, nearCount: number, cutouts: Uint16Array): number {
    const rx = rayX[x];
    const ry = rayY[x];
    const count = keepVisible(nearCount, rx, ry);
    if (count === 1 && filling[0] === 1) return shadeThrough(near[0], rx, ry, cutouts);
    const shiftX = (((5 * x + 7 * row) & 15) - 7.5) / 256;
    const shiftY = (((11 * x + 3 * row) & 15) - 7.5) / 256;
    for (let k = 0; k < count; k++) {
      places[k] = 0;
      sumX[k] = 0;
      sumY[k] = 0;
    }
    for (let s = 0; s < PLACES; s++) {
      const dx = ((PLACE_COLUMN[s] - 7.5) / PLACES + shiftX) * pixel;
      const dy = ((s - 7.5) / PLACES + shiftY) * pixel;
      const k = front(count, dx, dy);
      if (k < 0) continue;
      places[k]++;
      sumX[k] += dx;
      sumY[k] += dy;
    }
    let sum = 0;
    for (let k = 0; k < count; k++) {
      if (places[k] === 0) continue;
      const share = shadeThrough(near[k], rx + sumX[k] / places[k], ry + sumY[k] / places[k], cutouts);
      sum += share * places[k];
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
    resolveRow(row, active, activeCount, edge, cutouts, luma, base) {
      const count = listSpans(row, active, activeCount);
      for (let x = 0; x < edge.length; x++) {
        if (!edge[x]) continue;
        const rx = rayX[x];
        let nearCount = 0;
        for (let k = 0; k < count; k++) {
          if (rx >= spanFrom[k] && rx <= spanTo[k]) near[nearCount++] = listed[k];
        }
        luma[base + x] = resolvePixel(x, row, nearCount, cutouts);
      }
    },
  };
}
