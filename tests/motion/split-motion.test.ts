import { describe, expect, it } from 'vitest';
import { motionSection, splitMotion, type Motion } from '../../src/motion/index.js';
import { gaussianRandom, rms, seededRandom } from '../../src/numerics/index.js';
import { distort } from '../../src/optics/index.js';
import { AXES, TRANSLATIONAL_AXES } from '../../src/run/index.js';
import type { TrackTable } from '../../src/tracking/index.js';
import { expectWithin } from '../support/expect-within.js';
import { score } from './support/score.js';
import { simulatePass } from './support/simulated-tracks.js';

/** Few tracks over a short time: quick to solve, the same method. */
const SMALL = { durationS: 2.5, liveTracks: 150 } as const;
const PASS = simulatePass({ ...SMALL, seed: 4 });
const CLIP_S = 74 / 30;
const OPTIONS = { travelM: PASS.travelM, interCoded: false };
const MOTION = splitMotion(PASS.table, PASS.camera, OPTIONS);

/** The table with only the frames wanted, renumbered; time stamps kept. */
function withFrames(table: TrackTable, frames: readonly number[]): TrackTable {
  const place = new Map(frames.map((t, k) => [t, k]));
  const starts = [0];
  const kept: number[] = [];
  for (let i = 0; i < table.trackCount; i++) {
    for (let o = table.trackStart[i]; o < table.trackStart[i + 1]; o++)
      if (place.has(table.obsFrame[o])) kept.push(o);
    starts.push(kept.length);
  }
  return {
    ...table,
    frameCount: frames.length,
    timeS: Float64Array.from(frames, (t) => table.timeS[t]),
    trackStart: Int32Array.from(starts),
    obsFrame: Int32Array.from(kept, (o) => place.get(table.obsFrame[o]) ?? 0),
    xPx: Float64Array.from(kept, (o) => table.xPx[o]),
    yPx: Float64Array.from(kept, (o) => table.yPx[o]),
  };
}

/** The clip played backwards. */
function reversed(table: TrackTable): TrackTable {
  const xPx = table.xPx.slice();
  const yPx = table.yPx.slice();
  const obsFrame = table.obsFrame.map((t) => table.frameCount - 1 - t);
  for (let i = 0; i < table.trackCount; i++) {
    for (const column of [xPx, yPx, obsFrame])
      column.subarray(table.trackStart[i], table.trackStart[i + 1]).reverse();
  }
  return { ...table, xPx, yPx, obsFrame };
}

