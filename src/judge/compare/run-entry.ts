/** One run as the comparison document lists it: shake in degrees with the noise off, crop on the common lens. */
import type { AngularAxis, ComparedRun } from '../../run/index.js';
import type { PreparedPass } from './prepared-pass.js';

const DEG = 180 / Math.PI;

/** @param cropPercent on the common lens, of the width */
export function runEntry({ compared, axes, speedMps }: PreparedPass, cropPercent: number): ComparedRun {
  const { place, clip, createdAt, lane, direction, passNumber, grade, pass } = compared;
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
    cropPercent,
    grade,
  };
}
