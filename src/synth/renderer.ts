/**
 * Draws a made-up scene as a camera pose sees it: luminance per pixel (0..1, floating point) from textured rectangles in
 * metres, and which surface each pixel shows.
 *
 * Visibility is decided per pixel by the largest 1/depth, which is linear in the picture. Pixels where neighbours show
 * different surfaces are resolved with 16 places inside the pixel, so edges move smoothly; all others are one texture look-up,
 * exact in perspective. With a rolling shutter each row has its own pose.
 */
import type { Camera } from '../optics/index.js';
import { createEdgeResolver } from './edge-pixels.js';
import { PLANE_STRIDE, placementAt, projectSurface, reachOf, type Pose } from './projected-surfaces.js';
import { narrowSpan } from './row-span.js';
import { createShader } from './shading.js';
import type { Scene, Surface } from './surface.js';
import { viewingRays } from './viewing-rays.js';

/** Marks a pixel that no surface covers. */
export const NO_SURFACE = 0xffff;

/** How a picture is taken: the pose at any time, the time of the middle row, and the readout from top to bottom. */
export interface Shot {
  readonly poseAt: (timeS: number) => Pose;
  readonly timeS: number;
  /** 0 for a global shutter. */
  readonly readoutS: number;
}

/** One picture before it becomes bytes. */
export interface LumaPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Luminance 0..1 (may pass 1), row by row. */
  readonly luma: Float32Array;
  /** Surface shown by most of each pixel: index into surfaces, then cut-outs; NO_SURFACE where there is none. */
  readonly shown: Uint16Array;
}

/** Draws pictures of one scene with one camera; its buffers are used again by the next picture. */
export interface Renderer {
  /** Draws into `into`, or into a new picture. */
  draw(shot: Shot, into?: LumaPicture): LumaPicture;
}

/** Rows by which a surface may stray during one readout. */
const READOUT_MARGIN_PX = 40;

/** An empty picture. */
export function emptyPicture(widthPx: number, heightPx: number): LumaPicture {
  const n = widthPx * heightPx;
  return { widthPx, heightPx, luma: new Float32Array(n), shown: new Uint16Array(n) };
}