describe('splitMotion', () => {
  it('gives the same motion bit for bit when run again, and leaves its input alone', () => {
    const copy = structuredClone(PASS.table);
    const again = splitMotion(PASS.table, PASS.camera, OPTIONS);
    expect(again).toEqual(MOTION);
    expect(PASS.table).toEqual(copy);
  });

  it('finds the same vibration in a clip played backwards', () => {
    const back = splitMotion(reversed(PASS.table), PASS.camera, OPTIONS);
    for (const axis of AXES) {
      const there = MOTION.vibration[axis].subarray(MOTION.trimFrames, -MOTION.trimFrames);
      const again = back.vibration[axis].slice().reverse().subarray(MOTION.trimFrames, -MOTION.trimFrames);
      // Same observations, another start and another order: the optimum agrees to a fraction of the noise.
      const apart = rms(there.map((v, t) => v - again[t]));
      expect(apart / MOTION.axes[axis].floor, axis).toBeLessThan(0.35);
    }
  });

  it('gives path = intended + vibration on an even time base of the clip', () => {
    expect(MOTION.timeS.length).toBe(PASS.table.frameCount);
    expectWithin(MOTION.rateHz, 30, { rel: 1e-9 });
    expect(MOTION.resampleShiftS).toBe(0);
    expect(MOTION.trimFrames).toBe(15);
    for (const axis of AXES) {
      MOTION.path[axis].forEach((v, t) =>
        expectWithin(v, MOTION.intended[axis][t] + MOTION.vibration[axis][t], { abs: 1e-12 }, axis),
      );
    }
    const across = MOTION.intended.lateral;
    expectWithin(across[across.length - 1] - across[0], PASS.travelM, {
      rel: 0.02,
      why: 'the move goes to the right',
    });
  });

  it('raises the cut-off of a short clip so that three periods fit, and says so', () => {
    expectWithin(MOTION.bandHz[0], 3 / CLIP_S, { rel: 1e-9, why: '75 frames' });
    expect(MOTION.warnings.map((w) => w.code)).toContain('motion-cutoff-raised');
    const wide = splitMotion(PASS.table, PASS.camera, { ...OPTIONS, cutoffHz: 1.5 });
    expect(wide.bandHz).toEqual([1.5, MOTION.rateHz / 2]);
    expect(wide.warnings).toEqual([]);
  });

  it('measures in median scene depths when no travel is known, and in metres from the speed', () => {
    const free = splitMotion(PASS.table, PASS.camera, { interCoded: false });
    expect(free.translationUnit).toBe('medianDepth');
    expect(free.travelM).toBeNull();
    expectWithin(free.depth?.median ?? NaN, 1, { abs: 1e-9, why: 'the unit' });
    const depthM = MOTION.depth?.median ?? NaN;
    expectWithin((free.axes.vertical.rms ?? NaN) * depthM, MOTION.axes.vertical.rms ?? NaN, { rel: 1e-6 });
    expect(motionSection(free, { dominantHz: {} }).translational.unit).toBe('percentOfDepth');

    const speedMps = PASS.travelM / CLIP_S;
    const bySpeed = splitMotion(PASS.table, PASS.camera, { speedMps, interCoded: false });
    expectWithin(bySpeed.axes.lateral.rms ?? NaN, MOTION.axes.lateral.rms ?? NaN, {
      rel: 0.005,
      why: 'a pass that rolls throughout: way over time',
    });
    expectWithin(bySpeed.travelM ?? NaN, PASS.travelM, { rel: 0.005, why: 'as above' });
  });

  it('warns when the travel would put the scene absurdly far away', () => {
    const absurd = splitMotion(PASS.table, PASS.camera, { ...OPTIONS, travelM: 100 });
    expect(absurd.warnings.map((w) => w.code)).toContain('motion-scale-implausible');
  });

  it('raises floors, not figures, when frames were coded from one another or nobody knows', () => {
    for (const interCoded of [true, null, undefined]) {
      const coded = splitMotion(PASS.table, PASS.camera, { ...OPTIONS, interCoded });
      for (const axis of AXES) {
        expect(coded.axes[axis].floor).toBeGreaterThan(MOTION.axes[axis].floor);
        expect(coded.axes[axis].rms).toBe(MOTION.axes[axis].rms);
      }
    }
  });

  it('bridges dropped frames and rounded time stamps', () => {
    const { frameCount, timeS } = PASS.table;
    const frames = Array.from({ length: frameCount }, (_, t) => t).filter((t) => t % 29 !== 17);
    const table = withFrames({ ...PASS.table, timeS: timeS.map((s) => Math.round(s * 1000) / 1000) }, frames);
    const motion = splitMotion(table, PASS.camera, OPTIONS);
    expect(motion.timeS.length).toBe(frameCount);
    expectWithin(motion.rateHz, 30, { rel: 1e-4, why: 'stamps rounded to 1 ms' });
    expect(motion.tracksPerFrame.length).toBe(frames.length);
    for (const axis of ['pan', 'tilt', 'lateral'] as const) {
      const error = rms(
        motion.vibration[axis].subarray(15, -15).map((v, t) => v - MOTION.vibration[axis][15 + t]),
      );
      // Two of 45 frames are interpolated across a shake of up to 12 Hz.
      expect(error, axis).toBeLessThan(0.2 * MOTION.axes[axis].rawRms);
    }
  });

  it('drops frames that hold too few tracks and says so', () => {
    const dark = new Set([40, 41]);
    const { trackStart, obsFrame } = PASS.table;
    const thin = structuredClone(PASS.table);
    for (let i = 0; i < thin.trackCount; i++) {
      for (let o = trackStart[i]; o < trackStart[i + 1]; o++) {
        if (dark.has(obsFrame[o]) && i % 40 !== 0) thin.xPx[o] = NaN;
      }
    }
    const motion = splitMotion(thin, PASS.camera, OPTIONS);
    expect(motion.timeS.length).toBe(PASS.table.frameCount);
    const warning = motion.warnings.find((w) => w.code === 'motion-lost-frames');
    expectWithin(warning?.atS ?? NaN, PASS.table.timeS[40], { abs: 1e-9 });
    expectWithin(motion.axes.tilt.rms ?? NaN, MOTION.axes.tilt.rms ?? NaN, {
      rel: 0.03,
      why: 'two frames of sixty',
    });
  });

  it('starts later when the dolly stands still at first, and measures the standing frames too', () => {
    const pass = simulatePass({ restS: 1.5, durationS: 3.5, seed: 2 });
    const motion = splitMotion(pass.table, pass.camera, { travelM: pass.travelM, interCoded: false });
    expect(motion.mode).toBe('full');
    const scores = score(motion, pass);
    for (const axis of AXES) expect(scores[axis].errorOverFloor, axis).toBeLessThan(1.3);
  });

  it('removes lens distortion that the camera knows of', () => {
    const lens = { k1: -0.1, k2: 0, p1: 0, p2: 0, k3: 0 };
    const pass = simulatePass({ ...SMALL, focalMm: 28, seed: 6 });
    const { camera, table } = pass;
    const bent = structuredClone(table);
    for (let o = 0; o < bent.xPx.length; o++) {
      const seen = distort(
        lens,
        (table.xPx[o] - camera.centreXPx) / camera.focalPx,
        (table.yPx[o] - camera.centreYPx) / camera.focalPx,
      );
      bent.xPx[o] = camera.centreXPx + camera.focalPx * seen.x;
      bent.yPx[o] = camera.centreYPx + camera.focalPx * seen.y;
    }
    const options = { travelM: pass.travelM, interCoded: false };
    const straight = splitMotion(table, camera, options);
    const undone = splitMotion(bent, { ...camera, distortion: lens }, options);
    for (const axis of AXES) {
      const apart = rms(undone.vibration[axis].map((v, t) => v - straight.vibration[axis][t]));
      expect(apart / straight.axes[axis].floor, axis).toBeLessThan(0.02);
    }
  });

  it('reports progress up to the end', () => {
    const seen: number[] = [];
    splitMotion(PASS.table, PASS.camera, {
      ...OPTIONS,
      onProgress: (done, total) => seen.push(done / total),
    });
    expect(seen[seen.length - 1]).toBe(1);
    expect(seen.every((share, k) => k === 0 || share >= seen[k - 1])).toBe(true);
  });

  it('refuses options and tables that make no sense', () => {
    const run =
      (options: object, table: TrackTable = PASS.table) =>
      () =>
        splitMotion(table, PASS.camera, options);
    expect(run({ travelM: -1 })).toThrow(/travelM must be positive/);
    expect(run({ speedMps: 0 })).toThrow(RangeError);
    expect(run({ cutoffHz: NaN })).toThrow(/cutoffHz/);
    expect(run({ seed: Infinity })).toThrow(/seed/);
    expect(run({}, { ...PASS.table, trackCount: 3 })).toThrow(/track table/);
  });
});

