/** How far a small motion of one axis shifts the picture, RMS over the picture, px. */
import type { Motion } from '../motion/index.js';
import type { Axis } from '../run/index.js';

/**
 * Shift of the picture for one unit of motion: radians for angles, the unit of translation of the motion.
 *
 * Pan and tilt shift all of it by the focal length, roll by the distance from the middle; lateral and vertical by the focal length over
 * the depth (mean of the inverse), axial by the distance from the middle over the depth. 0 for translation without a depth.
 *
 * @returns px of the analysed picture
 */
export function picturePxPerUnit({ camera, depth }: Pick<Motion, 'camera' | 'depth'>, axis: Axis): number {
  const { focalPx, widthPx, heightPx } = camera;
  const fromMiddlePx = Math.sqrt((widthPx ** 2 + heightPx ** 2) / 12);
  const perDepth = depth?.meanInverse ?? 0;
  switch (axis) {
    case 'pan':
    case 'tilt':
      return focalPx;
    case 'roll':
      return fromMiddlePx;
    case 'lateral':
    case 'vertical':
      return focalPx * perDepth;
    case 'axial':
      return fromMiddlePx * perDepth;
  }
}
