/**
 * One lens and one delivery for the crops of all passes: shake in degrees needs no lens, but its crop grows with the focal length, and
 * for pan and tilt otherwise than for roll. Crops are therefore computed anew from the angles, never scaled.
 */
import type { Camera } from '../../optics/index.js';
import { figure, type Comparison, type ResolvedDelivery } from '../../run/index.js';
import { comparisonTexts } from '../../texts/index.js';
import type { ComparedPass } from './types.js';

/** The lens and the delivery that all crops of a comparison are worked out for. */
export interface CommonLens {
  readonly camera: Camera;
  readonly delivery: ResolvedDelivery;
  readonly words: Comparison['common'];
}

/** Views closer than this, as a factor of the focal length over the width, are one. */
const SAME_VIEW = 1.001;

/**
 * The longest lens of all passes (narrowest view), as it stood on its camera: crops are largest there, and none is foretold for a
 * longer lens than was used. Where lenses differ its distortion is left out, for shake of another lens never went through it.
 *
 * @param passes at least one; the delivery is that of the first
 */
export function commonLens(passes: readonly ComparedPass[]): CommonLens {
  const reach = ({ focalPx, widthPx }: Camera): number => focalPx / widthPx;
  const reaches = passes.map(({ pass }) => reach(pass.motion.camera));
  const longest = passes[reaches.indexOf(Math.max(...reaches))].pass;
  const { camera } = longest.motion;
  const one = Math.max(...reaches) / Math.min(...reaches) <= SAME_VIEW;
  const { delivery } = passes[0].pass;
  const { focalLengthMm = null, sensorWidthMm = null } = longest.rig;
  const lens =
    focalLengthMm === null
      ? null
      : { mm: figure(focalLengthMm), sensorMm: sensorWidthMm === null ? null : figure(sensorWidthMm) };
  return {
    camera: one ? camera : { ...camera, distortion: null },
    delivery,
    words: {
      focalLengthMm,
      sensorWidthMm,
      words: comparisonTexts.commonLens(lens, one, delivery.widthPx, delivery.heightPx),
      delivery: { widthPx: delivery.widthPx, heightPx: delivery.heightPx },
    },
  };
}
