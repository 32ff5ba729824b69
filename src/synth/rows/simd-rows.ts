/** Draws rows by the compiled loops of assembly/, whose memory holds the surfaces, their textures and one row. */
import { instancesOf, type Loops } from '../../numerics/index.js';
import { PLANE_STRIDE } from '../projected-surfaces.js';
import type { LightMap, Surface } from '../surface.js';
import type { Texture } from '../texture.js';
import { CODE } from './loops-code.js';
import type { RowPainter, RowSetting } from './row-painter.js';

/** What the module exports; each is described in assembly/. */
interface RowLoops extends Loops {
  allocate(bytes: number): number;
  setUp(
    count: number,
    columns: number,
    isStraight: number,
    pixelSize: number,
    focal: number,
    centreX: number,
    planes: number,
    numbers: number,
    looks: number,
    rayX: number,
    rayY: number,
    active: number,
    cutouts: number,
    luma: number,
    shown: number,
  ): void;
  decideRow(ids: number, activeCount: number, rowLow: number, rowHigh: number): void;
  paintRow(
    row: number,
    ids: number,
    above: number,
    below: number,
    activeCount: number,
    cutoutCount: number,
    rowLow: number,
    rowHigh: number,
  ): void;
}

/** Under the name of the file that asks for it. */
const IMPORTS = { textures: { log2: Math.log2 } };

let instances: (() => RowLoops) | null | undefined;

/** An instance with a memory of its own; null where the engine cannot run it. */
function instance(): RowLoops | null {
  if (instances === undefined) instances = instancesOf<RowLoops>(CODE, IMPORTS);
  return instances?.() ?? null;
}

/** Shorter rows are copied one number after another. */
const WORTH_A_VIEW = 64;

/** Puts a texture into memory as assembly/textures.ts reads it: each row of texels ends with its first once more. */
function placeTexture(
  loops: RowLoops,
  { widthLog2, heightLog2, levelsU, levelsV, grazing, offsets, texels }: Texture,
): number {
  const places = [...offsets].map((offset, pair) => {
    if (offset < 0) return 0;
    const columns = 2 ** (widthLog2 - Math.floor(pair / levelsV));
    const rows = 2 ** (heightLog2 - (pair % levelsV));
    const at = loops.allocate(4 * (columns + 1) * rows);
    const level = new Float32Array(loops.memory.buffer, at, (columns + 1) * rows);
    for (let row = 0; row < rows; row++) {
      const from = offset + columns * row;
      const to = (columns + 1) * row;
      if (columns < WORTH_A_VIEW) for (let u = 0; u < columns; u++) level[to + u] = texels[from + u];
      else level.set(texels.subarray(from, from + columns), to);
      level[to + columns] = texels[from];
    }
    return at;
  });
  return placeCounts(loops, [widthLog2, heightLog2, levelsU, levelsV, grazing ? 1 : 0, 0, ...places]);
}

function placeLight(loops: RowLoops, { columns, rows, values }: LightMap): number {
  const at = loops.allocate(8 + values.byteLength);
  new Int32Array(loops.memory.buffer, at, 2).set([columns, rows]);
  new Float32Array(loops.memory.buffer, at + 8, values.length).set(values);
  return at;
}

function placeCounts(loops: RowLoops, counts: readonly number[]): number {
  const at = loops.allocate(4 * counts.length);
  new Int32Array(loops.memory.buffer, at, counts.length).set(counts);
  return at;
}

function placeNumbers(loops: RowLoops, numbers: readonly number[]): number {
  const at = loops.allocate(8 * numbers.length);
  new Float64Array(loops.memory.buffer, at, numbers.length).set(numbers);
  return at;
}

/** Puts what surfaces look like into memory, textures that several share once; gives the address of their table. */
function placeLooks(loops: RowLoops, all: readonly Surface[]): number {
  const places = new Map<Texture, number>();
  const placeOf = (texture: Texture): number => {
    const at = places.get(texture) ?? placeTexture(loops, texture);
    places.set(texture, at);
    return at;
  };
  return placeCounts(
    loops,
    all.flatMap(({ texture, light, opacity }) => [
      placeOf(texture),
      placeLight(loops, light),
      opacity ? placeOf(opacity) : 0,
    ]),
  );
}

/** Makes a painter. @returns null where the engine cannot run the loops */
export function simdRows(setting: RowSetting): RowPainter | null {
  const loops = instance();
  if (!loops) return null;
  const { all, rays, widthPx: width, heightPx: height, focalPx, centreXPx } = setting;
  const count = all.length;
  const looksAt = placeLooks(loops, all);
  const numbersAt = placeNumbers(
    loops,
    all.flatMap(({ texelsAlong, texelsDown, startU, startV }) => [texelsAlong, texelsDown, startU, startV]),
  );
  const planesAt = loops.allocate(8 * PLANE_STRIDE * count);
  // The loops read rays, and write luminance, two at a time.
  const rayXAt = loops.allocate(8 * (width + 2));
  const rayYAt = loops.allocate(8 * (width + 2));
  const lumaAt = loops.allocate(4 * (width + 2));
  const shownAt = loops.allocate(2 * width);
  const activeAt = loops.allocate(2 * count);
  const cutoutsAt = loops.allocate(2 * count);
  const idsAt = loops.allocate(2 * width * height);
  loops.setUp(
    ...[count, width, rays.straight ? 1 : 0, 1 / focalPx, focalPx, centreXPx, planesAt, numbersAt, looksAt],
    ...([rayXAt, rayYAt, activeAt, cutoutsAt, lumaAt, shownAt] as const),
  );
  // All is placed: the memory grows no more, so that views of it stay good.
  const { buffer } = loops.memory;
  const luma = new Float32Array(buffer, lumaAt, width);
  const shown = new Uint16Array(buffer, shownAt, width);
  const idsOf = (row: number): number => idsAt + 2 * width * row;
  return {
    planes: new Float64Array(buffer, planesAt, PLANE_STRIDE * count),
    rayX: new Float64Array(buffer, rayXAt, width),
    rayY: new Float64Array(buffer, rayYAt, width),
    active: new Uint16Array(buffer, activeAt, count),
    cutouts: new Uint16Array(buffer, cutoutsAt, count),
    decideRow(row, activeCount) {
      loops.decideRow(idsOf(row), activeCount, rays.rowLow[row], rays.rowHigh[row]);
    },
    paintRow(row, activeCount, cutoutCount, picture) {
      loops.paintRow(
        row,
        idsOf(row),
        idsOf(Math.max(0, row - 1)),
        idsOf(Math.min(height - 1, row + 1)),
        activeCount,
        cutoutCount,
        rays.rowLow[row],
        rays.rowHigh[row],
      );
      picture.luma.set(luma, width * row);
      picture.shown.set(shown, width * row);
    },
  };
}
