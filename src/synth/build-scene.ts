/** Builds the scene of a pass around the camera's way, the same for the same options. */
import { seededRandom } from '../numerics/index.js';
import type { CameraPath } from './camera-path.js';
import type { SynthOptions } from './options.js';
import { finish } from './props.js';
import { buildCorridor } from './scene-corridor.js';
import { buildHall } from './scene-hall.js';
import { buildLoft } from './scene-loft.js';
import type { CameraReach } from './scene-shell.js';
import { createStage, TINTS, type Stage } from './stage.js';
import { addSubject } from './subject.js';
import type { Scene } from './surface.js';

/** Distance of the measuring wall. */
export const MEASURING_WALL_M = 3;
/** Things stand behind the rail. */
const RAIL_CLEARANCE_M = 1.2;

function reachOf(options: SynthOptions, path: CameraPath): CameraReach {
  const { timesS } = path;
  const step = Math.max(1, Math.floor(timesS.length / 50));
  const places = Array.from(timesS)
    .filter((_, i) => i % step === 0 || i === timesS.length - 1)
    .map((t) => path.intendedAt(t));
  const xs = places.map((p) => p[0]);
  const zs = places.map((p) => p[2]);
  const nearestM = options.subjectDistanceM === null ? 0 : options.subjectDistanceM + 0.3;
  const [x0, x1] = [Math.min(...xs), Math.max(...xs)];
  const [z0, z1] = [Math.min(...zs), Math.max(...zs)];
  return { x0, x1, z0, z1, floorY: options.cameraHeightM, ahead: z1 - z0 > x1 - x0, nearestM };
}

/** A rail beside the camera's way, on short supports. */
function layRail(stage: Stage, reach: CameraReach): void {
  const look = finish('aluminium', TINTS.coolGrey, 1, 0.0006);
  const height = reach.floorY - 0.19;
  const from = reach.x0 - 2.5;
  const to = reach.x1 + 2.5;
  for (let x = from + 0.3; x < to; x += 0.9) {
    stage.box(
      { x, z: reach.z1 + 0.93, back: 'z' },
      { right: [-0.05, 0.05], height: [0, height - 0.045], back: [0, 0.06] },
      finish('steel', TINTS.ochre, 0.9, 0.0006),
    );
  }
  stage.box(
    { x: 0, z: reach.z1 + 0.9, back: 'z' },
    { right: [from, to], height: [height - 0.045, height], back: [-0.02, 0.08] },
    look,
  );
}

function measuringWall(stage: Stage, reach: CameraReach): void {
  const left = reach.x0 - 6;
  stage.panel(
    {
      origin: [left, -4, reach.z1 + MEASURING_WALL_M],
      along: [reach.x1 - reach.x0 + 12, 0, 0],
      down: [0, 8, 0],
    },
    finish('speckle', TINTS.grey, 1, 0.0022),
  );
}

/** Builds the scene that `options` ask for, around the way of `path`. */
export function buildScene(options: SynthOptions, path: CameraPath): Scene {
  const stage = createStage(options.cameraHeightM, seededRandom(options.seed * 977 + 3));
  const way = reachOf(options, path);
  const rail = options.scene === 'aluminium-rail' && !way.ahead;
  // The rail lies where crates would stand in front of it.
  const reach: CameraReach = rail ? { ...way, nearestM: Math.max(way.nearestM, RAIL_CLEARANCE_M) } : way;
  if (options.scene === 'measuring-wall') measuringWall(stage, reach);
  else if (options.scene === 'tiled-corridor') buildCorridor(stage, reach);
  else if (options.scene === 'plywood-loft') buildLoft(stage, reach);
  else buildHall(stage, reach);
  if (rail) layRail(stage, reach);
  if (options.subjectDistanceM !== null)
    addSubject(stage, path, options.subjectDistanceM, options.cameraHeightM);
  return stage.scene;
}