/** Makes a renderer. @throws RangeError when the scene holds more than 65 000 surfaces */
export function createRenderer(scene: Scene, camera: Camera): Renderer {
  const { widthPx: width, heightPx: height, focalPx, centreXPx } = camera;
  const all: readonly Surface[] = [...scene.surfaces, ...scene.cutouts];
  const solidCount = scene.surfaces.length;
  if (all.length > 65_000) throw new RangeError(`a scene holds up to 65000 surfaces, got ${all.length}`);
  const rays = viewingRays(camera);
  const pixel = 1 / focalPx;
  const planes = new Float64Array(all.length * PLANE_STRIDE);
  const low = new Float64Array(all.length);
  const high = new Float64Array(all.length);
  const seen = new Uint8Array(all.length);
  const active = new Uint16Array(all.length);
  let activeCount = 0;
  let cutoutOrder: number[] = [];
  let rowCutouts: number[] = [];
  const ids = new Uint16Array(width * height);
  const rayX = new Float64Array(width);
  const rayY = new Float64Array(width);
  const nearest = new Float64Array(width);
  const edge = new Uint8Array(width);
  const over = new Float32Array(width);
  const opacity = new Float32Array(width);
  const span = new Float64Array(2);
  const reach = new Float64Array(4);
  const shader = createShader(all, planes, rayX, rayY, pixel);
  const edges = createEdgeResolver({ all, solidCount, planes, rays, rayX, rayY, pixel, shader });

  /** Planes, row reaches and order for the pose of the middle row (and the ends of a readout). */
  function project(shot: Shot): void {
    const rolling = shot.readoutS > 0;
    const middle = shot.poseAt(shot.timeS);
    const others = rolling ? [-0.5, 0.5].map((s) => shot.poseAt(shot.timeS + s * shot.readoutS)) : [];
    const margin = (rolling ? READOUT_MARGIN_PX : 1) * pixel;
    const depths: [number, number][] = [];
    const [left, right] = [rays.columnLow - margin, rays.columnHigh + margin];
    for (let i = 0; i < all.length; i++) {
      const place = placementAt(all[i], shot.timeS);
      const facing = projectSurface(place, all[i].oneSided, middle, planes, i);
      seen[i] = facing ? 1 : 0;
      low[i] = Infinity;
      high[i] = -Infinity;
      if (!facing && !rolling) continue;
      for (const pose of [middle, ...others]) {
        reachOf(place, pose, reach);
        if (reach[1] < left || reach[0] > right) continue;
        low[i] = Math.min(low[i], reach[2] - margin);
        high[i] = Math.max(high[i], reach[3] + margin);
      }
      if (i >= solidCount) depths.push([i, depthOf(place, middle)]);
    }
    cutoutOrder = depths.sort((a, b) => b[1] - a[1]).map(([i]) => i);
  }

  function projectRow(shot: Shot, row: number): void {
    const timeS = shot.timeS + ((row - (height - 1) / 2) / height) * shot.readoutS;
    const pose = shot.poseAt(timeS);
    for (let i = 0; i < all.length; i++) {
      if (high[i] < rays.rowLow[row] || low[i] > rays.rowHigh[row]) continue;
      seen[i] = projectSurface(placementAt(all[i], timeS), all[i].oneSided, pose, planes, i) ? 1 : 0;
    }
  }

  function listActive(row: number): void {
    activeCount = 0;
    const top = rays.rowLow[row];
    const bottom = rays.rowHigh[row];
    for (let i = 0; i < solidCount; i++) {
      if (seen[i] && high[i] >= top && low[i] <= bottom) active[activeCount++] = i;
    }
  }

  /** Cut-outs that may be seen in a row, half a pixel above and below it included. */
  function listCutouts(row: number): void {
    const top = rays.rowLow[row] - pixel;
    const bottom = rays.rowHigh[row] + pixel;
    rowCutouts = cutoutOrder.filter((i) => seen[i] && high[i] >= top && low[i] <= bottom);
  }

  /** Columns whose centres lie in the span; for a bent row, those that might. */
  function columnRange(at: number, row: number): boolean {
    span[0] = -Infinity;
    span[1] = Infinity;
    narrowSpan(planes, at, rays.rowLow[row], rays.rowHigh[row], span);
    if (span[0] > span[1]) return false;
    if (rays.straight) {
      span[0] = Math.max(0, Math.ceil(span[0] * focalPx + centreXPx));
      span[1] = Math.min(width - 1, Math.floor(span[1] * focalPx + centreXPx));
    } else {
      const from = span[0];
      const to = span[1];
      let a = 0;
      while (a < width && rayX[a] < from) a++;
      let b = width - 1;
      while (b >= 0 && rayX[b] > to) b--;
      span[0] = a;
      span[1] = b;
    }
    return span[0] <= span[1];
  }

  /** True where the ray of column x meets the rectangle. */
  function hits(at: number, x: number): boolean {
    const rx = rayX[x];
    const ry = rayY[x];
    const w = planes[at + 6] * rx + planes[at + 7] * ry + planes[at + 8];
    const u = planes[at] * rx + planes[at + 1] * ry + planes[at + 2];
    const v = planes[at + 3] * rx + planes[at + 4] * ry + planes[at + 5];
    return u >= 0 && v >= 0 && u <= w && v <= w;
  }

  function decideRow(row: number): void {
    const base = row * width;
    nearest.fill(0);
    ids.fill(NO_SURFACE, base, base + width);
    for (let k = 0; k < activeCount; k++) {
      const i = active[k];
      const at = i * PLANE_STRIDE;
      if (!columnRange(at, row)) continue;
      const wx = planes[at + 6];
      const wy = planes[at + 7];
      const wc = planes[at + 8];
      const to = span[1];
      for (let x = span[0]; x <= to; x++) {
        const w = wx * rayX[x] + wy * rayY[x] + wc;
        if (w > nearest[x] && (rays.straight || hits(at, x))) {
          nearest[x] = w;
          ids[base + x] = i;
        }
      }
    }
  }

  /** Marks the pixels of a row that show another surface than one of their four neighbours. */
  function markEdges(row: number): number {
    const base = row * width;
    const above = row > 0 ? base - width : base;
    const below = row < height - 1 ? base + width : base;
    let count = 0;
    let before = ids[base];
    let id = before;
    for (let x = 0; x < width; x++) {
      const next = x < width - 1 ? ids[base + x + 1] : id;
      // Without a branch: most pixels are no edges, but nobody can tell which.
      const other = (before ^ id) | (next ^ id) | (ids[above + x] ^ id) | (ids[below + x] ^ id);
      const differs = (other | -other) >>> 31;
      edge[x] = differs;
      count += differs;
      before = id;
      id = next;
    }
    return count;
  }

  function shadeRow(row: number, picture: LumaPicture): void {
    const base = row * width;
    const { luma, shown } = picture;
    luma.fill(0, base, base + width);
    shown.set(ids.subarray(base, base + width), base);
    const edgeCount = markEdges(row);
    let x = 0;
    while (x < width) {
      const id = ids[base + x];
      if (edge[x] || id === NO_SURFACE) {
        x++;
        continue;
      }
      const from = x;
      while (x < width && !edge[x] && ids[base + x] === id) x++;
      shader.shadeRun(id, from, x, luma, base);
    }
    if (edgeCount > 0) edges.resolveRow(row, active, activeCount, edge, rowCutouts, luma, base);
    for (const i of rowCutouts) {
      if (!columnRange(i * PLANE_STRIDE, row)) continue;
      overlay(i, span[0], span[1], row, picture);
    }
  }

  /** Draws one cut-out over the pixels of a row that are not edges (those have it already). */
  function overlay(i: number, from: number, to: number, row: number, picture: LumaPicture): void {
    const base = row * width;
    const at = i * PLANE_STRIDE;
    const { luma, shown } = picture;
    over.fill(0, from, to + 1);
    opacity.fill(0, from, to + 1);
    shader.shadeRun(i, from, to + 1, over, 0, opacity);
    for (let x = from; x <= to; x++) {
      const share = Math.min(1, opacity[x]);
      if (share <= 0) continue;
      if (!rays.straight && !hits(at, x)) continue;
      const id = ids[base + x];
      const w = planes[at + 6] * rayX[x] + planes[at + 7] * rayY[x] + planes[at + 8];
      if (id !== NO_SURFACE) {
        const solid = id * PLANE_STRIDE;
        if (planes[solid + 6] * rayX[x] + planes[solid + 7] * rayY[x] + planes[solid + 8] >= w) continue;
      }
      if (!edge[x]) luma[base + x] = luma[base + x] * (1 - share) + over[x];
      if (share > 0.5) shown[base + x] = i;
    }
  }

  return {
    draw(shot, into = emptyPicture(width, height)) {
      const rolling = shot.readoutS > 0;
      project(shot);
      for (let row = 0; row < height; row++) {
        rays.fillRow(row, rayX, rayY);
        if (rolling) projectRow(shot, row);
        listActive(row);
        decideRow(row);
      }
      for (let row = 0; row < height; row++) {
        rays.fillRow(row, rayX, rayY);
        if (rolling) projectRow(shot, row);
        listActive(row);
        listCutouts(row);
        shadeRow(row, into);
      }
      return into;
    },
  };
}

function depthOf(place: { origin: readonly number[] }, pose: Pose): number {
  const { rotation: r, centre: c } = pose;
  const o = place.origin;
  return r[6] * (o[0] - c[0]) + r[7] * (o[1] - c[1]) + r[8] * (o[2] - c[2]);
}
