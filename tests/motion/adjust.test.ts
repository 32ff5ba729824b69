import { describe, expect, it } from 'vitest';
import { adjust, type AdjustReport } from '../../src/motion/adjust.js';
import { prepareObservations, windowOf, type Observations } from '../../src/motion/observations.js';
import { linearise, makeLinearisation } from '../../src/motion/projection.js';
import { clipParallax } from '../../src/motion/piece.js';
import { copyOfScene, type Scene } from '../../src/motion/scene.js';
import { startStretch } from '../../src/motion/start.js';
import { rms } from '../../src/numerics/index.js';
import { simulatePass } from './support/simulated-tracks.js';

/** A started stretch of a pass, its poses pushed off by a few sigmas. */
function pushedOff(seed: number): { obs: Observations; scene: Scene; sigmaStart: number } {
  const pass = simulatePass({ durationS: 3, fps: 25, liveTracks: 100, seed });
  const { observations } = prepareObservations(pass.table, pass.camera);
  const clip = { rateHz: 25, timeS: pass.table.timeS, unitPerPx: 1 / pass.camera.focalPx };
  const sigmaStart = 0.1 * clip.unitPerPx;
  const { first, last, scene } = startStretch(
    observations,
    clipParallax(observations, clip)[0],
    sigmaStart,
    1,
  );
  const { observations: obs } = windowOf(observations, first, last + 1, 4);
  for (let k = 0; k < scene.centres.length; k++) scene.centres[k] += 5 * sigmaStart * Math.sin(k);
  return { obs, scene, sigmaStart };
}

function settled(
  { obs, scene, sigmaStart }: ReturnType<typeof pushedOff>,
  stillSigmas?: number,
): { scene: Scene; report: AdjustReport } {
  const copy = copyOfScene(scene);
  const report = adjust(obs, copy, {
    sigmaStart,
    iterations: 30,
    pcgIterations: 200,
    kernel: 'gemanMcClure',
    trackWeightsFrom: 4,
    ...(stillSigmas !== undefined && { stillSigmas }),
  });
  return { scene: copy, report };
}

describe('an adjustment', () => {
  it('that ends once a step is small leaves the points where many more iterations do, to that share of the noise', () => {
    const start = pushedOff(3);
    const all = settled(start);
    const few = settled(start, 0.01);
    expect(all.report.iterations).toBe(30);
    expect(few.report.iterations).toBeLessThan(12);
    const [a, b] = [all, few].map(({ scene }) => {
      const lin = makeLinearisation(start.obs.count);
      linearise(start.obs, scene, lin);
      return lin;
    });
    const trusted = Array.from(start.obs.track.keys()).filter(
      (o) => all.scene.trackWeights[start.obs.track[o]] > 0,
    );
    const apart = rms(trusted.map((o) => a.residualX[o] - b.residualX[o]));
    expect(apart).toBeLessThan(0.01 * all.report.sigma);
    expect(trusted.length).toBeGreaterThan(500);
  });

  it('renews the weights of tracks before it ends, however small its steps', () => {
    const start = pushedOff(4);
    const { scene, report } = settled(start, Infinity);
    // The first step is small enough; the second renews the weights.
    expect(report.iterations).toBe(2);
    expect(scene.trackWeights).not.toEqual(start.scene.trackWeights);
  });

  it('gives the same to the last bit after one of another size', () => {
    const [large, small] = [pushedOff(5), pushedOff(6)];
    const before = settled(small);
    settled(large);
    settled({ ...large, scene: pushedOff(5).scene });
    const after = settled(small);
    expect(after.scene.rotations).toEqual(before.scene.rotations);
    expect(after.scene.points).toEqual(before.scene.points);
    expect(large.obs.count).not.toBe(small.obs.count);
  });
});