describe('a camera that does not travel', () => {
  it('gives its angles to a few tenths of a millidegree and no translation', () => {
    const pass = simulatePass({ move: 'static', translationalMm: 0, durationS: 3, seed: 1 });
    const motion = splitMotion(pass.table, pass.camera, { travelM: 2, interCoded: false });
    expect(motion.mode).toBe('rotationOnly');
    expect(motion.parallaxP).toBeLessThan(2);
    expect(motion.observable).toBe('no');
    expect(motion.observableReason).toMatch(/did not travel/);
    expect([motion.translationUnit, motion.travelM, motion.depth]).toEqual(['medianDepth', null, null]);
    const scores = score(motion, pass);
    for (const axis of ['pan', 'tilt', 'roll'] as const) {
      const rel = axis === 'roll' ? 0.04 : 0.02;
      expectWithin(
        motion.axes[axis].rms ?? NaN,
        scores[axis].trueRms,
        { rel, why: 'shake of 10-80 floors' },
        axis,
      );
      expect(scores[axis].errorOverFloor).toBeLessThan(1.25);
    }
    for (const axis of TRANSLATIONAL_AXES) expect(motion.axes[axis].status).toBe('notObservable');
    expect(motion.angularShare.value).toBe(1);
    expect(motion.angularShare.ci95?.[0]).toBeGreaterThan(0.9);
  });

  it('is below the noise on all six axes when it is locked off', () => {
    const pass = simulatePass({ move: 'static', angularDeg: 0, translationalMm: 0, durationS: 3, seed: 3 });
    const motion = splitMotion(pass.table, pass.camera, { interCoded: false });
    for (const axis of AXES) expect(motion.axes[axis].status, axis).toBe('below');
    // Floors of 0.25 mdeg and 1.1 mdeg; translation in median depths is bounded by the same angles.
    expect(motion.axes.pan.below * (180 / Math.PI)).toBeLessThan(0.0005);
    expect(motion.axes.roll.below * (180 / Math.PI)).toBeLessThan(0.002);
    expect(motion.axes.lateral.below).toBe(motion.axes.pan.below);
    expect(motion.axes.axial.below).toBeLessThan(1e-4);
    expect(motion.angularShare.value).toBeNull();
  });

  it('is not said to have stood still when tracks are only too short to tell', () => {
    const pass = simulatePass({ meanLifeFrames: 0.5, speedMps: 0.01, durationS: 2.5, seed: 1 });
    const motion = splitMotion(pass.table, pass.camera, { travelM: pass.travelM, interCoded: false });
    expect([motion.mode, motion.observable]).toEqual(['rotationOnly', 'no']);
    expect(motion.observableReason).toMatch(/long enough/);
  });

  it('says that figures are rough when it crept along', () => {
    const pass = simulatePass({ speedMps: 0.005, durationS: 3, seed: 1 });
    const motion = splitMotion(pass.table, pass.camera, { travelM: pass.travelM, interCoded: false });
    expect(motion.observable).toBe('flagged');
    expect(motion.observableReason).toMatch(/rough/);
    const scores = score(motion, pass);
    for (const axis of AXES) expect(scores[axis].errorOverFloor, axis).toBeLessThan(1.4);
  });
});

