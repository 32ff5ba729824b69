/**
 * The camera of an analysis frame, from what the crew wrote down about lens and sensor; what they did not is assumed aloud.
 */
import { TrundleError, type Assumption, type Rig } from '../run/index.js';
import { assumedDistortionTexts, assumedLensTexts } from '../texts/index.js';
import type { Camera } from './camera.js';
import { fieldOfViewDeg, focalPxFromMm } from './field-of-view.js';
import { isOneToOne } from './lens-distortion.js';

/** A picture size in pixels. */
export interface PictureSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Taken when the crew names no lens. */
export const ASSUMED_FOCAL_LENGTH_MM = 35;
/** Taken when the crew names no sensor. */
export const ASSUMED_SENSOR_WIDTH_MM = 36;
/** Views wider than this bend straight lines enough to matter: lenses shorter than 50 mm on full frame. */
const WIDE_VIEW_DEG = 40;

/** Whether lenses of this view usually bend lines enough to matter when their distortion is not known. */
export function isWideView({
  widthPx,
  heightPx,
  focalPx,
}: Pick<Camera, 'widthPx' | 'heightPx' | 'focalPx'>): boolean {
  return fieldOfViewDeg(Math.max(widthPx, heightPx), focalPx) >= WIDE_VIEW_DEG;
}

function checkSize(name: string, size: PictureSize): void {
  if (!(size.widthPx > 0 && size.heightPx > 0)) {
    throw new RangeError(`${name} must have a positive size, got ${size.widthPx} x ${size.heightPx}`);
  }
}

/**
 * The camera of a frame, and the list of what had to be assumed.
 *
 * `rig.focalPx` counts in pixels of a picture of width `rig.focalPxWidth` (the source's when missing) and is scaled to the
 * frame; it wins over millimetres. Otherwise the focal
 * length is focalLengthMm * side / sensorWidthMm, where side is the longer side of the frame: on an upright clip the
 * sensor's width lies along the height. The optical centre is taken in the middle of the frame, (W-1)/2.
 *
 * @param source size of the clip as shown, square pixels
 * @param frame size of the frames that are analysed: the whole picture of the source, made smaller
 * @throws RangeError when a size is not positive
 * @throws TrundleError `rig-invalid` when the lens distortion folds the picture over before its corners
 * @example cameraForFrame({ focalPx: 2000 }, { widthPx: 1920, heightPx: 1080 }, { widthPx: 960, heightPx: 540 }).camera.focalPx // 1000
 */
export function cameraForFrame(
  rig: Rig,
  source: PictureSize,
  frame: PictureSize,
): { camera: Camera; assumed: Assumption[] } {
  checkSize('source', source);
  checkSize('frame', frame);
  const assumed: Assumption[] = [];
  const focalPx =
    rig.focalPx === undefined
      ? focalFromMm(rig, frame, assumed)
      : (rig.focalPx * frame.widthPx) / (rig.focalPxWidth ?? source.widthPx);
  if (!rig.lensDistortion) noteMissingDistortion(focalPx, frame, assumed);
  else if (!isOneToOne(rig.lensDistortion, Math.hypot(frame.widthPx, frame.heightPx) / (2 * focalPx)))
    throw new TrundleError(
      'rig-invalid',
      'The lens distortion of the rig folds the picture over before its corners, so it cannot be of this lens at this focal length: check signs and focal length, or find both with "trundle lens".',
    );
  const camera: Camera = {
    widthPx: frame.widthPx,
    heightPx: frame.heightPx,
    focalPx,
    centreXPx: (frame.widthPx - 1) / 2,
    centreYPx: (frame.heightPx - 1) / 2,
    distortion: rig.lensDistortion ?? null,
  };
  return { camera, assumed };
}

function focalFromMm(rig: Rig, frame: PictureSize, assumed: Assumption[]): number {
  const focalLengthMm = rig.focalLengthMm ?? ASSUMED_FOCAL_LENGTH_MM;
  const sensorWidthMm = rig.sensorWidthMm ?? ASSUMED_SENSOR_WIDTH_MM;
  if (rig.focalLengthMm === undefined) {
    assumed.push({
      name: 'focalLengthMm',
      value: assumedLensTexts.focalLength.value(ASSUMED_FOCAL_LENGTH_MM),
      matters: assumedLensTexts.focalLength.matters,
    });
  }
  if (rig.sensorWidthMm === undefined) {
    assumed.push({
      name: 'sensorWidthMm',
      value: assumedLensTexts.sensorWidth.value(ASSUMED_SENSOR_WIDTH_MM),
      matters: assumedLensTexts.sensorWidth.matters,
    });
  }
  if (frame.heightPx > frame.widthPx) {
    assumed.push(assumedLensTexts.upright);
  }
  return focalPxFromMm(focalLengthMm, sensorWidthMm, Math.max(frame.widthPx, frame.heightPx));
}

function noteMissingDistortion(focalPx: number, frame: PictureSize, assumed: Assumption[]): void {
  if (!isWideView({ ...frame, focalPx })) return;
  assumed.push({
    name: 'lensDistortion',
    ...assumedDistortionTexts.wideLens,
  });
}
