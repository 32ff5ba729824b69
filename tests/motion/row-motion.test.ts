/** Motion within a frame: moves of a series in time, cubics of the row time, observations moved to mid-row time. */
import { describe, expect, it } from 'vitest';
import { gaussianRandom, rms, seededRandom } from '../../src/numerics/index.js';
import { prepareObservations } from '../../src/motion/observations.js';
import { moveToMidRow } from '../../src/motion/rolling-shutter/row-correction.js';
import { fastCubics, nearestCubics, withCubics } from '../../src/motion/rolling-shutter/row-cubics.js';
import { RATE_NUMBERS, rowEquations } from '../../src/motion/rolling-shutter/row-equations.js';
import {
  edgeShare,
  ROW_BANDS,
  ROW_NUMBERS,
  rowMotion,
  timeShifter,
} from '../../src/motion/rolling-shutter/row-motion.js';
import { fitRates, noRates } from '../../src/motion/rolling-shutter/row-rates.js';
import { linearise, makeLinearisation } from '../../src/motion/projection.js';
import { moveCentre, turn } from '../../src/motion/rotation-steps.js';
import { blankScene } from '../../src/motion/scene.js';
import { expectWithin } from '../support/expect-within.js';
import { randomScene, UNIT_CAMERA } from './support/random-scene.js';

const FPS = 30;

describe('timeShifter', () => {
  it('moves a vibration exactly, right up to where it fades out', () => {
    const n = 240;
    for (const freqHz of [2, 7, 12]) {
      const at = (t: number): number => Math.sin(2 * Math.PI * freqHz * t + 0.4);
      const series = Float64Array.from({ length: n }, (_, k) => at(k / FPS));
      const change = timeShifter(series)(0.3);
      const error = change.map((v, k) => v - (at((k + 0.3) / FPS) - at(k / FPS))).subarray(40, n - 40);
      expect(rms(error), `${freqHz} Hz`).toBeLessThan(0.01);
    }
  });

  it('moves a steady path by its speed', () => {
    const series = Float64Array.from({ length: 50 }, (_, k) => 3 + 0.2 * k);
    for (const value of timeShifter(series)(-0.4)) expectWithin(value, -0.08, { abs: 1e-12 });
  });

  it('gives no motion for series too short to have any', () => {
    expect(Array.from(timeShifter(Float64Array.of(1, 2))(0.5))).toEqual([0, 0]);
  });
});

describe('rowMotion', () => {
  const frameCount = 90;
  const scene = blankScene(frameCount, 0);
  const timeS = Float64Array.from({ length: frameCount }, (_, t) => t / FPS);
  for (let t = 0; t < frameCount; t++) {
    turn(scene.rotations, t, 0.01 * Math.sin(2 * Math.PI * 4 * timeS[t]), 0, 0);
    moveCentre(scene.rotations, scene.centres, t, 0.2 * timeS[t], 0, 0);
  }
  const all = Array.from(timeS.keys());

  it('is nothing at the middle row and follows the path at the upper and lower edge', () => {
    const motion = rowMotion(scene, all, timeS, 0.02);
    for (let t = 20; t < 70; t++) {
      const at = (edge: number, k: number): number => motion[ROW_NUMBERS * t + 6 * edge + k];
      for (let k = 0; k < 6; k++) expectWithin(at(ROW_BANDS / 2, k), 0, { abs: 1e-12 });
      const angle = (s: number): number => 0.01 * Math.sin(2 * Math.PI * 4 * s);
      const below = angle(timeS[t] + 0.01) - angle(timeS[t]);
      expectWithin(at(ROW_BANDS, 0), below, { abs: 2e-5, why: 'ends of the series ring a little' });
      expectWithin(at(0, 3), -0.002, { abs: 4e-5, why: 'the camera tilts by 0.01 rad on the way' });
    }
  });

  it('bridges frames without a pose and gives them none', () => {
    const used = all.filter((t) => t !== 40);
    const motion = rowMotion(scene, used, timeS, 0.02);
    const whole = rowMotion(scene, all, timeS, 0.02);
    expect(Array.from(motion.subarray(ROW_NUMBERS * 40, ROW_NUMBERS * 41)).every((v) => v === 0)).toBe(true);
    for (const t of [30, 39, 41, 50]) {
      const at = ROW_NUMBERS * t + 6 * ROW_BANDS;
      expectWithin(motion[at], whole[at], { abs: 5e-4, why: 'one frame bridged by a spline' });
    }
  });
});

describe('cubics', () => {
  it('are found again in the motion that they make', () => {
    const normal = gaussianRandom(seededRandom(3));
    const cubics = Float64Array.from({ length: 2 * RATE_NUMBERS }, () => normal());
    const back = nearestCubics(withCubics(new Float64Array(2 * ROW_NUMBERS), cubics));
    back.forEach((value, k) => expectWithin(value, cubics[k], { abs: 1e-12 }));
  });

  it('keep what changes from frame to frame and drop what stays', () => {
    const used = Array.from({ length: 120 }, (_, t) => t);
    const cubics = new Float64Array(120 * RATE_NUMBERS);
    for (const t of used) {
      cubics[RATE_NUMBERS * t] = 5;
      cubics[RATE_NUMBERS * t + 1] = Math.sin((2 * Math.PI * 6 * t) / FPS);
    }
    const fast = fastCubics(cubics, used, FPS, 0.8);
    for (const t of used.slice(20, 100)) {
      expectWithin(fast[RATE_NUMBERS * t], 0, { abs: 1e-9 });
      const allowed = { abs: 0.02, why: 'the ends of the sine ring in the smoother' };
      expectWithin(fast[RATE_NUMBERS * t + 1], cubics[RATE_NUMBERS * t + 1], allowed);
    }
  });
});

