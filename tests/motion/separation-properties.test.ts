/**
 * What the split into angular and translational must not depend on, and what must follow the scene: tracks of simulated passes are turned,
 * mirrored, reversed, reordered and rescaled, and each answer is held against that of the pass as it was. Signs as in run/axes: the rotation
 * vector is (-tilt, -pan, -roll), lateral to the right, vertical up.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { splitMotion, vibrationOf, type Motion } from '../../src/motion/index.js';
import { AXES, ANGULAR_AXES, type Axis } from '../../src/run/index.js';
import {
  applyHomography,
  rotationFromAngles,
  rotationHomography,
  type Camera,
} from '../../src/optics/index.js';
import type { TrackTable } from '../../src/tracking/index.js';
import { simulatePass, type SimulatedPass } from './support/simulated-tracks.js';
import { evenly } from '../support/evenly.js';

const passes: readonly SimulatedPass[] = (['lateral', 'push'] as const).map((move, i) =>
  simulatePass({
    move,
    durationS: 2.4,
    fps: 25,
    liveTracks: 80,
    angularDeg: 0.05,
    translationalMm: 0.4,
    seed: 5 + i,
  }),
);

/** How a rearranged problem may end a little elsewhere: shares of the noise of each sample. */
const CONVERGENCE = 0.1;

function split(table: TrackTable, camera: Camera, travelM: number): Motion {
  return splitMotion(table, camera, { travelM, interCoded: false, readoutS: 0, distortionGiven: true });
}

const plain = passes.map(({ table, camera, travelM }) => split(table, camera, travelM));

/** Each case: a pass with its tracks, and how it was measured as it was. */
const anyPass = fc.nat(passes.length - 1).map((i) => ({ ...passes[i], motion: plain[i] }));

/** The tracks with each observation moved to where `place` puts it. */
function moved(
  table: TrackTable,
  place: (xPx: number, yPx: number, frame: number) => readonly [number, number],
): TrackTable {
  const xPx = new Float64Array(table.xPx.length);
  const yPx = new Float64Array(table.yPx.length);
  for (let o = 0; o < xPx.length; o++)
    [xPx[o], yPx[o]] = place(table.xPx[o], table.yPx[o], table.obsFrame[o]);
  return { ...table, xPx, yPx };
}

/** The tracks in another order, their frames running backwards or not. */
function rearranged(table: TrackTable, order: readonly number[], backwards = false): TrackTable {
  const { trackStart, frameCount } = table;
  const from = order.flatMap((track) => {
    const own = Array.from(
      { length: trackStart[track + 1] - trackStart[track] },
      (_, k) => trackStart[track] + k,
    );
    return backwards ? own.reverse() : own;
  });
  const starts = new Int32Array(order.length + 1);
  order.forEach((track, i) => (starts[i + 1] = starts[i] + trackStart[track + 1] - trackStart[track]));
  return {
    ...table,
    trackStart: starts,
    obsFrame: Int32Array.from(from, (o) =>
      backwards ? frameCount - 1 - table.obsFrame[o] : table.obsFrame[o],
    ),
    xPx: Float64Array.from(from, (o) => table.xPx[o]),
    yPx: Float64Array.from(from, (o) => table.yPx[o]),
  };
}

const inOrder = (table: TrackTable): number[] => Array.from({ length: table.trackCount }, (_, i) => i);

/** What the vibration of an axis is expected to be, sample by sample, out of that of the pass as it was. */
type Expected = (axis: Axis, t: number) => number;

/** Root mean square of what is off, ends left out, over the noise of the axis: that of one sample. */
function offInNoise(
  { vibration, trimFrames }: Motion,
  before: Motion,
  expected: Expected,
  axis: Axis,
): number {
  let off = 0;
  let noise = 0;
  for (let t = trimFrames; t < vibration[axis].length - trimFrames; t++) {
    off += (vibration[axis][t] - expected(axis, t)) ** 2;
    noise += before.noiseSd[axis][t] ** 2;
  }
  return Math.sqrt(off / noise);
}

function expectAs(after: Motion, before: Motion, expected: Expected, most = CONVERGENCE): void {
  expect(after.observable).toBe(before.observable);
  expect(after.timeS.length).toBe(before.timeS.length);
  for (const axis of AXES) {
    const off = offInNoise(after, before, expected, axis);
    expect(off, `${axis} is off by ${off} of its noise`).toBeLessThan(most);
  }
}

