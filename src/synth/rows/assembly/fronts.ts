/** Which surface each pixel of a row shows. */
import { active, edge, get, id, nearest, planeOf, put, rayX, rayY, straight, width } from './memory';
import { columnRange, first, hits, last } from './spans';

/** Writes the surface in front at each column of a row to `ids` (u16). */
export function decideRow(ids: usize, activeCount: i32, rowLow: f64, rowHigh: f64): void {
  memory.fill(nearest, 0, (<usize>width) << 3);
  memory.fill(ids, 0xff, (<usize>width) << 1);
  for (let k = 0; k < activeCount; k++) {
    const i = id(active, k);
    const plane = planeOf(i);
    if (!columnRange(plane, rowLow, rowHigh)) continue;
    const from = first;
    const to = last;
    const wx = get(plane, 6);
    const wy = get(plane, 7);
    const wc = get(plane, 8);
    let x = from;
    if (straight) {
      const allX = f64x2.splat(wx);
      const allY = f64x2.splat(wy);
      const allC = f64x2.splat(wc);
      for (; x < to; x += 2) {
        const byte = (<usize>x) << 3;
        const w = f64x2.add(
          f64x2.add(f64x2.mul(allX, v128.load(rayX + byte)), f64x2.mul(allY, v128.load(rayY + byte))),
          allC,
        );
        const before = v128.load(nearest + byte);
        const isNearer = f64x2.gt(w, before);
        const bits = i64x2.bitmask(isNearer);
        if (bits === 0) continue;
        v128.store(nearest + byte, v128.bitselect(w, before, isNearer));
        if (bits & 1) store<u16>(ids + ((<usize>x) << 1), <u16>i);
        if (bits & 2) store<u16>(ids + ((<usize>x) << 1), <u16>i, 2);
      }
    }
    for (; x <= to; x++) {
      const w = wx * get(rayX, x) + wy * get(rayY, x) + wc;
      if (w > get(nearest, x) && (straight || hits(plane, x))) {
        put(nearest, x, w);
        store<u16>(ids + ((<usize>x) << 1), <u16>i);
      }
    }
  }
}

/** Marks the pixels of a row that show another surface than one of their four neighbours; true when there are any. */
export function markEdges(ids: usize, above: usize, below: usize): bool {
  let any = 0;
  let before = id(ids, 0);
  let here = before;
  for (let x = 0; x < width; x++) {
    const next = x < width - 1 ? id(ids, x + 1) : here;
    const other = (before ^ here) | (next ^ here) | (id(above, x) ^ here) | (id(below, x) ^ here);
    store<u8>(edge + <usize>x, <u8>(other !== 0));
    any |= other;
    before = here;
    here = next;
  }
  return any !== 0;
}
