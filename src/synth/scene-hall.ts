/** The dairy hall as a bicycle workshop: lofty, polished concrete, tiled dado, windows, benches, shelves, crates, bicycles. */
import {
  bench,
  bicycleAt,
  boards,
  cabinet,
  crateStack,
  finish,
  pick,
  post,
  shelves,
  toolStand,
} from './props.js';
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

const WALL_M = 9;
const MARGIN_M = 9;
const HEIGHT_M = 4.6;

/** Room around the camera's way. */
function hallRoom(reach: CameraReach): RoomExtent {
  return {
    left: reach.x0 - (reach.ahead ? 6 : MARGIN_M),
    right: reach.x1 + (reach.ahead ? 6 : MARGIN_M),
    back: reach.z1 + WALL_M,
    front: reach.z0 - 2.5,
    heightM: HEIGHT_M,
  };
}

function windows(stage: Stage, room: RoomExtent, floorY: number): number[] {
  const places: number[] = [];
  for (let x = room.left + 1.4; x < room.right - 1; x += 3.1) {
    places.push(x);
    stage.panel(
      { origin: [x - 0.85, floorY - 4.05, room.back - 0.02], along: [1.7, 0, 0], down: [0, 2.1, 0] },
      finish('window', TINTS.white, 1.05, null),
    );
    stage.box(
      { x, z: room.back - 0.16, back: 'z' },
      { right: [-0.95, 0.95], height: [1.88, 1.95], back: [0, 0.15] },
      finish('plaster', TINTS.warmGrey, 1.05, 0.002),
    );
  }
  return places;
}

/** Posts and pipes before the back wall. */
function structure(stage: Stage, room: RoomExtent): void {
  const iron = finish('steel', TINTS.green, 0.75, 0.0016);
  for (let x = room.left + 2.9; x < room.right; x += 3.1) {
    stage.box(
      { x, z: room.back - 0.3, back: 'z' },
      { right: [-0.14, 0.14], height: [0, HEIGHT_M], back: [0, 0.28] },
      iron,
    );
  }
  for (const [height, size] of [
    [4.28, 0.14],
    [1.62, 0.07],
  ] as const) {
    stage.box(
      { x: room.left, z: room.back - 0.42, back: 'z' },
      { right: [0, room.right - room.left], height: [height, height + size], back: [0, size] },
      finish('steel', TINTS.coolGrey, 0.95, 0.0016),
    );
  }
}

/** Fills the hall for a camera that passes along it, in rows of growing distance. */
function furnishAlong(stage: Stage, reach: CameraReach): void {
  const { floorY } = reach;
  const from = reach.x0 - 1.2;
  const to = reach.x1 + 1.2;
  const row = (distance: number, gap: readonly [number, number], put: (spot: Spot) => void): void => {
    if (distance < reach.nearestM) return;
    const spread = 0.42 * distance;
    for (let x = from - spread + stage.between(0, gap[0]); x < to + spread; x += stage.between(...gap)) {
      put({ x, z: reach.z1 + distance, back: 'z' });
    }
  };
  row(1.02, [1.8, 2.8], (spot) => {
    const kind = stage.random();
    if (kind < 0.45) crateStack(stage, spot, floorY + stage.between(-0.22, -0.02));
    else if (kind < 0.75)
      post(
        stage,
        spot,
        stage.between(0.06, 0.09),
        HEIGHT_M,
        finish('steel', pick(stage, [TINTS.ochre, TINTS.teal]), 0.95, 0.0006),
      );
    else boards(stage, spot, floorY - 0.05);
  });
  row(1.7, [2.2, 3.4], (spot) => {
    if (stage.random() < 0.6) crateStack(stage, spot, floorY + stage.between(-0.35, 0.1));
    else boards(stage, spot, floorY + stage.between(-0.1, 0.3));
  });
  row(2.6, [2.4, 3.4], (spot) => {
    const kind = stage.random();
    if (kind < 0.5) bicycleAt(stage, spot, floorY);
    else crateStack(stage, spot, stage.between(0.5, 1.2));
  });
  row(3.6, [3, 4], (spot) => {
    if (stage.random() < 0.6) bench(stage, spot, stage.between(1.5, 2.1));
    else cabinet(stage, spot, stage.between(1, 1.7));
  });
  row(4.8, [2.9, 3.9], (spot) => {
    const kind = stage.random();
    if (kind < 0.4) bicycleAt(stage, spot, floorY);
    else if (kind < 0.7) toolStand(stage, spot);
    else crateStack(stage, spot, stage.between(0.6, 1.6));
  });
  row(6.2, [3, 4], (spot) => {
    const kind = stage.random();
    if (kind < 0.55) shelves(stage, spot, stage.between(1.1, 1.7), stage.between(1.7, 2.3));
    else if (kind < 0.8) cabinet(stage, spot, stage.between(1.2, 1.9));
    else post(stage, spot, 0.24, HEIGHT_M, finish('steel', TINTS.green, 0.8, 0.0016));
  });
  row(7.6, [3.2, 4.4], (spot) => {
    if (stage.random() < 0.5) crateStack(stage, spot, stage.between(0.8, 2));
    else boards(stage, spot, 2.1);
  });
}

