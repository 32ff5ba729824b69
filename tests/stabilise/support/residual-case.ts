/** The residual of a made-up motion, with the plainest answer to everything that a test does not ask about. */
import { residualOf, type ResidualInput } from '../../../src/stabilise/index.js';
import { smoothingOf, vibrationAt } from '../../../src/stabilise/path/vibration-at.js';
import type { Residual } from '../../../src/stabilise/residual/residual-types.js';
import type { Motion } from '../../../src/motion/index.js';
import { plainCamera } from '../../optics/support/plain-camera.js';
import { madeMotion, type MadeMotion } from './made-motion.js';

/** A narrow lens on a 960 x 540 frame: figures of the middle hold for all of the picture. */
export const NARROW = plainCamera(960, 540, 3000);

/** px per radian of pan or tilt; roll and axial moves have this lever over the focal length. */
export const NARROW_LEVER = Math.hypot(960, 540) / Math.sqrt(12);

/** Keeps the move at the motion's own smoothing, delivers the whole frame, 20 ms exposure, readout unknown. */
export function residualInput(motion: Motion, changes: Partial<ResidualInput> = {}): ResidualInput {
  return {
    motion,
    band: vibrationAt(motion, smoothingOf(motion)),
    correctionsVibration: motion.vibration,
    camera: NARROW,
    pxScale: 1,
    times: { exposureS: 0.02, readoutS: null },
    rowsCorrected: false,
    delivery: { widthPx: 960, heightPx: 540, viewingDistanceHeights: 6 },
    ...changes,
  };
}

export function residualCase(made: MadeMotion, changes: Partial<ResidualInput> = {}): Residual {
  return residualOf(residualInput(madeMotion(made), changes));
}
