/**
 * The correction of a frame in its plain reading, pixel by pixel and with no regard to speed: what the fast one is
 * compared with.
 */
import {
  normalisePoints,
  pixelOfNormalised,
  rotationFromAngles,
  type Camera,
} from '../../../src/optics/index.js';
import type { FrameTurn } from '../../../src/stabilise/index.js';

export interface Place {
  readonly xPx: number;
  readonly yPx: number;
}

/** Where the correction puts pixel (x, y) of the recorded frame. */
export function correctedPlace(camera: Camera, turn: FrameTurn, x: number, y: number): Place {
  const change = (column: Float64Array): number => {
    const place = Math.max(0, Math.min(1, (y + 0.5) / camera.heightPx)) * (column.length - 1);
    const low = Math.min(column.length - 2, Math.floor(place));
    return column[low] + (place - low) * (column[low + 1] - column[low]);
  };
  const { pan, tilt, roll, rows } = turn;
  const r = rotationFromAngles(
    -pan - (rows ? change(rows.pan) : 0),
    -tilt - (rows ? change(rows.tilt) : 0),
    -roll - (rows ? change(rows.roll) : 0),
  );
  const ray = normalisePoints(camera, [x], [y]);
  const z = r[6] * ray.x[0] + r[7] * ray.y[0] + r[8];
  return pixelOfNormalised(
    camera,
    (r[0] * ray.x[0] + r[1] * ray.y[0] + r[2]) / z,
    (r[3] * ray.x[0] + r[4] * ray.y[0] + r[5]) / z,
  );
}

/** Points along the outline of a window, px of the camera, `perSide` steps a side. */
export function outline(
  camera: Camera,
  window: {
    readonly halfWidthPx: number;
    readonly shape: number;
    readonly offsetXPx?: number;
    readonly offsetYPx?: number;
  },
  perSide: number,
): { xPx: Float64Array; yPx: Float64Array } {
  const { halfWidthPx, shape, offsetXPx = 0, offsetYPx = 0 } = window;
  const u: number[] = [];
  const v: number[] = [];
  for (let i = 0; i <= perSide; i++) {
    const s = -1 + (2 * i) / perSide;
    u.push(s, s, -1, 1);
    v.push(-1, 1, s, s);
  }
  return {
    xPx: Float64Array.from(u, (s) => (camera.widthPx - 1) / 2 + offsetXPx + s * halfWidthPx),
    yPx: Float64Array.from(v, (s) => (camera.heightPx - 1) / 2 + offsetYPx + s * halfWidthPx * shape),
  };
}

/** How far the farthest of some places lies beyond the picture, px; negative when all are inside. */
export function farthestOutside(camera: Camera, xPx: Float64Array, yPx: Float64Array): number {
  let outside = -Infinity;
  for (let i = 0; i < xPx.length; i++) {
    outside = Math.max(
      outside,
      -0.5 - xPx[i],
      xPx[i] - (camera.widthPx - 0.5),
      -0.5 - yPx[i],
      yPx[i] - (camera.heightPx - 0.5),
    );
  }
  return outside;
}
