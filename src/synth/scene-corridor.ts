/** The tiled corridor: glazed walls, quarry tile floor; seen across it there are door openings with rooms behind. */
import { bicycleAt, boards, cabinet, crateStack, finish, pick, post, shelves, toolStand } from './props.js';
import {
  backWall,
  floorLight,
  hangCeiling,
  layFloor,
  sideWall,
  type CameraReach,
  type RoomExtent,
} from './scene-shell.js';
import { TINTS, type Spot, type Stage } from './stage.js';

const HEIGHT_M = 3.1;
const TILE = finish('glazedTiles', TINTS.coolGrey, 0.95, 0.0012);
/** Distance of the wall with the openings, and of the rooms' far wall. */
const NEAR_WALL_M = 3;
const FAR_WALL_M = 8;
const PIER_M = 0.9;
const OPENING_M = 1.7;

/** Seen across: piers of the near wall, a lintel above, rooms behind. */
function across(stage: Stage, reach: CameraReach, room: RoomExtent): void {
  const { floorY } = reach;
  const z = reach.z1 + NEAR_WALL_M;
  let opening = 0;
  for (let x = room.left; x < room.right; x += PIER_M + OPENING_M) {
    const pier: Spot = { x, z, back: 'z' };
    stage.box(pier, { right: [0, PIER_M], height: [0, 1.45], back: [0, 0.25] }, TILE);
    stage.box(
      pier,
      { right: [0, PIER_M], height: [1.45, 1.56], back: [0, 0.25] },
      finish('steel', TINTS.teal, 0.7, 0.0015),
    );
    stage.box(
      pier,
      { right: [0, PIER_M], height: [1.56, HEIGHT_M], back: [0, 0.25] },
      finish('plaster', TINTS.cream, 1, 0.0018),
    );
    const middle: Spot = { x: x + PIER_M + OPENING_M / 2, z, back: 'z' };
    const behind = (distance: number, shift: number): Spot => ({
      x: middle.x + shift,
      z: z + distance,
      back: 'z',
    });
    const kind = opening++ % 3;
    if (kind === 0) shelves(stage, behind(2.6, 0.1), 1.5, 2.1);
    else if (kind === 1) crateStack(stage, behind(1.4, 0.2), stage.between(0.8, 1.5));
    else cabinet(stage, behind(2, -0.1), 1.7);
    if (stage.random() < 0.6) bicycleAt(stage, behind(0.7, stage.between(-0.2, 0.2)), floorY);
    else toolStand(stage, behind(3.8, stage.between(-0.5, 0.5)));
  }
  for (let x = reach.x0 - 2; x < reach.x1 + 2 && reach.nearestM < 1; x += stage.between(1.3, 2)) {
    const spot: Spot = { x, z: reach.z1 + stage.between(1.05, 2), back: 'z' };
    const kind = stage.random();
    if (kind < 0.55) crateStack(stage, spot, floorY + stage.between(-0.25, 0.05));
    else if (kind < 0.8)
      post(
        stage,
        spot,
        0.07,
        HEIGHT_M,
        finish('steel', pick(stage, [TINTS.ochre, TINTS.coolGrey]), 1, 0.0007),
      );
    else boards(stage, spot, floorY + 0.1);
  }
}

/** Seen along: both walls close, doors and things beside the way. */
function along(stage: Stage, reach: CameraReach, room: RoomExtent): void {
  const { floorY } = reach;
  for (const which of [-1, 1] as const) {
    sideWall(stage, room, floorY, which, 0, 1.5, TILE);
    sideWall(stage, room, floorY, which, 1.5, HEIGHT_M, finish('plaster', TINTS.cream, 0.9, 0.0018));
    const x = which < 0 ? room.left : room.right;
    for (let z = reach.z0 + stage.between(0.8, 1.6); z < room.back - 0.8; z += stage.between(1.3, 2.1)) {
      const spot: Spot = { x: x - which * 0.45, z, back: which < 0 ? '-x' : 'x' };
      const kind = stage.random();
      if (kind < 0.4) crateStack(stage, { ...spot, z: z + 0.2 }, stage.between(0.4, 1.3));
      else if (kind < 0.65) cabinet(stage, spot, stage.between(1.1, 1.8));
      else
        post(
          stage,
          { ...spot, x: x - which * 0.14 },
          0.12,
          HEIGHT_M,
          finish('steel', TINTS.teal, 0.85, 0.001),
        );
    }
  }
  for (let z = reach.z0 + 1.4; z < room.back; z += 1.9) {
    stage.box(
      { x: (room.left + room.right) / 2, z, back: 'z' },
      {
        right: [room.left / 1, room.right].map((v) => v - (room.left + room.right) / 2) as [number, number],
        height: [HEIGHT_M - 0.22, HEIGHT_M],
        back: [0, 0.16],
      },
      finish('plaster', TINTS.warmGrey, 0.85, 0.002),
    );
  }
}

/** Builds the corridor. */
export function buildCorridor(stage: Stage, reach: CameraReach): void {
  const { floorY, ahead } = reach;
  const room: RoomExtent = ahead
    ? {
        left: reach.x0 - 1.5,
        right: reach.x1 + 1.5,
        back: reach.z1 + 8,
        front: reach.z0 - 2,
        heightM: HEIGHT_M,
      }
    : {
        left: reach.x0 - 8,
        right: reach.x1 + 8,
        back: reach.z1 + FAR_WALL_M,
        front: reach.z0 - 2,
        heightM: HEIGHT_M,
      };
  backWall(stage, room, floorY, 0, 1.5, ahead ? TILE : finish('brick', TINTS.warmGrey, 0.85, 0.0018));
  backWall(stage, room, floorY, 1.5, HEIGHT_M, finish('plaster', TINTS.warmGrey, 0.9, 0.002));
  const windowsX: number[] = [];
  for (let x = room.left + 1.2; x < room.right - 0.6; x += ahead ? 1.7 : 2.6) {
    windowsX.push(x);
    stage.panel(
      { origin: [x - 0.5, floorY - 2.7, room.back - 0.02], along: [1, 0, 0], down: [0, 1.05, 0] },
      finish('window', TINTS.white, 1.05, null),
    );
  }
  if (ahead) along(stage, reach, room);
  else across(stage, reach, room);
  hangCeiling(stage, room, floorY, finish('plaster', TINTS.white, 0.72, 0.003));
  layFloor(
    stage,
    room,
    floorY,
    finish('floorTiles', TINTS.terracotta, 1, 0.0012),
    floorLight(room, stage.footprints, windowsX, 1.1),
  );
}
