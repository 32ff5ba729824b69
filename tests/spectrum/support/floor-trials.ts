/** How often a floor alone shows a peak: simulated passes whose speed and wheelbase are told wrong, searched axis by axis. */
import { findPeaks } from '../../../src/spectrum/peaks/find-peaks.js';
import type { FloorView } from '../../../src/spectrum/peaks/types.js';
import { SIMULATED_AXES, simulatedPass, type SimulatedAxis, type SimulatedPass } from './simulated-pass.js';

/** A way of driving. */
export interface FloorCase {
  readonly rateHz: number;
  readonly durationS: number;
  readonly speedMps: number;
}

const WAVINESSES = [1.6, 2, 2.5];
const WANDER = 0.01;
const SPEED_OFF = 0.02;
const WHEELBASE_OFF_M = 0.005;

/** One of the floors in turn; speed told 2 % off and wheelbase 5 mm off, both ways in turn; the speed wanders by 1 %. */
export function floorPass(how: FloorCase, seed: number): SimulatedPass {
  const sign = (bit: number): number => (seed & bit ? 1 : -1);
  return simulatedPass({
    ...how,
    seed,
    waviness: WAVINESSES[seed % WAVINESSES.length],
    wander: WANDER,
    speedTold: 1 + sign(1) * SPEED_OFF,
    wheelbaseToldM: 0.45 + sign(2) * WHEELBASE_OFF_M,
  });
}

/**
 * Passes out of `runs` in which each axis shows a peak.
 *
 * @param blur makes a worse view of the floor out of that of the search; as it is when left out
 */
export function falseAlarms(
  passAt: (seed: number) => SimulatedPass,
  runs: number,
  axes: readonly SimulatedAxis[] = SIMULATED_AXES,
  blur: (view: FloorView) => FloorView = (view) => view,
): Record<SimulatedAxis, number> {
  const alarms = { tilt: 0, roll: 0, vertical: 0 };
  for (let seed = 1; seed <= runs; seed++) {
    const pass = passAt(seed);
    for (const axis of axes) {
      const series = pass.searched(axis);
      const { peaks } = findPeaks({ ...series, floor: series.floor && blur(series.floor) });
      if (peaks.length > 0) alarms[axis]++;
    }
  }
  return alarms;
}

/** The search takes speed over wheelbase as told. */
export const notchesAsTold = (view: FloorView): FloorView => ({ ...view, phaseSd: 1e-6 });

/** The search takes the speed for steady. */
export const speedAsSteady = (view: FloorView): FloorView => ({
  ...view,
  speedsMps: Float64Array.of(view.speedsMps.reduce((sum, v) => sum + v, 0) / view.speedsMps.length),
});
