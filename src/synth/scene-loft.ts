/** The plywood loft: sheets on floor and walls, timber posts and braces, boxes, boards and stored bicycles. */
import { bench, bicycleAt, boards, crateStack, finish, post, shelves } from './props.js';
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

const HEIGHT_M = 3.4;
const WALL_M = 7.5;
const TIMBER = finish('planks', TINTS.darkWood, 0.8, 0.0014);

function rows(stage: Stage, reach: CameraReach): void {
  const { floorY } = reach;
  const put = (distance: number, gap: readonly [number, number], what: (spot: Spot) => void): void => {
    if (distance < reach.nearestM) return;
    const spread = 1.2 + 0.42 * distance;
    for (let x = reach.x0 - spread + stage.between(0, 1); x < reach.x1 + spread; x += stage.between(...gap))
      what({ x, z: reach.z1 + distance, back: 'z' });
  };
  put(1.05, [2, 2.9], (spot) => {
    if (stage.random() < 0.5) boards(stage, spot, floorY + stage.between(-0.15, 0.1));
    else crateStack(stage, spot, floorY - 0.1);
  });
  put(1.8, [2.3, 3.3], (spot) => {
    if (stage.random() < 0.5) post(stage, spot, 0.14, HEIGHT_M, TIMBER);
    else crateStack(stage, spot, floorY + stage.between(-0.3, 0.15));
  });
  put(2.9, [2.6, 3.5], (spot) => {
    if (stage.random() < 0.5) bicycleAt(stage, spot, floorY);
    else boards(stage, spot, 1.5);
  });
  put(4, [3, 4], (spot) => {
    if (stage.random() < 0.5) bench(stage, spot, 1.8);
    else crateStack(stage, spot, stage.between(0.8, 1.6));
  });
  put(5.6, [2.9, 3.9], (spot) => {
    if (stage.random() < 0.6) shelves(stage, spot, 1.4, 2);
    else boards(stage, spot, 2);
  });
}

function sides(stage: Stage, reach: CameraReach): void {
  for (const sign of [-1, 1]) {
    const edge = sign < 0 ? reach.x0 - 0.8 : reach.x1 + 0.8;
    for (let z = reach.z0 + 1; z < reach.z1 + WALL_M - 1; z += stage.between(1.2, 2)) {
      const spot: Spot = { x: edge, z, back: sign < 0 ? '-x' : 'x' };
      const kind = stage.random();
      if (kind < 0.35) crateStack(stage, spot, stage.between(0.5, 1.2));
      else if (kind < 0.6) post(stage, spot, 0.14, HEIGHT_M, TIMBER);
      else boards(stage, { ...spot, x: edge + sign * 0.6, back: 'z' }, stage.between(1.1, 1.9));
      if (stage.random() < 0.6) shelves(stage, { ...spot, x: edge + sign * 1.6 }, 1.2, 2);
    }
  }
}

/** Builds the loft. */
export function buildLoft(stage: Stage, reach: CameraReach): void {
  const { floorY } = reach;
  const reachX = reach.ahead ? 4 : 8;
  const room: RoomExtent = {
    left: reach.x0 - reachX,
    right: reach.x1 + reachX,
    back: reach.z1 + WALL_M,
    front: reach.z0 - 2,
    heightM: HEIGHT_M,
  };
  const sheet = finish('plywood', TINTS.wood, 0.95, 0.0019);
  backWall(stage, room, floorY, 0, HEIGHT_M, sheet);
  for (const which of [-1, 1] as const)
    sideWall(stage, room, floorY, which, 0, HEIGHT_M, { ...sheet, level: 0.8 });
  hangCeiling(stage, room, floorY, finish('planks', TINTS.darkWood, 0.5, 0.0024));
  const windowsX: number[] = [];
  for (let x = room.left + 1.5; x < room.right - 1; x += 2.9) {
    windowsX.push(x);
    stage.panel(
      { origin: [x - 0.6, floorY - 2.6, room.back - 0.02], along: [1.2, 0, 0], down: [0, 1.2, 0] },
      finish('window', TINTS.white, 1.05, null),
    );
    post(stage, { x: x + 1.45, z: room.back - 0.22, back: 'z' }, 0.18, HEIGHT_M, TIMBER);
  }
  for (const height of [0.02, 2.85]) {
    stage.box(
      { x: room.left, z: room.back - 0.12, back: 'z' },
      { right: [0, room.right - room.left], height: [height, height + 0.14], back: [0, 0.1] },
      TIMBER,
    );
  }
  if (reach.ahead) sides(stage, reach);
  else rows(stage, reach);
  layFloor(stage, room, floorY, { ...sheet, level: 1 }, floorLight(room, stage.footprints, windowsX, 1.05));
}
