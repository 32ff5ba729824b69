/**
 * The motion of the same stretch at another speed: what follows the floor comes faster or slower, what a machine shakes keeps its
 * frequency, and a mount that rings stays where it rings.
 */
import { fourthDifferenceVibration } from '../../numerics/index.js';
import { sixAxes, type SixAxes } from '../../run/index.js';
import { otherSpeedTexts } from '../../texts/index.js';
import { motionAtSpeed, smoothingOf, speedRefusal } from '../../stabilise/index.js';
import type { Motion } from '../../motion/index.js';
import type { MeasuredPass } from '../pass/measured-pass.js';
import { filteredAtMount, mountGain, mountOf, type RingingMount } from './mount-gain.js';
import { withoutMachines } from './silenced.js';
import { oneMotion, unchanged, type ChangedMotion, type RefusedChange } from './types.js';
import { withVibration } from './with-vibration.js';

/**
 * What exposure, folding and the edges of the band make of the same floor at another speed, as a factor either way (95 %): foretold
 * crops were off by 5 to 7 % (sd of ln, 14 made-up floors at 0.6 and 1.5 times the speed).
 */
const COURSE_FACTOR95 = 1.13;

/**
 * The pass at another speed.
 *
 * Expected: machines that are named keep their frequency, all else follows the floor, through the mount. It may as well be that all of
 * it follows the floor, or that all of it is the machine's; one pass cannot tell more.
 */
export function atSpeed(pass: MeasuredPass, speedMps: number): ChangedMotion | RefusedChange {
  const { motion, rig, floor } = pass;
  const nowMps = floor?.present.setup.speedMps ?? rig.speedMps;
  if (nowMps === undefined) return { refused: otherSpeedTexts.notKnown };
  if (!(speedMps > 0 && Number.isFinite(speedMps)))
    throw new RangeError(`speedMps must be a positive number, got ${speedMps}`);
  const factor = speedMps / nowMps;
  if (Math.abs(factor - 1) < 1e-9) return unchanged(motion);
  const refusal = speedRefusal(motion, factor);
  if (refusal !== null) return { refused: otherSpeedTexts[refusal] };

  const mount = mountOf(pass.sections.spectrum);
  const rolling = withoutMachines(pass);
  const machines = sixAxes((axis) =>
    rolling.vibration[axis] === motion.vibration[axis]
      ? new Float64Array(motion.timeS.length)
      : motion.vibration[axis].map((value, t) => value - rolling.vibration[axis][t]),
  );
  const replayed = motionAtSpeed(throughMount(rolling, mount, factor), factor);
  const expected = withVibration(replayed, plusMachines(replayed, machines, factor));
  const allFloor = motionAtSpeed(motion, factor);
  return {
    ...oneMotion(expected),
    otherwise: [allFloor, motion],
    factor95: COURSE_FACTOR95,
    assumes: assumptions(factor, mount, rolling !== motion),
  };
}

/** The motion as a mount would have passed it on had the floor come at `factor` times the speed. */
function throughMount(motion: Motion, mount: RingingMount | null, factor: number): Motion {
  return mount === null
    ? motion
    : filteredAtMount(motion, mount, (hz) => mountGain(mount, hz * factor) / mountGain(mount, hz));
}

/** The vibration with what machines shake on the new axis of time: frequency and strength as they were. */
function plusMachines(replayed: Motion, machines: SixAxes, factor: number): SixAxes {
  const n = replayed.timeS.length;
  const cutoffHz = 1 / smoothingOf(replayed);
  return sixAxes((axis) => {
    const was = machines[axis];
    if (!was.some((value) => value !== 0)) return replayed.vibration[axis];
    const played = Float64Array.from({ length: n }, (_, t) => turnedRound(was, t / factor));
    const kept = fourthDifferenceVibration(played, replayed.rateHz, cutoffHz);
    return replayed.vibration[axis].map((value, t) => value + kept[t]);
  });
}

/** Value at a place of a series that runs back and forth: a longer run shakes on as the pass did. */
function turnedRound(series: Float64Array, place: number): number {
  const last = series.length - 1;
  if (last === 0) return series[0];
  const folded = place % (2 * last);
  const within = folded <= last ? folded : 2 * last - folded;
  const i = Math.min(last - 1, Math.floor(within));
  return series[i] + (within - i) * (series[i + 1] - series[i]);
}

function assumptions(factor: number, mount: RingingMount | null, machinesTold: boolean): string[] {
  return [
    otherSpeedTexts.wheelsKeepToFloor,
    machinesTold ? otherSpeedTexts.machinesKeepFrequency : otherSpeedTexts.noMachineKnown,
    ...(mount === null ? [] : [otherSpeedTexts.mountRingsOn(Number(mount.freqHz.toPrecision(2)))]),
    factor > 1 ? otherSpeedTexts.fasterInFull : otherSpeedTexts.shortRipplesMissing,
  ];
}
