/** Floors, walls and ceilings around a camera's way, with window light and the shadows of what stands there. */
import type { Finish, Footprint, Stage } from './stage.js';
import type { LightMap } from './surface.js';

/** Where the camera goes (x and z, metres) and how high it is above the floor. */
export interface CameraReach {
  readonly x0: number;
  readonly x1: number;
  readonly z0: number;
  readonly z1: number;
  readonly floorY: number;
  /** True when it travels along the lens: things then stand on both sides of its way. */
  readonly ahead: boolean;
  /** Things stand no nearer than this, so that they do not hide a figure. */
  readonly nearestM: number;
}

/** Walls of a room. */
export interface RoomExtent {
  readonly left: number;
  readonly right: number;
  readonly back: number;
  readonly front: number;
  readonly heightM: number;
}

/** Distance between places at which the light on a floor is worked out. */
const LIGHT_STEP_M = 0.1;
/** Width and depth of the shadow around a thing. */
const SHADOW_M = 0.22;
const SHADOW_DEPTH = 0.5;

/** Light on a floor: bright lanes before the windows, dark where things stand. */
export function floorLight(
  room: RoomExtent,
  footprints: readonly Footprint[],
  windowsX: readonly number[],
  level: number,
): LightMap {
  const columns = Math.ceil((room.right - room.left) / LIGHT_STEP_M) + 1;
  const rows = Math.ceil((room.back - room.front) / LIGHT_STEP_M) + 1;
  const values = new Float32Array(columns * rows);
  const stepX = (room.right - room.left) / (columns - 1);
  const stepZ = (room.back - room.front) / (rows - 1);
  for (let row = 0; row < rows; row++) {
    const z = room.back - row * stepZ;
    for (let column = 0; column < columns; column++) {
      const x = room.left + column * stepX;
      let light = 0.72;
      for (const w of windowsX)
        light += 0.5 * Math.exp(-(((x - w) / 0.75) ** 2)) * Math.exp(-(room.back - z) / 4);
      values[row * columns + column] = level * light;
    }
  }
  for (const f of footprints) {
    const reach = 3 * SHADOW_M;
    const firstColumn = Math.max(0, Math.floor((f.x0 - reach - room.left) / stepX));
    const lastColumn = Math.min(columns - 1, Math.ceil((f.x1 + reach - room.left) / stepX));
    const firstRow = Math.max(0, Math.floor((room.back - f.z1 - reach) / stepZ));
    const lastRow = Math.min(rows - 1, Math.ceil((room.back - f.z0 + reach) / stepZ));
    for (let row = firstRow; row <= lastRow; row++) {
      const z = room.back - row * stepZ;
      const dz = Math.max(f.z0 - z, z - f.z1, 0);
      for (let column = firstColumn; column <= lastColumn; column++) {
        const x = room.left + column * stepX;
        const dx = Math.max(f.x0 - x, x - f.x1, 0);
        values[row * columns + column] *= 1 - SHADOW_DEPTH * Math.exp(-(dx * dx + dz * dz) / SHADOW_M ** 2);
      }
    }
  }
  return { columns, rows, values };
}

/** Lays the floor, seen from above: its first corner is back left. */
export function layFloor(
  stage: Stage,
  room: RoomExtent,
  floorY: number,
  look: Finish,
  light: LightMap,
): void {
  stage.panel(
    {
      origin: [room.left, floorY, room.back],
      along: [room.right - room.left, 0, 0],
      down: [0, 0, room.front - room.back],
    },
    look,
    light,
  );
}

/** Hangs the ceiling, seen from below. */
export function hangCeiling(stage: Stage, room: RoomExtent, floorY: number, look: Finish): void {
  stage.panel(
    {
      origin: [room.left, floorY - room.heightM, room.front],
      along: [room.right - room.left, 0, 0],
      down: [0, 0, room.back - room.front],
    },
    look,
  );
}

/** A strip of the back wall between two heights. */
export function backWall(
  stage: Stage,
  room: RoomExtent,
  floorY: number,
  low: number,
  high: number,
  look: Finish,
): void {
  stage.panel(
    {
      origin: [room.left, floorY - high, room.back],
      along: [room.right - room.left, 0, 0],
      down: [0, high - low, 0],
    },
    look,
  );
}

/** A strip of the wall on the left (-1) or right (+1). */
export function sideWall(
  stage: Stage,
  room: RoomExtent,
  floorY: number,
  side: -1 | 1,
  low: number,
  high: number,
  look: Finish,
): void {
  const depth = room.back - room.front;
  const down = [0, high - low, 0] as const;
  if (side < 0)
    stage.panel({ origin: [room.left, floorY - high, room.front], along: [0, 0, depth], down }, look);
  else stage.panel({ origin: [room.right, floorY - high, room.back], along: [0, 0, -depth], down }, look);
}
