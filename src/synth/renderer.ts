/**
 * Draws a made-up scene as a camera pose sees it: luminance per pixel (0..1, floating point) from textured rectangles in
 * metres, and which surface each pixel shows.
 *
 * Visibility is decided per pixel by the largest 1/depth, which is linear in the picture. Pixels where neighbours show
 * different surfaces are resolved with 16 places inside the pixel, so edges move smoothly; all others are one texture look-up,
 * exact in perspective. With a rolling shutter each row has its own pose.
 */
import type { Camera } from '../optics/index.js';
import { placementAt, projectSurface, reachOf, type Pose } from './projected-surfaces.js';
import { plainRows } from './rows/plain-rows.js';
import type { LumaPicture, RowPainter, RowSetting } from './rows/row-painter.js';
import { simdRows } from './rows/simd-rows.js';
import type { Scene, Surface } from './surface.js';
import { viewingRays } from './viewing-rays.js';

/** How a picture is taken: the pose at any time, the time of the middle row, and the readout from top to bottom. */
export interface Shot {
  readonly poseAt: (timeS: number) => Pose;
  readonly timeS: number;
  /** 0 for a global shutter. */
  readonly readoutS: number;
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

/**
 * Makes a renderer.
 *
 * @param painterOf what draws the rows; left out, compiled loops where the engine can run them
 * @throws RangeError when the scene holds more than 65 000 surfaces
 */
export function createRenderer(
  scene: Scene,
  camera: Camera,
  painterOf: (setting: RowSetting) => RowPainter = (setting) => simdRows(setting) ?? plainRows(setting),
): Renderer {
  const { widthPx: width, heightPx: height, focalPx, centreXPx } = camera;
  const all: readonly Surface[] = [...scene.surfaces, ...scene.cutouts];
  const solidCount = scene.surfaces.length;
  if (all.length > 65_000) throw new RangeError(`a scene holds up to 65000 surfaces, got ${all.length}`);
  const rays = viewingRays(camera);
  const pixel = 1 / focalPx;
  const low = new Float64Array(all.length);
  const high = new Float64Array(all.length);
  const seen = new Uint8Array(all.length);
  const reach = new Float64Array(4);
  let cutoutOrder: number[] = [];
  const rows = painterOf({ all, rays, widthPx: width, heightPx: height, focalPx, centreXPx });
  const { planes, rayX, rayY, active, cutouts } = rows;

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

  function listActive(row: number): number {
    const top = rays.rowLow[row];
    const bottom = rays.rowHigh[row];
    let count = 0;
    for (let i = 0; i < solidCount; i++) {
      if (seen[i] && high[i] >= top && low[i] <= bottom) active[count++] = i;
    }
    return count;
  }

  /** Cut-outs that may be seen in a row, half a pixel above and below it included. */
  function listCutouts(row: number): number {
    const top = rays.rowLow[row] - pixel;
    const bottom = rays.rowHigh[row] + pixel;
    let count = 0;
    for (const i of cutoutOrder) {
      if (seen[i] && high[i] >= top && low[i] <= bottom) cutouts[count++] = i;
    }
    return count;
  }

  return {
    draw(shot, into = emptyPicture(width, height)) {
      const rolling = shot.readoutS > 0;
      project(shot);
      for (let row = 0; row < height; row++) {
        rays.fillRow(row, rayX, rayY);
        if (rolling) projectRow(shot, row);
        rows.decideRow(row, listActive(row));
      }
      for (let row = 0; row < height; row++) {
        rays.fillRow(row, rayX, rayY);
        if (rolling) projectRow(shot, row);
        rows.paintRow(row, listActive(row), listCutouts(row), into);
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
