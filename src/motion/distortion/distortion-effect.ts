/**
 * How much figures of vibration hang on the k1 of the lens: shares of each axis' RMS, from the way in which poses follow k1.
 */
import { rms } from '../../numerics/index.js';
import { AXES, sixAxes, type Axis, type SixAxes } from '../../run/index.js';
import type { BendStep } from './bend-step.js';
import { movePoses } from '../rotation-steps.js';
import { pathLength } from '../metric-scale.js';
import { copyOfScene, type Scene } from '../scene.js';
import { poseSeries, vibrationOf } from '../series.js';

/** Change of an RMS by less than this share does not matter. */
export const NO_EFFECT = 0.03;

/** Seconds left out at each end; at most a quarter of a short clip. */
const TRIM_S = 0.5;

/**
 * Largest change of the RMS of each axis when k1 changes, as a share of the RMS; 0 for an axis at rest. Lengths count in
 * lengths of the path, which is what the crew knows.
 *
 * @param scene at some k1
 * @param step how its poses follow k1
 * @param used change of k1, from the scene's, at which the figures are taken
 * @param ends changes of k1, from the scene's, that are compared with it
 */
export function rmsShares(
  scene: Scene,
  step: BendStep,
  used: number,
  ends: readonly number[],
  { rateHz, cutoffHz }: { readonly rateHz: number; readonly cutoffHz: number },
): Readonly<Record<Axis, number>> {
  const figuresAt = (change: number): Record<Axis, number> => {
    const moved = copyOfScene(scene);
    movePoses(
      moved,
      step.frames.map((value) => value * change),
    );
    const columns = [0, 1, 2].map((j) => moved.centres.filter((_, k) => k % 3 === j));
    const length = pathLength(columns, rateHz, cutoffHz);
    const { vibration } = vibrationOf(poseSeries(moved.rotations, moved.centres), rateHz, cutoffHz);
    return figuresOf(vibration, Math.round(TRIM_S * rateHz), length > 0 ? 1 / length : 0);
  };
  const figures = figuresAt(used);
  const changed = ends.map(figuresAt);
  const share = (axis: Axis): number =>
    figures[axis] > 0 ? Math.max(...changed.map((other) => Math.abs(other[axis] / figures[axis] - 1))) : 0;
  return Object.fromEntries(AXES.map((axis) => [axis, share(axis)])) as Record<Axis, number>;
}

function figuresOf(vibration: SixAxes, trim: number, perLength: number): Record<Axis, number> {
  const kept = sixAxes((axis) => {
    const { length } = vibration[axis];
    const left = Math.min(trim, Math.floor(length / 4));
    return vibration[axis].subarray(left, length - left);
  });
  return Object.fromEntries(
    AXES.map((axis, a) => [axis, rms(kept[axis]) * (a < 3 ? 1 : perLength)]),
  ) as Record<Axis, number>;
}
