/** A wide lens that bends lines and that nobody described: what is found of it in simulated passes, and what is not made up. */
import { describe, expect, it } from 'vitest';
import { splitMotion, type Motion } from '../../src/motion/index.js';
import { unbend, possibleK1, radialLens } from '../../src/motion/distortion/unbend.js';
import { prepareObservations } from '../../src/motion/observations.js';
import { distort, undistort } from '../../src/optics/index.js';
import type { Axis } from '../../src/run/index.js';
import { expectWithin } from '../support/expect-within.js';
import { score } from './support/score.js';
import { simulatePass, type PassOptions, type SimulatedPass } from './support/simulated-tracks.js';

/** A pass of which nothing is known but focal length and travel. */
function measured(options: Partial<PassOptions>): { pass: SimulatedPass; motion: Motion } {
  const pass = simulatePass({ durationS: 4, ...options });
  const travelM = pass.travelM > 0 ? pass.travelM : undefined;
  return { pass, motion: splitMotion(pass.table, pass.camera, { travelM, interCoded: false, readoutS: 0 }) };
}

function shareOfTruth({ pass, motion }: { pass: SimulatedPass; motion: Motion }, axis: Axis): number {
  return motion.axes[axis].rms! / score(motion, pass)[axis].trueRms;
}

const codes = (motion: Motion): string[] => motion.warnings.map(({ code }) => code);

describe('a lens that bends lines, told by nobody', { timeout: 60_000 }, () => {
  it.each([
    { focalMm: 18, lensK1: -0.05, move: 'lateral', seed: 31 },
    { focalMm: 24, lensK1: -0.1, move: 'arc', seed: 32 },
    { focalMm: 28, lensK1: -0.1, move: 'push', seed: 33 },
    { focalMm: 35, lensK1: -0.2, move: 'lateral', seed: 34 },
  ] as const)('is found within its interval: $focalMm mm, k1 $lensK1, $move', (options) => {
    const one = measured(options);
    const { distortion } = one.motion;
    expect(distortion.source).toBe('found');
    expect(distortion.state).toBe('corrected');
    expect(options.lensK1).toBeGreaterThan(distortion.ci95![0]);
    expect(options.lensK1).toBeLessThan(distortion.ci95![1]);
    expect(distortion.ci95![1] - distortion.ci95![0]).toBeLessThan(0.03);
    const promised = { abs: 0.03, why: 'three per cent, as with a calibrated lens' };
    expectWithin(shareOfTruth(one, 'pan'), 1, promised, 'pan');
    expectWithin(shareOfTruth(one, 'tilt'), 1, promised, 'tilt');
    expectWithin(shareOfTruth(one, 'lateral'), 1, { abs: 0.1, why: 'noise at 0.12 mm RMS' }, 'lateral');
    expect(codes(one.motion)).toContain('motion-distortion-found');
    expect(one.motion.camera.distortion).toEqual(radialLens(distortion.k1!));
    expect(one.pass.camera.distortion).toBeNull();
  });

  it('is told from a sensor that is read row by row', () => {
    const pass = simulatePass({
      durationS: 4,
      focalMm: 24,
      lensK1: -0.1,
      readoutMs: 15,
      angularDeg: 0.05,
      translationalMm: 0.5,
      seed: 35,
    });
    const motion = splitMotion(pass.table, pass.camera, { travelM: pass.travelM, interCoded: false });
    expect(motion.distortion.source).toBe('found');
    expectWithin(motion.distortion.k1!, -0.1, { abs: 0.005, why: 'its interval' }, 'k1');
    expectWithin(
      motion.readout.readoutS!,
      0.015,
      { abs: 0.001, why: 'as on a lens that bends nothing' },
      'readout',
    );
    expectWithin(shareOfTruth({ pass, motion }, 'pan'), 1, { abs: 0.02, why: 'as without either' }, 'pan');
  });

  it('does not make a camera travel that only pans on a stand', () => {
    const panning = { move: 'static', focalMm: 28, panRateDegPerS: 4, translationalMm: 0 } as const;
    const { motion } = measured({ ...panning, lensK1: -0.1, angularDeg: 0.05, seed: 36 });
    expect(motion.distortion.source).toBe('found');
    expectWithin(motion.distortion.k1!, -0.1, { abs: 0.008, why: 'its interval' }, 'k1');
    expect(motion.mode).toBe('rotationOnly');
    expect(motion.axes.lateral.status).toBe('notObservable');
  });
});

