/** A camera without distortion, centred, for tests. */
import type { Camera } from '../../../src/optics/index.js';

export function plainCamera(widthPx = 960, heightPx = 540, focalPx = 960): Camera {
  return {
    widthPx,
    heightPx,
    focalPx,
    centreXPx: (widthPx - 1) / 2,
    centreYPx: (heightPx - 1) / 2,
    distortion: null,
  };
}