describe('a clip that cannot be measured', () => {
  const expectUnmeasured = (motion: Motion): void => {
    for (const axis of AXES) expect(motion.axes[axis].status).toBe('notObservable');
    expect(motion.observable).toBe('no');
    expect(motion.observableReason).not.toBeNull();
    expect(motion.warnings.map((w) => w.code)).toContain('motion-unmeasured');
  };

  it('is said to hold too little: few frames, few tracks, none at all', () => {
    expectUnmeasured(splitMotion(withFrames(PASS.table, [0, 1, 2, 3, 4, 5, 6, 7]), PASS.camera, OPTIONS));
    const few = { ...PASS.table, trackCount: 9, trackStart: PASS.table.trackStart.slice(0, 10) };
    const count = few.trackStart[9];
    expectUnmeasured(
      splitMotion(
        {
          ...few,
          obsFrame: few.obsFrame.slice(0, count),
          xPx: few.xPx.slice(0, count),
          yPx: few.yPx.slice(0, count),
        },
        PASS.camera,
        OPTIONS,
      ),
    );
    const empty = withFrames(PASS.table, []);
    expectUnmeasured(splitMotion(empty, PASS.camera, OPTIONS));
  });

  it('is said to fit no camera path when every track goes its own way', () => {
    const normal = gaussianRandom(seededRandom(8));
    const wild = structuredClone(PASS.table);
    for (let i = 0; i < wild.trackCount; i++) {
      let x = 0;
      let y = 0;
      for (let o = wild.trackStart[i]; o < wild.trackStart[i + 1]; o++) {
        x += 3 * normal();
        y += 3 * normal();
        wild.xPx[o] += x;
        wild.yPx[o] += y;
      }
    }
    expectUnmeasured(splitMotion(wild, PASS.camera, OPTIONS));
  });
});
