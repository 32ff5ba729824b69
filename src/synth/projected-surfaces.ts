/**
 * Surfaces as seen by one camera pose: for each rectangle the nine numbers that give 1/depth and both rectangle coordinates
 * at any viewing ray, from poses in metres and normalised image coordinates.
 *
 * With Mc = [R along, R down, R (origin - C)] the ray (x, y, 1) meets the plane at (u, v, 1) / w = Mc^-1 (x, y, 1), so u w,
 * v w and w = 1/depth are linear in x and y and no polygon has to be clipped.
 * Source: Olano and Greer, "Triangle scan conversion using 2D homogeneous coordinates" (1997) for the linear forms.
 */
import type { Placement, Surface } from './surface.js';

/** World-to-camera rotation (row-major, length 9) and camera centre in metres (length 3). */
export interface Pose {
  readonly rotation: ArrayLike<number>;
  readonly centre: ArrayLike<number>;
}

/** Numbers per surface in the plane table: u w, v w and w, each as (x factor, y factor, constant). */
export const PLANE_STRIDE = 9;

/** Nothing nearer than this is drawn. */
export const NEAREST_M = 0.12;

/** Planes seen flatter than this (metres between camera and plane) are left out. */
const EDGE_ON_M = 1e-6;

/** Fills the plane of surface `i`. Gives false when it cannot be seen from this side. */
export function projectSurface(
  placement: Placement,
  oneSided: boolean,
  pose: Pose,
  planes: Float64Array,
  i: number,
): boolean {
  const { rotation: r, centre: c } = pose;
  const { origin, along, down } = placement;
  const dx = origin[0] - c[0];
  const dy = origin[1] - c[1];
  const dz = origin[2] - c[2];
  const u0 = r[0] * along[0] + r[1] * along[1] + r[2] * along[2];
  const u1 = r[3] * along[0] + r[4] * along[1] + r[5] * along[2];
  const u2 = r[6] * along[0] + r[7] * along[1] + r[8] * along[2];
  const v0 = r[0] * down[0] + r[1] * down[1] + r[2] * down[2];
  const v1 = r[3] * down[0] + r[4] * down[1] + r[5] * down[2];
  const v2 = r[6] * down[0] + r[7] * down[1] + r[8] * down[2];
  const p0 = r[0] * dx + r[1] * dy + r[2] * dz;
  const p1 = r[3] * dx + r[4] * dy + r[5] * dz;
  const p2 = r[6] * dx + r[7] * dy + r[8] * dz;
  const n0 = u1 * v2 - u2 * v1;
  const n1 = u2 * v0 - u0 * v2;
  const n2 = u0 * v1 - u1 * v0;
  const determinant = n0 * p0 + n1 * p1 + n2 * p2;
  const area = Math.hypot(n0, n1, n2);
  if (Math.abs(determinant) < EDGE_ON_M * area || (oneSided && determinant < 0)) return false;
  const s = 1 / determinant;
  const at = i * PLANE_STRIDE;
  planes[at] = (v1 * p2 - v2 * p1) * s;
  planes[at + 1] = (v2 * p0 - v0 * p2) * s;
  planes[at + 2] = (v0 * p1 - v1 * p0) * s;
  planes[at + 3] = (p1 * u2 - p2 * u1) * s;
  planes[at + 4] = (p2 * u0 - p0 * u2) * s;
  planes[at + 5] = (p0 * u1 - p1 * u0) * s;
  planes[at + 6] = n0 * s;
  planes[at + 7] = n1 * s;
  planes[at + 8] = n2 * s;
  return true;
}

/**
 * Writes the lowest and highest x and y (normalised image) that a placement can reach to reach[0..3] as x low, x high, y low,
 * y high; everything when part of it is behind the camera.
 */
export function reachOf(placement: Placement, pose: Pose, reach: Float64Array): void {
  const { rotation: r, centre: c } = pose;
  const { origin, along, down } = placement;
  reach[0] = reach[2] = Infinity;
  reach[1] = reach[3] = -Infinity;
  let behind = 0;
  for (let corner = 0; corner < 4; corner++) {
    const a = corner & 1;
    const b = corner >> 1;
    const x = origin[0] + a * along[0] + b * down[0] - c[0];
    const y = origin[1] + a * along[1] + b * down[1] - c[1];
    const z = origin[2] + a * along[2] + b * down[2] - c[2];
    const depth = r[6] * x + r[7] * y + r[8] * z;
    if (depth < NEAREST_M) {
      behind++;
      continue;
    }
    const atX = (r[0] * x + r[1] * y + r[2] * z) / depth;
    const atY = (r[3] * x + r[4] * y + r[5] * z) / depth;
    reach[0] = Math.min(reach[0], atX);
    reach[1] = Math.max(reach[1], atX);
    reach[2] = Math.min(reach[2], atY);
    reach[3] = Math.max(reach[3], atY);
  }
  // All corners behind: nothing to see, the reach stays empty.
  if (behind > 0 && behind < 4) {
    reach[0] = reach[2] = -Infinity;
    reach[1] = reach[3] = Infinity;
  }
}

/** Where a surface is at a time. */
export function placementAt(surface: Surface, timeS: number): Placement {
  return surface.placeAt ? surface.placeAt(timeS) : surface;
}
