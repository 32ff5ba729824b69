import { describe, it } from 'vitest';
import { frameJacobian, linearise, makeLinearisation } from '../../src/motion/projection.js';
import { moveCentre, turn } from '../../src/motion/rotation-steps.js';
import type { Scene } from '../../src/motion/scene.js';
import { expectWithin } from '../support/expect-within.js';
import { randomScene } from './support/random-scene.js';

const STEP = 1e-6;
const DIFFERENCING = { abs: 1e-8, why: 'central differences of step 1e-6 on a smooth function of size 1' };

function projected(obs: Parameters<typeof linearise>[0], scene: Scene, o: number): [number, number] {
  const lin = makeLinearisation(obs.count);
  linearise(obs, scene, lin);
  return [lin.projectedX[o], lin.projectedY[o]];
}

describe('the projection model', () => {
  const { obs, scene } = randomScene(7, 9, 0, 5);
  const lin = makeLinearisation(obs.count);
  linearise(obs, scene, lin);

  it('leaves no residual where the observations are its own projections', () => {
    for (let o = 0; o < obs.count; o++) {
      expectWithin(lin.residualX[o], 0, { abs: 1e-14, why: 'double rounding' });
      expectWithin(lin.residualY[o], 0, { abs: 1e-14, why: 'double rounding' });
    }
  });

  it('moves a point by J_frame when the camera turns or moves along its own axes', () => {
    const rowX = new Float64Array(6);
    const rowY = new Float64Array(6);
    for (const o of [3, 17, 40, 61]) {
      frameJacobian(lin.projectedX[o], lin.projectedY[o], lin.inverseDepth[o], rowX, rowY);
      for (let u = 0; u < 6; u++) {
        const nudge = (size: number): Scene => {
          const moved = structuredClone(scene);
          const d = [0, 0, 0, 0, 0, 0];
          d[u] = size;
          moveCentre(moved.rotations, moved.centres, obs.frame[o], d[3], d[4], d[5]);
          turn(moved.rotations, obs.frame[o], d[0], d[1], d[2]);
          return moved;
        };
        const [x1, y1] = projected(obs, nudge(STEP), o);
        const [x0, y0] = projected(obs, nudge(-STEP), o);
        expectWithin(rowX[u], (x1 - x0) / (2 * STEP), DIFFERENCING, `x by unknown ${u}`);
        expectWithin(rowY[u], (y1 - y0) / (2 * STEP), DIFFERENCING, `y by unknown ${u}`);
      }
    }
  });

  it('moves a point by J_track when the bearing or the inverse depth of its track changes', () => {
    for (const o of [1, 20, 44]) {
      for (let u = 0; u < 3; u++) {
        const nudge = (size: number): Scene => {
          const moved = structuredClone(scene);
          moved.points[3 * obs.track[o] + u] += size;
          return moved;
        };
        const [x1, y1] = projected(obs, nudge(STEP), o);
        const [x0, y0] = projected(obs, nudge(-STEP), o);
        expectWithin(lin.trackJacobian[6 * o + u], (x1 - x0) / (2 * STEP), DIFFERENCING, `x by ${u}`);
        expectWithin(lin.trackJacobian[6 * o + 3 + u], (y1 - y0) / (2 * STEP), DIFFERENCING, `y by ${u}`);
      }
    }
  });
});
