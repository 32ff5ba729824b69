/** Paints rows. */
import { resolveRow } from './edges';
import { markEdges } from './fronts';
import {
  NO_SURFACE,
  cutouts,
  edge,
  get,
  id,
  luma,
  opacity,
  over,
  planeOf,
  rayX,
  rayY,
  shown,
  straight,
  width,
} from './memory';
import { shadeRun } from './shading';
import { columnRange, first, hits, last } from './spans';

/** Draws cut-out i over columns from..to of a row where they are no edges (those have it already). */
function overlay(i: i32, from: i32, to: i32, ids: usize): void {
  const plane = planeOf(i);
  const bytes = (<usize>(to + 1 - from)) << 2;
  memory.fill(over + ((<usize>from) << 2), 0, bytes);
  memory.fill(opacity + ((<usize>from) << 2), 0, bytes);
  shadeRun(i, from, to + 1, over, opacity);
  for (let x = from; x <= to; x++) {
    const share = min<f64>(1, <f64>load<f32>(opacity + ((<usize>x) << 2)));
    if (share <= 0) continue;
    if (!straight && !hits(plane, x)) continue;
    const solid = id(ids, x);
    const rx = get(rayX, x);
    const ry = get(rayY, x);
    if (solid !== NO_SURFACE) {
      const w = get(plane, 6) * rx + get(plane, 7) * ry + get(plane, 8);
      const behind = planeOf(solid);
      if (get(behind, 6) * rx + get(behind, 7) * ry + get(behind, 8) >= w) continue;
    }
    const place = luma + ((<usize>x) << 2);
    if (load<u8>(edge + <usize>x) === 0)
      store<f32>(
        place,
        <f32>(<f64>load<f32>(place) * (1 - share) + <f64>load<f32>(over + ((<usize>x) << 2))),
      );
    if (share > 0.5) store<u16>(shown + ((<usize>x) << 1), <u16>i);
  }
}

/** Paints a row from its surfaces (`ids`, with those of the rows above and below) into the rows of luminance and of what is shown. */
export function paintRow(
  row: i32,
  ids: usize,
  above: usize,
  below: usize,
  activeCount: i32,
  cutoutCount: i32,
  rowLow: f64,
  rowHigh: f64,
): void {
  memory.fill(luma, 0, (<usize>width) << 2);
  memory.copy(shown, ids, (<usize>width) << 1);
  const hasEdges = markEdges(ids, above, below);
  let x = 0;
  while (x < width) {
    const i = id(ids, x);
    if (load<u8>(edge + <usize>x) !== 0 || i === NO_SURFACE) {
      x++;
      continue;
    }
    const from = x;
    while (x < width && load<u8>(edge + <usize>x) === 0 && id(ids, x) === i) x++;
    shadeRun(i, from, x, luma, 0);
  }
  if (hasEdges) resolveRow(row, activeCount, cutoutCount, rowLow, rowHigh);
  for (let k = 0; k < cutoutCount; k++) {
    const c = id(cutouts, k);
    if (columnRange(planeOf(c), rowLow, rowHigh)) overlay(c, first, last, ids);
  }
}
