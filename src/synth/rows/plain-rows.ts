/** Draws rows without compiled loops: for engines that have no SIMD, and what those are compared with. */
import { createEdgeResolver } from '../edge-pixels.js';
import { PLANE_STRIDE } from '../projected-surfaces.js';
import { narrowSpan } from '../row-span.js';
import { createShader } from '../shading.js';
import { NO_SURFACE, type LumaPicture, type RowPainter, type RowSetting } from './row-painter.js';

/** Makes a painter. */
export function plainRows({
  all,
  rays,
  widthPx: width,
  heightPx: height,
  focalPx,
  centreXPx,
}: RowSetting): RowPainter {
  const pixel = 1 / focalPx;
  const planes = new Float64Array(all.length * PLANE_STRIDE);
  const active = new Uint16Array(all.length);
  const cutouts = new Uint16Array(all.length);
  const ids = new Uint16Array(width * height);
  const rayX = new Float64Array(width);
  const rayY = new Float64Array(width);
  const nearest = new Float64Array(width);
  const edge = new Uint8Array(width);
  const over = new Float32Array(width);
  const opacity = new Float32Array(width);
  const span = new Float64Array(2);
  const shader = createShader(all, planes, rayX, rayY, pixel);
  const edges = createEdgeResolver({ all, planes, rays, rayX, rayY, pixel, shader });

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

  function decideRow(row: number, activeCount: number): void {
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

  function paintRow(row: number, activeCount: number, cutoutCount: number, picture: LumaPicture): void {
    const base = row * width;
    const { luma, shown } = picture;
    luma.fill(0, base, base + width);
    shown.set(ids.subarray(base, base + width), base);
    const rowCutouts = cutouts.subarray(0, cutoutCount);
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

  return { planes, rayX, rayY, active, cutouts, decideRow, paintRow };
}
