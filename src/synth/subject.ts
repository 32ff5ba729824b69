/** A figure in patterned overalls and a hood, seen from behind, that walks beside (or ahead of) the camera for the whole clip. */
import type { CameraPath } from './camera-path.js';
import { TINTS, type Stage } from './stage.js';
import type { Placement, Vec3 } from './surface.js';

/** Steps per second, up-and-down of a step, and slow swaying: what walking looks like. */
const STEP_HZ = 1.9;
const BOB_M = 0.03;
const SWAY_M = 0.12;
const SWAY_HZ = 0.16;
const SWING_RAD = 0.32;
const HIP_M = 0.95;

/** Adds the figure. @param distanceM ahead of the lens */
export function addSubject(stage: Stage, path: CameraPath, distanceM: number, floorY: number): void {
  const phase = 2 * Math.PI * stage.random();

  /** Point on the floor below the figure, and the direction to its right. */
  function standing(timeS: number): { x: number; z: number; lift: number; right: Vec3 } {
    const [x, , z] = path.intendedAt(timeS);
    const pan = path.intendedPanAt(timeS);
    const sway = SWAY_M * Math.sin(2 * Math.PI * SWAY_HZ * timeS + phase);
    return {
      x: x + distanceM * Math.sin(pan) + sway * Math.cos(pan),
      z: z + distanceM * Math.cos(pan) - sway * Math.sin(pan),
      lift: BOB_M * Math.abs(Math.sin(Math.PI * STEP_HZ * timeS + phase)),
      right: [Math.cos(pan), 0, -Math.sin(pan)],
    };
  }

  /** A part `width` x `height` metres that hangs by the middle of its top and leans by `lean` radians. */
  function part(width: number, height: number, aside: number, top: number, lean: (timeS: number) => number) {
    return (timeS: number): Placement => {
      const at = standing(timeS);
      const angle = lean(timeS);
      const c = Math.cos(angle);
      const s = Math.sin(angle);
      const place = (right: number, down: number): Vec3 => [
        at.x + at.right[0] * right,
        floorY - top - at.lift + down,
        at.z + at.right[2] * right,
      ];
      return {
        origin: place(aside - (width / 2) * c, -(width / 2) * s),
        along: [width * c * at.right[0], width * s, width * c * at.right[2]],
        down: [-height * s * at.right[0], height * c, -height * s * at.right[2]],
      };
    };
  }

  const swing = (sign: number) => (timeS: number) =>
    sign * SWING_RAD * Math.sin(Math.PI * STEP_HZ * timeS + phase);
  const lean = (timeS: number): number => 0.02 * Math.sin(Math.PI * STEP_HZ * timeS + phase);
  for (const side of [-1, 1]) {
    const placeAt = part(0.34, HIP_M + 0.02, side * 0.13, HIP_M, swing(side));
    stage.cutout(placeAt(0), 'leg', 0.9, TINTS.blue, placeAt);
  }
  const placeAt = part(0.86, 1.02, 0, HIP_M + 0.92, lean);
  stage.cutout(placeAt(0), 'trunk', 1, TINTS.blue, placeAt);
}
