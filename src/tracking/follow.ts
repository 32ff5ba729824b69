/** One step of the tracks from a frame to the next, checked by the way back, in pixels. */
import type { PicturePair, Points } from '../vision/index.js';
import type { Scale } from './options.js';
import type { Followed } from './protocol.js';

/**
 * Follows points from the previous picture of the pair into the current one and keeps those that return to within
 * scale.returnErrorPx when followed backwards and stay off the border.
 * @param start where to look first, one for each point
 */
export function follow(pair: PicturePair, points: Points, start: Points, scale: Scale): Followed {
  const count = points.xPx.length;
  const kept = new Uint8Array(count);
  if (count === 0) return { xPx: new Float32Array(), yPx: new Float32Array(), kept };
  const settings = { windowPx: scale.windowPx, levels: scale.levels };
  const there = pair.forward(points, { ...settings, start });
  const back = pair.backward(there, { ...settings, start: points });
  const margin = scale.trackMarginPx;
  const right = pair.widthPx - 1 - margin;
  const bottom = pair.heightPx - 1 - margin;
  const limit = scale.returnErrorPx * scale.returnErrorPx;
  for (let i = 0; i < count; i++) {
    const dx = back.xPx[i] - points.xPx[i];
    const dy = back.yPx[i] - points.yPx[i];
    const x = there.xPx[i];
    const y = there.yPx[i];
    const inside = x > margin && x < right && y > margin && y < bottom;
    kept[i] = there.found[i] && back.found[i] && dx * dx + dy * dy < limit && inside ? 1 : 0;
  }
  return { xPx: there.xPx, yPx: there.yPx, kept };
}
