/** What running machines add to each axis of the camera at any instant, radians and metres. */
import { ANGULAR_AXES, TRANSLATIONAL_AXES, type Axis } from '../../run/index.js';
import type { MachineOptions } from './options.js';

interface Line {
  readonly axis: Axis;
  readonly amplitude: number;
  readonly turnsPerS: number;
  readonly phaseRad: number;
}

function linesOf({ freqHz, amplitudeDeg, amplitudeMm, phaseDeg }: MachineOptions): Line[] {
  const both = { turnsPerS: freqHz, phaseRad: (phaseDeg * Math.PI) / 180 };
  return [
    ...ANGULAR_AXES.map((axis) => ({ axis, amplitude: (amplitudeDeg[axis] * Math.PI) / 180, ...both })),
    ...TRANSLATIONAL_AXES.map((axis) => ({ axis, amplitude: amplitudeMm[axis] / 1000, ...both })),
  ].filter(({ amplitude }) => amplitude !== 0);
}

/** Gives the sum of all machines on an axis at a time. */
export function makeMachines(machines: readonly MachineOptions[]): (axis: Axis, timeS: number) => number {
  const lines = machines.flatMap(linesOf);
  return (axis, timeS) => {
    let sum = 0;
    for (const line of lines) {
      if (line.axis === axis)
        sum += line.amplitude * Math.sin(2 * Math.PI * line.turnsPerS * timeS + line.phaseRad);
    }
    return sum;
  };
}
