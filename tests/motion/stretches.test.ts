/** Clips too long to be held at once: split stretch by stretch against the split of the whole. */
import { describe, expect, it } from 'vitest';
import { splitMotion, StretchSplitter, type Motion } from '../../src/motion/index.js';
import { rms } from '../../src/numerics/index.js';
import { AXES } from '../../src/run/index.js';
import type { TrackTable } from '../../src/tracking/index.js';
import { expectWithin } from '../support/expect-within.js';
import { simulatePass, type PassOptions, type SimulatedPass } from './support/simulated-tracks.js';

const FPS = 25;
const KNOWN = { speedMps: 0.2, distortionGiven: true, readoutS: 0, cutoffHz: 0.8 } as const;
const TOLD = { trackNoisePx: 0.08, interCoded: false } as const;

function film(options: Partial<PassOptions> = {}): SimulatedPass {
  return simulatePass({ fps: FPS, durationS: 18, liveTracks: 70, meanLifeFrames: 40, seed: 3, ...options });
}

/** The tracks as they would be had only the frames from..to-1 been followed. */
function partOf(table: TrackTable, from: number, to: number): TrackTable {
  const starts = [0];
  const kept: number[] = [];
  for (let i = 0; i < table.trackCount; i++) {
    for (let o = table.trackStart[i]; o < table.trackStart[i + 1]; o++)
      if (table.obsFrame[o] >= from && table.obsFrame[o] < to) kept.push(o);
    if (kept.length > starts[starts.length - 1]) starts.push(kept.length);
  }
  return {
    ...table,
    frameCount: to - from,
    timeS: table.timeS.slice(from, to),
    trackCount: starts.length - 1,
    trackStart: Int32Array.from(starts),
    obsFrame: Int32Array.from(kept, (o) => table.obsFrame[o] - from),
    xPx: Float64Array.from(kept, (o) => table.xPx[o]),
    yPx: Float64Array.from(kept, (o) => table.yPx[o]),
  };
}

function inStretches(
  { table, camera }: SimulatedPass,
  ranges: readonly (readonly [number, number])[],
): Motion {
  const splitter = new StretchSplitter(camera, KNOWN);
  for (const [from, to] of ranges) splitter.take(splitter.solve(partOf(table, from, to), TOLD));
  return splitter.finish(false);
}

const THREE = [
  [0, 200],
  [140, 330],
  [270, 450],
] as const;

describe('a clip in stretches', () => {
  it('has the vibration of the clip as a whole, on all axes, on the same samples', () => {
    const pass = film();
    const whole = splitMotion(pass.table, pass.camera, { ...KNOWN, ...TOLD });
    const joined = inStretches(pass, THREE);
    expect(joined.mode).toBe('full');
    expect(joined.translationUnit).toBe('m');
    expect(joined.warnings).toEqual([]);
    expect(joined.timeS).toEqual(whole.timeS);
    expect(joined.tracksPerFrame.length).toBe(450);
    for (const axis of AXES) {
      const inner = (motion: Motion): Float64Array =>
        motion.vibration[axis].subarray(motion.trimFrames, 450 - motion.trimFrames);
      const was = inner(whole);
      const off = inner(joined).map((value, t) => value - was[t]);
      // Two floors: each of the two answers has its own noise, and at the ends of a stretch poses are weaker.
      expect(rms(off)).toBeLessThan(2 * whole.axes[axis].floor);
      expect(rms(off)).toBeLessThan(0.25 * rms(was));
      expectWithin(joined.axes[axis].rms ?? NaN, whole.axes[axis].rms ?? NaN, {
        abs: 0.06 * (whole.axes[axis].rms ?? NaN),
        why: 'three stretches of seven seconds against one clip of eighteen',
      });
    }
  });

  it('keeps one scale through all stretches, whatever unit each was solved in', () => {
    const pass = film({ unevenness: 0 });
    const { path, rateHz } = inStretches(pass, THREE);
    const speed = (from: number, to: number): number =>
      ((path.lateral[to] - path.lateral[from]) * rateHz) / (to - from);
    for (const [from, to] of [
      [20, 130],
      [160, 260],
      [320, 430],
    ] as const)
      expectWithin(Math.abs(speed(from, to)), 0.2, {
        abs: 0.006,
        why: 'even speed over each stretch by itself',
      });
  });

  it('leaves out a stretch that cannot be solved, says so, and measures the rest', () => {
    const pass = film();
    const splitter = new StretchSplitter(pass.camera, KNOWN);
    splitter.take(splitter.solve(partOf(pass.table, 0, 200), TOLD));
    const bare = partOf(pass.table, 140, 330);
    splitter.take(
      splitter.solve(
        {
          ...bare,
          trackCount: 0,
          trackStart: Int32Array.of(0),
          obsFrame: new Int32Array(0),
          xPx: new Float64Array(0),
          yPx: new Float64Array(0),
        },
        TOLD,
      ),
    );
    splitter.take(splitter.solve(partOf(pass.table, 270, 450), TOLD));
    const motion = splitter.finish(false);
    expect(motion.warnings.map(({ code }) => code)).toEqual(
      expect.arrayContaining(['motion-stretch-left-out', 'motion-scale-bridged', 'motion-gap']),
    );
    expect(motion.axes.tilt.status).toBe('value');
  });

  it('cannot be measured when too little of it holds, with the reason', () => {
    const pass = film({ durationS: 6 });
    const splitter = new StretchSplitter(pass.camera, KNOWN);
    splitter.take(splitter.solve(partOf(pass.table, 0, 10), TOLD));
    const { axes, warnings, timeS } = splitter.finish(false);
    expect(axes.tilt.status).toBe('notObservable');
    expect(warnings.map(({ code }) => code)).toContain('motion-unmeasured');
    expect(timeS.length).toBe(10);
  });

  it('is the split itself when there is one stretch', () => {
    const pass = film({ durationS: 6 });
    const { keptObservations, ...whole } = splitMotion(pass.table, pass.camera, { ...KNOWN, ...TOLD });
    expect(keptObservations.length).toBe(pass.table.obsFrame.length);
    expect(inStretches(pass, [[0, 150]])).toEqual({ ...whole, keptObservations: new Uint8Array(0) });
  });

  it('of a camera that only turns comes out as one, too', () => {
    const pass = film({ move: 'static', axisMm: [0, 0, 0] });
    const joined = inStretches(pass, THREE);
    const whole = splitMotion(pass.table, pass.camera, { ...KNOWN, ...TOLD });
    expect(joined.mode).toBe('rotationOnly');
    for (const axis of ['pan', 'tilt', 'roll'] as const)
      expectWithin(joined.axes[axis].rms ?? NaN, whole.axes[axis].rms ?? NaN, {
        abs: 0.03 * (whole.axes[axis].rms ?? NaN),
        why: 'turns need no depth',
      });
  });
});
