/** One run as the comparison document lists it: shake in degrees with the noise off, crop on the common lens. */
import type { AngularAxis, ComparedRun } from '../../run/index.js';
import type { PreparedPass } from './prepared-pass.js';

const DEG = 180 / Math.PI;

/** What is known of a run beside itself. */
interface RunAmongOthers {
  /** On the common lens, of the width. */
  readonly cropPercent: number;
  /** As it is printed, with its floor where there are several. */
  readonly lane: string;
  /** No pair counts it. */
  readonly leftOut: boolean;
}

/** The entry of a run. */
export function runEntry(
  { compared, axes, speedMps }: PreparedPass,
  { cropPercent, lane, leftOut }: RunAmongOthers,
): ComparedRun {
  const { place, clip, createdAt, direction, passNumber, grade, pass } = compared;
  const rmsDeg = (axis: AngularAxis): number | null => {
    const level = axes[axis]?.level;
    return level && level.power >= 2 * level.wideNoise ? DEG * Math.exp(level.lnRms) : null;
  };
  return {
    place,
    clip,
    createdAt,
    lane,
    direction,
    passNumber,
    speedMps,
    travelM: pass.motion.travelM ?? pass.rig.travelM ?? null,
    durationS: pass.motion.timeS.length / pass.motion.rateHz,
    rmsDeg: { pan: rmsDeg('pan'), tilt: rmsDeg('tilt'), roll: rmsDeg('roll') },
    leftOut,
    cropPercent,
    grade,
  };
}
