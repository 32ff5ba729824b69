/** A small random scene with observations, for testing the algebra of the adjustment against slow plain versions. */
import { gaussianRandom, seededRandom } from '../../../src/numerics/index.js';
import { makeLinearisation, linearise } from '../../../src/motion/projection.js';
import { prepareObservations, type Observations } from '../../../src/motion/observations.js';
import { moveCentre, turn } from '../../../src/motion/rotation-steps.js';
import { blankScene, placeTrack, type Scene } from '../../../src/motion/scene.js';

export const UNIT_CAMERA = {
  widthPx: 2,
  heightPx: 2,
  focalPx: 1,
  centreXPx: 0,
  centreYPx: 0,
  distortion: null,
} as const;

/** Every track is seen in every frame; observations are the projections plus noise of `noise` normalised units. */
export function randomScene(
  frameCount: number,
  trackCount: number,
  noise: number,
  seed: number,
): { obs: Observations; scene: Scene } {
  const normal = gaussianRandom(seededRandom(seed));
  const scene = blankScene(frameCount, trackCount);
  for (let t = 0; t < frameCount; t++) {
    turn(scene.rotations, t, 0.05 * normal(), 0.05 * normal(), 0.05 * normal());
    moveCentre(
      scene.rotations,
      scene.centres,
      t,
      0.2 * t + 0.05 * normal(),
      0.05 * normal(),
      0.05 * normal(),
    );
  }
  for (let i = 0; i < trackCount; i++) {
    placeTrack(scene, i, i % frameCount, 0.3 * normal(), 0.3 * normal(), 0.3 + 0.5 * Math.abs(normal()));
  }
  const count = frameCount * trackCount;
  const table = {
    widthPx: 2,
    heightPx: 2,
    frameCount,
    timeS: Float64Array.from({ length: frameCount }, (_, t) => t),
    trackCount,
    trackStart: Int32Array.from({ length: trackCount + 1 }, (_, i) => i * frameCount),
    obsFrame: Int32Array.from({ length: count }, (_, o) => o % frameCount),
    xPx: new Float64Array(count),
    yPx: new Float64Array(count),
  };
  const lin = makeLinearisation(count);
  linearise(prepareObservations(table, UNIT_CAMERA).observations, scene, lin);
  table.xPx.set(lin.projectedX.map((x) => x + noise * normal()));
  table.yPx.set(lin.projectedY.map((y) => y + noise * normal()));
  return { obs: prepareObservations(table, UNIT_CAMERA).observations, scene };
}
