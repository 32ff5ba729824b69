/** The turning that shakes the picture most, from the RMS of the angles (degrees) and the camera of the run, in px of the picture. */
import { cameraForFrame } from '../optics/index.js';
import { ANGULAR_AXES, hasFigure, type AngularAxis, type RunDocument } from '../run/index.js';
import { picturePxPerUnit } from '../spectrum/index.js';

/** The angular axis with the largest shift of the picture, RMS; null where none has a figure. Roll shifts less than its angle says. */
export function turnsMost({
  rig,
  clip,
  motion,
}: Pick<RunDocument, 'rig' | 'clip' | 'motion'>): AngularAxis | null {
  const { camera } = cameraForFrame(rig, clip, clip);
  const shiftOf = (axis: AngularAxis): number => {
    const { status, rmsDeg } = motion.angular[axis];
    return hasFigure(status) && rmsDeg !== null
      ? rmsDeg * picturePxPerUnit({ camera, depth: null }, axis)
      : 0;
  };
  const [most] = [...ANGULAR_AXES].sort((a, b) => shiftOf(b) - shiftOf(a));
  return shiftOf(most) > 0 ? most : null;
}
