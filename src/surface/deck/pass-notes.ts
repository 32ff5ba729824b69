/** What is worth a word about a pass: assumptions where the rig says nothing, and what the clip shows of the travel. */
import type { Motion } from '../../motion/index.js';
import type { Assumption, Rig, Warning } from '../../run/index.js';
import type { Mounting } from './deck-series.js';
import { hasMetricTranslation } from './lens-path.js';
import type { Travel } from './travel.js';

/** Shutter of a camera of which nothing was said, degrees. */
export const ASSUMED_SHUTTER_DEG = 180;
const RAD_PER_DEG = Math.PI / 180;
/** Lens azimuths that differ by more are worth a word. */
const AZIMUTH_TOLERANCE_DEG = 10;
/** ... and by more are the same line of travel the other way. */
const OTHER_WAY_DEG = 135;
/** Speed that varies by more is worth a word. */
const UNEVEN_SPEED = 0.05;

/**
 * The lens azimuth against the travel of the pass, radians: as given, else as the picture travels, else ahead. A dolly that the
 * picture shows rolling the other way is believed: pitch and roll then change signs and the axles their order.
 */
export function lensAzimuth(rig: Rig, travel: Travel, assumed: Assumption[], warnings: Warning[]): number {
  const seenDeg = travel.azimuthRad === null ? null : travel.azimuthRad / RAD_PER_DEG;
  const givenDeg = rig.lensAzimuthDeg;
  if (givenDeg === undefined) {
    assumed.push({
      name: 'lensAzimuthDeg',
      value: seenDeg === null ? '0 (looking ahead)' : `${seenDeg.toFixed(0)} (as the picture travels)`,
      matters:
        'decides which of tilt and roll is the pitch of the deck; 10 degrees off changes the grade little',
    });
    return travel.azimuthRad ?? 0;
  }
  const offDeg = seenDeg === null ? 0 : turnBetweenDeg(seenDeg, givenDeg);
  const turned = offDeg > OTHER_WAY_DEG;
  if (seenDeg !== null && offDeg > AZIMUTH_TOLERANCE_DEG) {
    warnings.push({
      code: 'lens-azimuth-differs',
      text: `The lens azimuth is given as ${givenDeg.toFixed(0)} degrees, but the picture travels as if it were ${seenDeg.toFixed(0)}; ${turned ? 'the dolly was taken to roll the way that the picture shows' : 'the given one was used'}.`,
      atS: null,
    });
  }
  return (givenDeg + (turned ? 180 : 0)) * RAD_PER_DEG;
}

/** Lists what was not given and taken as something. */
export function noteMissing(
  motion: Motion,
  rig: Rig,
  mounting: Pick<Mounting, 'levellingHeightM' | 'heaveShows'>,
  assumed: Assumption[],
): void {
  if (rig.head === undefined && mounting.levellingHeightM === null) {
    assumed.push({
      name: 'head',
      value: 'locked',
      matters: 'an operated or self-levelling head would hide the pitch of the deck and make the grade wrong',
    });
  }
  if (rig.cameraOffsetM === undefined && mounting.heaveShows && hasMetricTranslation(motion)) {
    assumed.push({
      name: 'cameraOffsetM',
      value: '0 m (over the middle of the wheelbase)',
      matters:
        'pitch times this length shows as height: 0.4 m off can raise the roughness as rolled by half, the grade by little',
    });
  }
  if (rig.shutterAngleDeg === undefined) {
    assumed.push({
      name: 'shutterAngleDeg',
      value: `${ASSUMED_SHUTTER_DEG} degrees`,
      matters: 'a longer exposure smooths short waves; the grade moves by a few per cent',
    });
  }
  if (rig.trackWidthM === undefined) {
    assumed.push({
      name: 'trackWidthM',
      value: 'unknown: left and right wheel tracks taken as half alike',
      matters: 'the roughness can be 30 % lower or 40 % higher',
    });
  }
}

/** Warns of a part of the clip that was left out, and of an uneven pace. */
export function noteTravel(motion: Motion, travel: Travel, warnings: Warning[]): void {
  const n = motion.timeS.length;
  if (travel.fromFrame > 0 || travel.toFrame < n) {
    const from = motion.timeS[travel.fromFrame];
    const to = motion.timeS[travel.toFrame - 1];
    warnings.push({
      code: 'surface-part-of-clip',
      text: `The dolly stands or turns back in part of the clip; the floor is graded from ${from.toFixed(1)} s to ${to.toFixed(1)} s.`,
      atS: from,
    });
  }
  if (travel.speedVariation > UNEVEN_SPEED) {
    warnings.push({
      code: 'uneven-speed',
      text: `The speed varies by ${(100 * travel.speedVariation).toFixed(0)} %: wavelengths on the floor are blurred by as much.`,
      atS: null,
    });
  }
}

/** Angle between two directions, degrees, 0..180. */
function turnBetweenDeg(a: number, b: number): number {
  return Math.abs(((((a - b) % 360) + 540) % 360) - 180);
}
