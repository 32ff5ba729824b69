/** A made-up pass through an old dairy hall: sines, one joint under the wheels and seeded noise on six axes, with its statistics. */
import { AXES, sixAxes, type Axis } from '../../../src/run/index.js';
import type { AxisEstimate, Motion } from '../../../src/motion/types.js';
import { PLAIN_CLIP } from '../../support/plain-clip.js';

export const RATE_HZ = 25;
export const FRAMES = 300;
export const TRIM = 13;
export const JOINT_AT_S = 7.24;

/** Amplitudes of a wheel line, a mount line and the joint; radians for angles, metres for translation. */
const SHAKE: Record<
  Axis,
  { wheel: number; mount: number; joint: number; noise: number; move: (t: number) => number }
> = {
  pan: { wheel: 8e-5, mount: 6e-5, joint: 1.5e-4, noise: 1e-5, move: (t) => 0.02 * Math.sin(t / 5) },
  tilt: { wheel: 4.5e-4, mount: 3.2e-4, joint: 1.7e-3, noise: 1.2e-5, move: (t) => 0.004 * Math.sin(t / 7) },
  roll: { wheel: 2.4e-4, mount: 1.6e-4, joint: 6e-4, noise: 2e-5, move: (t) => 0.002 * Math.cos(t / 6) },
  lateral: { wheel: 5e-6, mount: 4e-6, joint: 1e-5, noise: 4e-5, move: (t) => 0.012 * Math.sin(t / 4) },
  vertical: { wheel: 2.6e-4, mount: 1.1e-4, joint: 9e-4, noise: 5e-5, move: (t) => 0.003 * Math.sin(t / 5) },
  axial: { wheel: 1.8e-4, mount: 9e-5, joint: 4e-4, noise: 1.1e-4, move: (t) => 0.25 * t },
};

/** A small linear congruential generator, uniform [0, 1): the fixtures are the same on every machine. */
export function generator(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Root mean square with the ends left out. */
export function trimmedRms(x: Float64Array): number {
  let sum = 0;
  for (let i = TRIM; i < x.length - TRIM; i++) sum += x[i] ** 2;
  return Math.sqrt(sum / (x.length - 2 * TRIM));
}

/** The made-up motion; `gain` scales all vibration. */
export function madeUpMotion(gain = 1): Motion {
  const random = generator(7);
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const timeS = Float64Array.from({ length: FRAMES }, (_, i) => i / RATE_HZ);
  const vibration = sixAxes((axis) => {
    const { wheel, mount, joint, noise } = SHAKE[axis];
    const phase = 2 * Math.PI * random();
    return timeS.map((t) => {
      const after = t - JOINT_AT_S;
      const hit = after < 0 ? 0 : joint * Math.exp(-after / 0.22) * Math.sin(2 * Math.PI * 5.4 * after);
      const slow = 1 + 0.4 * Math.sin(t / 1.7 + phase);
      return (
        gain *
          (slow * wheel * Math.sin(2 * Math.PI * 1.62 * t + phase) +
            mount * Math.sin(2 * Math.PI * 7.3 * t) +
            hit) +
        noise * normal()
      );
    });
  });
  const intended = sixAxes((axis) => timeS.map(SHAKE[axis].move));
  const path = sixAxes((axis) => vibration[axis].map((v, i) => v + intended[axis][i]));
  const axes = Object.fromEntries(
    AXES.map((axis): [Axis, AxisEstimate] => {
      const floor = SHAKE[axis].noise;
      const rawRms = trimmedRms(vibration[axis]);
      const maximum = Math.max(...vibration[axis].subarray(TRIM, FRAMES - TRIM).map(Math.abs));
      const clean = Math.sqrt(Math.max(0, rawRms ** 2 - floor ** 2));
      const seen = rawRms > 1.3 * floor;
      return [
        axis,
        {
          status: seen ? (clean > 3 * floor ? 'value' : 'wide') : 'below',
          rms: clean,
          rawRms,
          peakToPeak: 1.8 * maximum,
          maximum,
          floor,
          plainFloor: floor,
          ci95: seen ? [Math.max(0, clean - 0.6 * floor), clean + 0.6 * floor] : null,
          below: clean + 0.9 * floor,
        },
      ];
    }),
  ) as Record<Axis, AxisEstimate>;
  return {
    timeS,
    rateHz: RATE_HZ,
    resampleShiftS: 0,
    mode: 'full',
    path,
    intended,
    vibration,
    noiseSd: sixAxes((axis) => new Float64Array(FRAMES).fill(SHAKE[axis].noise)),
    translationUnit: 'm',
    travelM: 3,
    depth: { median: 3.4, meanInverse: 0.31, sdInverse: 0.12 },
    axes,
    bandHz: [0.8, RATE_HZ / 2],
    trimFrames: TRIM,
    parallaxP: 42,
    observable: 'yes',
    observableReason: null,
    angularShare: { value: 0.86, ci95: [0.82, 0.9] },
    sigmaPx: 0.09,
    keptShare: 0.66,
    tracksPerFrame: new Int32Array(FRAMES).fill(274),
    inliersPerFrame: new Int32Array(FRAMES).fill(181),
    keptObservations: new Uint8Array(0),
    ...PLAIN_CLIP,
  };
}
