/** What is worth a word about a pass: assumptions where the rig says nothing, and what the clip shows of the travel. */
import type { Motion } from '../../motion/index.js';
import type { Assumption, Rig, Warning } from '../../run/index.js';
import { floorAssumedTexts, floorWarningTexts } from '../../texts/index.js';
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
    const { azimuth } = floorAssumedTexts;
    assumed.push({
      name: 'lensAzimuthDeg',
      value: seenDeg === null ? azimuth.ahead : azimuth.asSeen(seenDeg.toFixed(0)),
      matters: azimuth.matters,
    });
    return travel.azimuthRad ?? 0;
  }
  const offDeg = seenDeg === null ? 0 : turnBetweenDeg(seenDeg, givenDeg);
  const turned = offDeg > OTHER_WAY_DEG;
  if (seenDeg !== null && offDeg > AZIMUTH_TOLERANCE_DEG) {
    warnings.push({
      code: 'lens-azimuth-differs',
      text: floorWarningTexts.azimuthDiffers(
        givenDeg.toFixed(0),
        seenDeg.toFixed(0),
        turned ? 'seen' : 'given',
      ),
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
      ...floorAssumedTexts.head,
    });
  }
  if (rig.cameraOffsetM === undefined && mounting.heaveShows && hasMetricTranslation(motion)) {
    assumed.push({
      name: 'cameraOffsetM',
      ...floorAssumedTexts.offset,
    });
  }
  if (rig.shutterAngleDeg === undefined) {
    assumed.push({
      name: 'shutterAngleDeg',
      value: floorAssumedTexts.shutter.value(ASSUMED_SHUTTER_DEG),
      matters: floorAssumedTexts.shutter.matters,
    });
  }
  if (rig.trackWidthM === undefined) {
    assumed.push({
      name: 'trackWidthM',
      ...floorAssumedTexts.trackWidth,
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
      text: floorWarningTexts.partOfClip(from.toFixed(1), to.toFixed(1)),
      atS: from,
    });
  }
  if (travel.speedVariation > UNEVEN_SPEED) {
    warnings.push({
      code: 'uneven-speed',
      text: floorWarningTexts.unevenSpeed((100 * travel.speedVariation).toFixed(0)),
      atS: null,
    });
  }
}

/** Angle between two directions, degrees, 0..180. */
function turnBetweenDeg(a: number, b: number): number {
  return Math.abs(((((a - b) % 360) + 540) % 360) - 180);
}
