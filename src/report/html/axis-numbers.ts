/** The figures of one axis of a run in one shape, and which axes shift the picture most. */
import { AXES, hasFigure, isAngular, type Axis, type RunDocument } from '../../run/index.js';
import { picturePxPerUnit } from '../../spectrum/index.js';
import { angularNumbers, translationNumbers, type AxisNumbers } from '../format.js';
import type { ReportBundle } from '../types.js';

/** The figures of an axis, degrees or the unit of translations. */
export function numbersOf({ motion }: RunDocument, axis: Axis): AxisNumbers {
  return axis === 'pan' || axis === 'tilt' || axis === 'roll'
    ? angularNumbers(motion.angular[axis])
    : translationNumbers(motion.translational[axis]);
}

/** What the shake of an axis does to the picture. */
export interface PictureShake {
  readonly axis: Axis;
  /** RMS over the picture, px of the delivery. */
  readonly px: number;
}

/** The axes that have a figure, what shifts the picture most first; translation counts at the mean inverse distance of the scene. */
export function pictureShakes({ run, motion }: ReportBundle): PictureShake[] {
  const deliveryPx = run.delivery.widthPx / motion.camera.widthPx;
  return AXES.flatMap((axis): PictureShake[] => {
    const { status, rms } = numbersOf(run, axis);
    if (!hasFigure(status) || rms === null) return [];
    const perUnit = isAngular(axis) ? Math.PI / 180 : motion.translationUnit === 'm' ? 1e-3 : 1e-2;
    return [{ axis, px: rms * perUnit * picturePxPerUnit(motion, axis) * deliveryPx }];
  }).sort((a, b) => b.px - a.px);
}