describe('moveToMidRow', () => {
  it('takes back exactly what the motion of the row did to each point', () => {
    const { obs, scene } = randomScene(4, 60, 0, 5);
    const motion = new Float64Array(4 * ROW_NUMBERS);
    const perEdge = [0.004, -0.003, 0.002, 0.02, 0.01, -0.015];
    for (let t = 0; t < 4; t++)
      for (let edge = 0; edge <= ROW_BANDS; edge++)
        for (let k = 0; k < 6; k++) motion[ROW_NUMBERS * t + 6 * edge + k] = 2 * edgeShare(edge) * perEdge[k];
    // Every point as seen from the pose of its own row.
    const seen = { x: obs.x.slice(), y: obs.y.slice() };
    for (let o = 0; o < obs.count; o++) {
      const u = 2 * Math.max(0, Math.min(1, obs.rowShare[o])) - 1;
      const moved = { ...scene, rotations: scene.rotations.slice(), centres: scene.centres.slice() };
      const d = perEdge.map((value) => u * value);
      moveCentre(moved.rotations, moved.centres, obs.frame[o], d[3], d[4], d[5]);
      turn(moved.rotations, obs.frame[o], d[0], d[1], d[2]);
      const lin = makeLinearisation(obs.count);
      linearise(obs, moved, lin);
      seen.x[o] = lin.projectedX[o];
      seen.y[o] = lin.projectedY[o];
    }
    const back = moveToMidRow({ ...obs, ...seen }, scene, motion);
    const allowed = { abs: 1e-6, why: 'turns to second order: 0.004 cubed' };
    for (let o = 0; o < obs.count; o++) {
      expectWithin(back.x[o], obs.x[o], allowed);
      expectWithin(back.y[o], obs.y[o], allowed);
    }
  });

  it('knows rows as they were measured, before lens distortion is taken out', () => {
    const table = {
      widthPx: 200,
      heightPx: 100,
      frameCount: 6,
      timeS: Float64Array.from({ length: 6 }, (_, t) => t),
      trackCount: 1,
      trackStart: Int32Array.of(0, 6),
      obsFrame: Int32Array.of(0, 1, 2, 3, 4, 5),
      xPx: new Float64Array(6).fill(150),
      yPx: Float64Array.of(-0.5, 24.5, 49.5, 74.5, 99.5, 49.5),
    };
    const camera = {
      ...UNIT_CAMERA,
      widthPx: 200,
      heightPx: 100,
      focalPx: 200,
      centreXPx: 99.5,
      centreYPx: 49.5,
      distortion: { k1: -0.1, k2: 0, p1: 0, p2: 0, k3: 0 },
    };
    const { rowShare } = prepareObservations(table, camera).observations;
    expect(Array.from(rowShare)).toEqual([0, 0.25, 0.5, 0.75, 1, 0.5]);
  });
});

describe('fitRates', () => {
  const FRAMES = 40;
  const SIGMA = 1e-4;
  /** Frames that turn while they are read: by `share` times a trend in tilt, and by knocks in a few. */
  function filmed(share: number, knocks: readonly number[]) {
    const { obs: flat, scene } = randomScene(FRAMES, 80, SIGMA, 11);
    const normal = gaussianRandom(seededRandom(12));
    // Rows spread evenly over the picture, which the unit camera of the scene does not do.
    const obs = { ...flat, rowShare: flat.y.map((y) => Math.max(0, Math.min(1, 0.5 + y / 1.5))) };
    const trend = new Float64Array(RATE_NUMBERS * FRAMES);
    const cubics = new Float64Array(RATE_NUMBERS * FRAMES);
    for (let t = 0; t < FRAMES; t++) {
      trend[RATE_NUMBERS * t] = 0.002 * normal();
      cubics[RATE_NUMBERS * t] = share * trend[RATE_NUMBERS * t] + (knocks.includes(t) ? 0.02 : 0);
    }
    const motion = withCubics(new Float64Array(ROW_NUMBERS * FRAMES), cubics);
    const turned = moveToMidRow(
      obs,
      scene,
      motion.map((v) => -v),
    );
    return { obs: turned, scene, trend, cubics };
  }
  const all = Array.from({ length: FRAMES }, (_, t) => t);

  it('finds the share of a trend in spite of knocks, within its own deviation', () => {
    const { obs, scene, trend } = filmed(0.7, [5, 17, 30]);
    const equations = rowEquations(obs, scene, SIGMA);
    const { trendShare, trendShareSd } = fitRates(equations, noRates(FRAMES), all, 40, trend);
    expect(trendShareSd).toBeLessThan(0.05);
    expectWithin(trendShare, 0.7, { abs: 4 * trendShareSd, why: 'four standard deviations' });
  });

  it('frees the knocked frames and leaves the others at rest', () => {
    const { obs, scene, cubics } = filmed(0, [5, 17, 30]);
    const { rates, ordinary } = fitRates(rowEquations(obs, scene, SIGMA), noRates(FRAMES), all, 40);
    for (const t of all) {
      const knocked = cubics[RATE_NUMBERS * t] !== 0;
      const allowed = {
        rel: 0.2,
        abs: 5e-4,
        why: 'first pass: the noise of a knocked frame still holds its knock',
      };
      expectWithin(rates[RATE_NUMBERS * t], cubics[RATE_NUMBERS * t], allowed);
      expect(ordinary[t] < 0.5, `frame ${t}`).toBe(knocked);
    }
  });
});
