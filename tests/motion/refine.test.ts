import { describe, expect, it } from 'vitest';
import { adjust } from '../../src/motion/adjust.js';
import { frameCovariances } from '../../src/motion/covariance.js';
import { meanAxisCovariance } from '../../src/motion/axis-noise.js';
import { passedShare } from '../../src/motion/estimate.js';
import { extendToClip } from '../../src/motion/extend.js';
import { prepareObservations } from '../../src/motion/observations.js';
import { clipParallax } from '../../src/motion/piece.js';
import { refineScene } from '../../src/motion/refine.js';
import { poseSeries, vibrationOf } from '../../src/motion/series.js';
import { startStretch } from '../../src/motion/start.js';
import { rms } from '../../src/numerics/index.js';
import { AXES, type SixAxes } from '../../src/run/index.js';
import { simulatePass } from './support/simulated-tracks.js';

describe('the final adjustment', () => {
  it('ends by itself, where many more and longer steps would not move any series by a fifth of its floor', () => {
    // Depths within a metre: pan and lateral trade places easily, and solves converge slowly.
    const pass = simulatePass({
      scene: [3.4, 4.4],
      durationS: 3,
      fps: 25,
      liveTracks: 120,
      subjectShare: 0.2,
      seed: 2,
    });
    const { observations: obs } = prepareObservations(pass.table, pass.camera);
    const clip = { rateHz: 25, timeS: pass.table.timeS, unitPerPx: 1 / pass.camera.focalPx };
    const sigmaStart = 0.1 * clip.unitPerPx;
    const start = startStretch(obs, clipParallax(obs, clip)[0], sigmaStart, 1);
    const { scene } = extendToClip(obs, start, { sigmaStart, hopFrames: 15, windowFrames: 45 });
    const cutoffHz = 1;
    const report = refineScene(obs, scene, pass.camera, { sigmaStart, rateHz: 25, cutoffHz }, () => {});
    // Fewer than the limit of 20.
    expect(report.iterations).toBeLessThan(15);

    const vibration = (): SixAxes =>
      vibrationOf(poseSeries(scene.rotations, scene.centres), 25, cutoffHz).vibration;
    const { white, coherent } = frameCovariances(obs, scene, pass.camera, false, 0.05 * sigmaStart);
    const frames = Array.from({ length: obs.frameCount }, (_, t) => t);
    const { plain } = meanAxisCovariance(white, coherent, frames, 0, 1);
    const before = vibration();
    adjust(obs, scene, {
      sigmaStart,
      iterations: 15,
      pcgIterations: 300,
      kernel: 'gemanMcClure',
      trackWeightsFrom: 1,
    });
    const after = vibration();
    AXES.forEach((axis, a) => {
      const floor = Math.sqrt(passedShare(25, cutoffHz) * plain[7 * a]);
      const moved = rms(after[axis].map((v, t) => v - before[axis][t]));
      expect(moved / floor, axis).toBeLessThan(0.2);
    });
  });
});
