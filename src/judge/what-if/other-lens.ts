/** How much longer another lens on another sensor looks than the one used, from millimetres; 1 for the same. */
import { ASSUMED_FOCAL_LENGTH_MM, ASSUMED_SENSOR_WIDTH_MM, type Camera } from '../../optics/index.js';
import { otherLensTexts } from '../../texts/index.js';
import { cameraAtFocal } from '../../stabilise/index.js';
import type { MeasuredPass } from '../pass/measured-pass.js';
import type { RefusedChange } from '../changes/types.js';
import type { WhatIfWish } from './wish.js';

/** A lens and sensor in the place of those used. */
export interface OtherLens {
  /** Focal length in pixels over the one used, with the picture as large. */
  readonly focalFactor: number;
  /** Of the analysis frames. */
  readonly camera: Camera;
  readonly focalLengthMm: number | null;
  readonly sensorWidthMm: number | null;
  readonly assumes: readonly string[];
}

/**
 * The lens asked for. Focal lengths compare by their millimetres where those of the pass are known, so that the error of a
 * lens that is not as long as it says cancels; else by the focal length in pixels that the pass was measured with.
 *
 * @returns a refusal where the sensor is needed and not known
 */
export function otherLens(
  { rig, motion }: Pick<MeasuredPass, 'rig' | 'motion'>,
  wish: Pick<WhatIfWish, 'focalLengthMm' | 'focalFactor' | 'sensorWidthMm'>,
): OtherLens | RefusedChange {
  const { focalLengthMm, focalFactor = 1, sensorWidthMm } = wish;
  if (focalLengthMm === undefined && focalFactor !== 1) return timesAsLong({ rig, motion }, focalFactor);
  const calibrated = rig.focalPx !== undefined;
  // What the measurement took where the crew named nothing.
  const usedMm = rig.focalLengthMm ?? (calibrated ? null : ASSUMED_FOCAL_LENGTH_MM);
  const usedSensorMm = rig.sensorWidthMm ?? (calibrated ? null : ASSUMED_SENSOR_WIDTH_MM);
  const sameLens = focalLengthMm === undefined || focalLengthMm === usedMm;
  const assumes = [
    ...(sameLens ? [] : [otherLensTexts.sameAngles]),
    ...(rig.focalLengthMm === undefined && !calibrated && focalLengthMm !== undefined
      ? [otherLensTexts.lensTaken(ASSUMED_FOCAL_LENGTH_MM)]
      : []),
    ...(rig.sensorWidthMm === undefined && !calibrated && sensorWidthMm !== undefined
      ? [otherLensTexts.sensorTaken(ASSUMED_SENSOR_WIDTH_MM)]
      : []),
    ...(sensorWidthMm === undefined || sensorWidthMm === usedSensorMm ? [] : [otherLensTexts.sameShape]),
  ];
  const answer = (focalFactor: number): OtherLens => ({
    focalFactor,
    camera: cameraWith(motion.camera, focalFactor, sameLens),
    focalLengthMm: focalLengthMm ?? rig.focalLengthMm ?? null,
    sensorWidthMm: sensorWidthMm ?? rig.sensorWidthMm ?? null,
    assumes,
  });
  if (focalLengthMm === undefined && sensorWidthMm === undefined) return answer(1);
  const lens = focalLengthMm === undefined ? 1 : usedMm === null ? null : focalLengthMm / usedMm;
  const sensor =
    sensorWidthMm === undefined ? 1 : usedSensorMm === null ? null : usedSensorMm / sensorWidthMm;
  if (lens !== null && sensor !== null) return answer(lens * sensor);
  // Without one of the two ratios the pixels of the pass tell, given both millimetres of the other lens.
  const mm = focalLengthMm ?? rig.focalLengthMm;
  const widthMm = sensorWidthMm ?? rig.sensorWidthMm;
  if (mm === undefined) return { refused: otherLensTexts.giveFocal };
  if (widthMm === undefined) return { refused: otherLensTexts.giveSensor };
  const { camera } = motion;
  // On an upright clip the width of the sensor lies along the height.
  const sidePx = Math.max(camera.widthPx, camera.heightPx);
  return answer((mm / widthMm) * (sidePx / camera.focalPx));
}

/** A lens so many times as long on the sensor used. */
function timesAsLong({ rig, motion }: Pick<MeasuredPass, 'rig' | 'motion'>, focalFactor: number): OtherLens {
  return {
    focalFactor,
    camera: cameraWith(motion.camera, focalFactor, false),
    focalLengthMm: rig.focalLengthMm === undefined ? null : focalFactor * rig.focalLengthMm,
    sensorWidthMm: rig.sensorWidthMm ?? null,
    assumes: [otherLensTexts.sameAngles],
  };
}

/**
 * The lens used bends lines on another sensor as it did: distortion is counted in points over the focal length. A sensor that sees
 * more than was calibrated gets none.
 */
function cameraWith(camera: Camera, focalFactor: number, sameLens: boolean): Camera {
  const other = cameraAtFocal(camera, focalFactor);
  return sameLens && focalFactor >= 1 ? { ...other, distortion: camera.distortion } : other;
}
