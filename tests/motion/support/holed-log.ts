/** A log from which stretches are missing, as a recorder with dropouts writes it. */
import { ANGULAR_AXES, type AngularAxis } from '../../../src/run/index.js';
import type { LogGap, MotionLog } from '../../../src/motion/index.js';

/**
 * Leaves out the samples within some stretches.
 *
 * @param holesS from and to, seconds on the log's clock; the gaps that are told run from sample to sample
 */
export function holedLog(log: MotionLog, holesS: readonly (readonly [number, number])[]): MotionLog {
  const kept = Array.from(log.timeS.keys()).filter((i) =>
    holesS.every(([fromS, toS]) => log.timeS[i] < fromS || log.timeS[i] > toS),
  );
  const pick = (column: Readonly<Float64Array>): Float64Array => Float64Array.from(kept, (i) => column[i]);
  const timeS = pick(log.timeS);
  const gaps: LogGap[] = [];
  kept.forEach((i, k) => {
    if (k > 0 && i > kept[k - 1] + 1) gaps.push({ fromS: timeS[k - 1], toS: timeS[k] });
  });
  const ratesRadPerS: Partial<Record<AngularAxis, Float64Array>> = {};
  for (const axis of ANGULAR_AXES) {
    const rates = log.ratesRadPerS[axis];
    if (rates) ratesRadPerS[axis] = pick(rates);
  }
  return { ...log, timeS, ratesRadPerS, gaps };
}
