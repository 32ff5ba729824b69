/**
 * Draws planes of one format anew in another: for every sample of the target its place in the picture, from there to the
 * samples of the source. Luma and chroma each by their own geometry, at their own density and depth.
 */
import type { PlaneFormat, PlaneGeometry } from '../footage/index.js';
import { GRID_STEP_PX, PlaneResampler, type PlaceGrid, type Samples } from '../vision/index.js';
import type { OutputPoints } from './source-grid.js';

/** Planes that lie alike, so that one set of places serves them all. */
export interface PlaneGroup {
  /** Numbers of the planes. */
  readonly planes: readonly number[];
  /** Luma places of the target at which the picture's places have to be known. */
  readonly nodes: OutputPoints;
  /**
   * Draws the group's planes.
   * @param places stored luma pixels of the source for each node; changed
   */
  draw(source: readonly Samples[], places: PlaceGrid, target: readonly Samples[]): void;
}

/** The groups of a pair of formats that have the same number of planes. */
export function planeGroups(source: PlaneFormat, target: PlaneFormat): PlaneGroup[] {
  const maximum = 2 ** target.bitDepth - 1;
  const groups: { planes: number[]; from: PlaneGeometry; to: PlaneGeometry }[] = [];
  target.planes.forEach((to, k) => {
    const from = source.planes[k];
    const alike = groups.find((group) => sameGeometry(group.to, to) && sameGeometry(group.from, from));
    if (alike) alike.planes.push(k);
    else groups.push({ planes: [k], from, to });
  });
  return groups.map(({ planes, from, to }) => {
    const resampler = new PlaneResampler(from, to);
    return {
      planes,
      nodes: nodesOf(resampler.grid, to),
      draw(sources, places, targets) {
        for (let i = 0; i < places.xPx.length; i++) {
          places.xPx[i] = (places.xPx[i] - from.offsetX) / from.stepX;
          places.yPx[i] = (places.yPx[i] - from.offsetY) / from.stepY;
        }
        for (const k of planes) resampler.resample(sources[k], places, targets[k], maximum);
      },
    };
  });
}

/** New planes of a format, all zero. */
export function emptyPlanes({ planes, bytesPerSample }: PlaneFormat): Samples[] {
  return planes.map(({ widthPx, heightPx }) =>
    bytesPerSample === 1 ? new Uint8Array(widthPx * heightPx) : new Uint16Array(widthPx * heightPx),
  );
}

/** True when samples of the two formats sit at the same places of the picture. */
export function sitAlike(one: PlaneFormat, other: PlaneFormat): boolean {
  return one.planes.every((plane, k) => {
    const { stepX, stepY, offsetX, offsetY } = other.planes[k];
    return (
      plane.stepX === stepX && plane.stepY === stepY && plane.offsetX === offsetX && plane.offsetY === offsetY
    );
  });
}

function sameGeometry(one: PlaneGeometry, other: PlaneGeometry): boolean {
  return (Object.keys(one) as (keyof PlaneGeometry)[]).every((key) => one[key] === other[key]);
}

function nodesOf(grid: { readonly columns: number; readonly rows: number }, to: PlaneGeometry): OutputPoints {
  const xPx = new Float64Array(grid.columns * grid.rows);
  const yPx = new Float64Array(grid.columns * grid.rows);
  for (let i = 0; i < xPx.length; i++) {
    xPx[i] = to.stepX * GRID_STEP_PX * (i % grid.columns) + to.offsetX;
    yPx[i] = to.stepY * GRID_STEP_PX * Math.floor(i / grid.columns) + to.offsetY;
  }
  return { xPx, yPx };
}