describe('a wide lens that bends nothing', { timeout: 60_000 }, () => {
  it.each([
    { focalMm: 24, move: 'lateral', seed: 41 },
    { focalMm: 28, move: 'push', seed: 42 },
    { focalMm: 28, move: 'static', seed: 43 },
    { focalMm: 28, move: 'lateral', scene: 'wall', seed: 44 },
  ] as const)('is not said to bend anything: $move at $focalMm mm', (options) => {
    const { motion } = measured(options);
    const { source, k1, ci95 } = motion.distortion;
    expect(source).toBe('none');
    expect(k1).toBeNull();
    expect(ci95![0]).toBeLessThan(0);
    expect(ci95![1]).toBeGreaterThan(0);
    expect(codes(motion)).not.toContain('motion-distortion-found');
    expect(motion.camera.distortion).toBeNull();
  });

  it('tells nothing on a camera that stands dead still, and nobody is alarmed', () => {
    const pass = simulatePass({ durationS: 2, focalMm: 28, move: 'static', subjectShare: 0, seed: 48 });
    const still = structuredClone(pass.table);
    for (let i = 0; i < still.trackCount; i++) {
      const first = still.trackStart[i];
      still.xPx.fill(still.xPx[first], first, still.trackStart[i + 1]);
      still.yPx.fill(still.yPx[first], first, still.trackStart[i + 1]);
    }
    const motion = splitMotion(still, pass.camera, { readoutS: 0 });
    expect(motion.mode).toBe('rotationOnly');
    expect(motion.axes.pan.status).toBe('below');
    expect(motion.distortion.source).toBe('none');
    expect(codes(motion).filter((code) => code.startsWith('motion-distortion'))).toEqual([]);
  });

  it('is not said to bend anything when its focal length is a twentieth too short', () => {
    const pass = simulatePass({ durationS: 4, focalMm: 28, move: 'arc', seed: 45 });
    const camera = { ...pass.camera, focalPx: 0.95 * pass.camera.focalPx };
    const motion = splitMotion(pass.table, camera, { travelM: pass.travelM, readoutS: 0 });
    expect(motion.distortion.source).toBe('none');
  });

  it('is taken at the word of a rig that says so, and a long lens is not looked at', () => {
    const wide = simulatePass({ durationS: 2, focalMm: 24, lensK1: -0.1, seed: 46 });
    const told = splitMotion(wide.table, wide.camera, { readoutS: 0, distortionGiven: true });
    expect(told.distortion).toMatchObject({ source: 'given', k1: 0, ci95: null, state: 'notNeeded' });
    const long = simulatePass({ durationS: 2, focalMm: 85, seed: 46 });
    const { distortion } = splitMotion(long.table, long.camera, { readoutS: 0 });
    expect(distortion).toMatchObject({ source: 'none', k1: null, ci95: null, state: 'notNeeded' });
  });
});

describe('points freed of the bending of a lens', () => {
  const pass = simulatePass({ durationS: 1, focalMm: 24, seed: 47 });

  it('are seen where they were when the lens bends them again', () => {
    const { observations: seen } = prepareObservations(pass.table, pass.camera);
    const ideal = unbend(seen, -0.1);
    let worst = 0;
    for (let o = 0; o < seen.count; o++) {
      const again = distort(radialLens(-0.1), ideal.x[o], ideal.y[o]);
      worst = Math.max(worst, Math.hypot(again.x - seen.x[o], again.y - seen.y[o]));
    }
    expect(worst).toBeLessThan(1e-9);
    expect(unbend(seen, 0)).toBe(seen);
  });

  it.each([-0.35, -0.2, -0.05, 1e-6, 0.1, 2])(
    'finds the points that the lens model gives, at k1 = %d',
    (k1) => {
      // Up to where the model folds and beyond, in all directions.
      const radii = Array.from({ length: 120 }, (_, i) => 0.01 * i);
      const x = Float64Array.from(radii, (r, i) => r * Math.cos(i));
      const y = Float64Array.from(radii, (r, i) => r * Math.sin(i));
      const { observations } = prepareObservations(pass.table, pass.camera);
      const ideal = unbend({ ...observations, x, y, count: radii.length }, k1);
      for (let o = 0; o < radii.length; o++) {
        const expected = undistort(radialLens(k1), x[o], y[o]);
        expectWithin(ideal.x[o], expected.x, { abs: 1e-11, why: 'the general inverse' }, `x at ${radii[o]}`);
        expectWithin(ideal.y[o], expected.y, { abs: 1e-11, why: 'the general inverse' }, `y at ${radii[o]}`);
      }
    },
  );

  it('are never looked for beyond the k1 that folds the picture', () => {
    const { camera } = simulatePass({ durationS: 1, focalMm: 24 });
    const [lowest, highest] = possibleK1(camera);
    // The radial part r (1 + k1 r^2) tops out at 2/3 r where r^2 = -1 / (3 k1).
    const top = (2 / 3) * Math.sqrt(-1 / (3 * lowest));
    expect(top).toBeGreaterThan(Math.hypot(960, 540) / 2 / camera.focalPx);
    expect(highest).toBeGreaterThan(0);
    expect(possibleK1({ ...camera, focalPx: 3 * camera.focalPx })[0]).toBeCloseTo(-0.35, 9);
  });
});
