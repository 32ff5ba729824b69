/** What the frames of the clip show of a setting: corrections in radians, zoom from the whole frame. */
import { heightPerWidth, type BareWay } from '../../stabilise/index.js';
import { wayFor } from '../what-if/foretold.js';
import { asMeasured, isMeasuredMotion, type Setting } from '../what-if/setting.js';
import type { LiveView } from './types.js';

/** A lens that differs by less is the same: millimetres are rounded. */
const SAME_LENS = 1e-6;

/**
 * The view.
 *
 * The clip holds one speed, one dolly and one lens. A longer lens sees the middle of its frames, so that its window is shown where it
 * would lie; a wider one sees more than there is, and another motion is not in the frames: the way is then shown on what was filmed.
 *
 * @param way of the setting
 */
export function viewOf(setting: Setting, way: BareWay): LiveView {
  const { pass, camera, delivery } = setting;
  const { motion } = pass;
  const longer = camera.focalPx / motion.camera.focalPx;
  const shape = heightPerWidth(delivery);
  const view = { timeS: motion.timeS, camera: motion.camera, shape };
  const lacks = !isMeasuredMotion(setting) ? 'speed' : longer < 1 - SAME_LENS ? 'widerLens' : null;
  if (lacks === null)
    return { ...view, corrections: way.corrections, zoom: way.crop.zoom * Math.max(1, longer), lacks };
  const filmed: Setting = { ...asMeasured(pass), delivery, choice: setting.choice };
  const shown = wayFor(filmed, motion);
  return { ...view, corrections: shown.corrections, zoom: shown.crop.zoom, lacks };
}