describe('the split', () => {
  it('stands on passes that tell', () => {
    for (const motion of plain) {
      expect(motion.observable).toBe('yes');
      for (const axis of ANGULAR_AXES) expect(motion.axes[axis].status, axis).toBe('value');
    }
  });

  it('does not depend on the order of the tracks', () => {
    fc.assert(
      fc.property(
        anyPass.chain((pass) => {
          const all = inOrder(pass.table);
          return fc.tuple(fc.constant(pass), fc.shuffledSubarray(all, { minLength: all.length }));
        }),
        ([{ table, camera, travelM, motion }, order]) => {
          const after = split(rearranged(table, order), camera, travelM);
          expectAs(after, motion, (axis, t) => motion.vibration[axis][t]);
        },
      ),
      { seed: 131, numRuns: 1 },
    );
  });

  it('does not depend on the size of the pixels, focal length and picture in step', () => {
    fc.assert(
      fc.property(anyPass, evenly(0.5, 3), ({ table, camera, travelM, motion }, times) => {
        const about = (at: number, centre: number, to: number): number => (at - centre) * times + to;
        const [widthPx, heightPx] = [camera.widthPx * times, camera.heightPx * times];
        const larger: Camera = {
          ...camera,
          widthPx,
          heightPx,
          focalPx: camera.focalPx * times,
          centreXPx: (widthPx - 1) / 2,
          centreYPx: (heightPx - 1) / 2,
        };
        const scaled = moved(table, (x, y) => [
          about(x, camera.centreXPx, larger.centreXPx),
          about(y, camera.centreYPx, larger.centreYPx),
        ]);
        const after = split({ ...scaled, widthPx, heightPx }, larger, travelM);
        expectAs(after, motion, (axis, t) => motion.vibration[axis][t]);
      }),
      { seed: 132, numRuns: 1 },
    );
  });

  it('of a world times as large has the translation times as large, and the very same angles', () => {
    fc.assert(
      fc.property(anyPass, evenly(0.05, 50), ({ table, camera, travelM, motion }, times) => {
        const after = split(table, camera, times * travelM);
        for (const axis of AXES) {
          const factor = (ANGULAR_AXES as readonly Axis[]).includes(axis) ? 1 : times;
          after.vibration[axis].forEach((value, t) => {
            if (factor === 1) expect(value).toBe(motion.vibration[axis][t]);
            else expect(Math.abs(value - factor * motion.vibration[axis][t])).toBeLessThan(1e-12 * factor);
          });
        }
        expect(after.depth?.median).toBeCloseTo(times * (motion.depth?.median ?? NaN), 6);
      }),
      { seed: 133, numRuns: 1 },
    );
  });

  it('in a mirror turns pan, roll and lateral about, and nothing else', () => {
    for (const [i, { table, camera, travelM }] of [...passes.entries()].slice(0, 1)) {
      const after = split(
        moved(table, (x, y) => [2 * camera.centreXPx - x, y]),
        camera,
        travelM,
      );
      const about: readonly Axis[] = ['pan', 'roll', 'lateral'];
      expectAs(after, plain[i], (axis, t) => (about.includes(axis) ? -1 : 1) * plain[i].vibration[axis][t]);
    }
  });

  it('backwards in time is the same vibration, backwards', () => {
    for (const [i, { table, camera, travelM }] of [...passes.entries()].slice(1)) {
      const after = split(rearranged(table, inOrder(table), true), camera, travelM);
      const last = plain[i].timeS.length - 1;
      // Angles are counted from the first frame, so the shake of one axis shows a little on another: by the turn of the whole pass.
      expectAs(after, plain[i], (axis, t) => plain[i].vibration[axis][last - t], 2 * CONVERGENCE);
    }
  });

  it('of a camera on its side by any angle shares pan and tilt, and lateral and vertical, as that angle does; roll and axial stay', () => {
    fc.assert(
      fc.property(anyPass, evenly(-Math.PI, Math.PI), (pass, angleRad) => {
        const { table, camera, travelM, motion } = pass;
        const [c, s] = [Math.cos(angleRad), Math.sin(angleRad)];
        // Room for the turned picture; the axis of the lens stays where it is.
        const sidePx = 1200;
        const centre = (sidePx - 1) / 2;
        const square: Camera = {
          ...camera,
          widthPx: sidePx,
          heightPx: sidePx,
          centreXPx: centre,
          centreYPx: centre,
        };
        const turned = moved(table, (xPx, yPx) => {
          const [x, y] = [xPx - camera.centreXPx, yPx - camera.centreYPx];
          return [c * x - s * y + centre, s * x + c * y + centre];
        });
        const after = split({ ...turned, widthPx: sidePx, heightPx: sidePx }, square, travelM);
        const { pan, tilt, lateral, vertical, roll, axial } = motion.vibration;
        const expected: Record<Axis, (t: number) => number> = {
          tilt: (t) => c * tilt[t] - s * pan[t],
          pan: (t) => s * tilt[t] + c * pan[t],
          lateral: (t) => c * lateral[t] + s * vertical[t],
          vertical: (t) => -s * lateral[t] + c * vertical[t],
          roll: (t) => roll[t],
          axial: (t) => axial[t],
        };
        // Widths of the search go by the picture, which is another one here.
        expectAs(after, motion, (axis, t) => expected[axis](t), 2 * CONVERGENCE);
      }),
      { seed: 134, numRuns: 2 },
    );
  });

  it('of a shake that is pan alone, put on top, gains that pan and nothing else', () => {
    const axes = fc.constantFrom(...ANGULAR_AXES);
    fc.assert(
      fc.property(
        anyPass,
        axes,
        evenly(2, 9),
        evenly(0.2, 2),
        ({ table, camera, travelM, motion }, added, freqHz, sizeMrad) => {
          const extra = Float64Array.from(
            { length: table.frameCount },
            (_, t) => (sizeMrad / 1000) * Math.sin((2 * Math.PI * freqHz * t) / 25),
          );
          const warps = Array.from(extra, (angle) =>
            rotationHomography(
              camera,
              rotationFromAngles(
                added === 'pan' ? angle : 0,
                added === 'tilt' ? angle : 0,
                added === 'roll' ? angle : 0,
              ),
            ),
          );
          const shaken = moved(table, (x, y, frame) => {
            const at = applyHomography(warps[frame], x, y);
            return [at?.xPx ?? NaN, at?.yPx ?? NaN];
          });
          const after = split(shaken, camera, travelM);
          const still = Object.fromEntries(AXES.map((axis) => [axis, new Float64Array(table.frameCount)]));
          const { vibration } = vibrationOf(
            { ...still, [added]: extra } as unknown as Motion['path'],
            motion.rateHz,
            motion.bandHz[0],
          );
          expectAs(
            after,
            motion,
            (axis, t) => motion.vibration[axis][t] + vibration[axis][t],
            2 * CONVERGENCE,
          );
        },
      ),
      { seed: 135, numRuns: 2 },
    );
  });
});
