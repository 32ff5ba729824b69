/** The findings that decide a grade: crop (per cent of the width), shake left and rolling-shutter wobble (px RMS of the delivery). */
import type { MotionSection, StabiliseSection } from '../run/index.js';
import { cropFinding } from './crop.js';
import type { DeliveryLimits } from './delivery.js';
import type { Finding } from './finding.js';
import { readoutFinding, residualFinding } from './residual.js';

/** One for the crop, one for the shake left, and one for wobble where it matters; in this order. */
export function decide(
  motion: MotionSection,
  stabilise: StabiliseSection,
  delivery: DeliveryLimits,
): Finding[] {
  const readout = readoutFinding(motion, stabilise, delivery);
  return [
    cropFinding(motion, stabilise, delivery),
    residualFinding(motion, stabilise, delivery),
    ...(readout ? [readout] : []),
  ];
}