/** Fills the hall on both sides of a camera that drives into it. */
function furnishAhead(stage: Stage, reach: CameraReach): void {
  const { floorY } = reach;
  const side = (distance: number, gap: readonly [number, number], put: (spot: Spot) => void): void => {
    for (const sign of [-1, 1]) {
      const x = sign < 0 ? reach.x0 - distance : reach.x1 + distance;
      for (
        let z = reach.z0 + 0.9 + stage.between(0, 0.8);
        z < reach.z1 + WALL_M - 1.5;
        z += stage.between(...gap)
      ) {
        put({ x, z, back: sign < 0 ? '-x' : 'x' });
      }
    }
  };
  side(0.75, [1.7, 2.6], (spot) => {
    if (stage.random() < 0.55) crateStack(stage, spot, stage.between(0.5, floorY + 0.1));
    else
      post(
        stage,
        spot,
        0.08,
        HEIGHT_M,
        finish('steel', pick(stage, [TINTS.ochre, TINTS.teal]), 0.95, 0.0008),
      );
  });
  side(1.5, [1.8, 2.6], (spot) => {
    const kind = stage.random();
    if (kind < 0.4) bench(stage, spot, 1.5);
    else if (kind < 0.7) cabinet(stage, spot, stage.between(1.1, 1.8));
    else crateStack(stage, spot, stage.between(0.8, 1.5));
  });
  side(2.6, [2, 3], (spot) => shelves(stage, spot, 1.5, stage.between(1.8, 2.4)));
  for (const [x, distance] of [
    [-1.6, 5.2],
    [1.3, 6],
    [-0.4, 7.4],
    [2.4, 7.8],
    [-3, 7.6],
  ] as const) {
    const spot: Spot = { x: (reach.x0 + reach.x1) / 2 + x, z: reach.z1 + distance, back: 'z' };
    if (stage.random() < 0.5) bicycleAt(stage, spot, floorY);
    else crateStack(stage, spot, stage.between(0.7, 1.5));
  }
}

/** Builds the hall. */
export function buildHall(stage: Stage, reach: CameraReach): void {
  const room = hallRoom(reach);
  const { floorY } = reach;
  backWall(stage, room, floorY, 0, 1.5, finish('glazedTiles', TINTS.cream, 0.86, 0.0012));
  backWall(stage, room, floorY, 1.5, HEIGHT_M, finish('plaster', TINTS.warmGrey, 0.95, 0.0026));
  for (const which of [-1, 1] as const) {
    sideWall(stage, room, floorY, which, 0, 1.5, finish('glazedTiles', TINTS.cream, 0.7, 0.0012));
    sideWall(stage, room, floorY, which, 1.5, HEIGHT_M, finish('brick', TINTS.warmGrey, 0.8, 0.0018));
  }
  hangCeiling(stage, room, floorY, finish('planks', TINTS.darkWood, 0.42, 0.003));
  const windowsX = windows(stage, room, floorY);
  structure(stage, room);
  if (reach.ahead) furnishAhead(stage, reach);
  else furnishAlong(stage, reach);
  layFloor(
    stage,
    room,
    floorY,
    finish('concrete', TINTS.warmGrey, 1, 0.0022),
    floorLight(room, stage.footprints, windowsX, 1.05),
  );
}
