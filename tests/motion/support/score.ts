/** Compares a measured Motion with the truth of a simulated pass, axis by axis, in the band and without the ends. */
import { poseSeries, vibrationOf, type Motion } from '../../../src/motion/index.js';
import { rms } from '../../../src/numerics/index.js';
import { AXES, type Axis } from '../../../src/run/index.js';
import type { SimulatedPass } from './simulated-tracks.js';

/** Units of the axis: rad or m. */
export interface AxisScore {
  readonly trueRms: number;
  readonly errorRms: number;
  /** Error over the floor that the tool itself claims. */
  readonly errorOverFloor: number;
  /** Correlation of measured and true vibration. */
  readonly correlation: number;
}

/** Scores all axes of a motion measured on every frame of a pass, in metres. */
export function score(motion: Motion, pass: SimulatedPass): Record<Axis, AxisScore> {
  const truth = vibrationOf(
    poseSeries(pass.rotations, pass.centres),
    motion.rateHz,
    motion.bandHz[0],
  ).vibration;
  const cut = (x: Float64Array): Float64Array => x.subarray(motion.trimFrames, x.length - motion.trimFrames);
  const entries = AXES.map((axis): [Axis, AxisScore] => {
    const measured = cut(motion.vibration[axis]);
    const real = cut(truth[axis]);
    const errorRms = rms(measured.map((v, t) => v - real[t]));
    const together = measured.reduce((sum, v, t) => sum + v * real[t], 0) / measured.length;
    return [
      axis,
      {
        trueRms: rms(real),
        errorRms,
        errorOverFloor: errorRms / motion.axes[axis].floor,
        correlation: together / (rms(measured) * rms(real)),
      },
    ];
  });
  return Object.fromEntries(entries) as Record<Axis, AxisScore>;
}

/** Thousandths of a degree in a radian, micrometres in a metre. */
export const MDEG_PER_RAD = 180_000 / Math.PI;
export const UM_PER_M = 1e6;
