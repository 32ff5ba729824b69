/** What the crew should know beside the verdict: the angular share, the surface grade, blur that stays; none of it decides. */
import {
  classInWords,
  figure,
  type MotionSection,
  type StabiliseSection,
  type SurfaceSection,
} from '../run/index.js';
import type { DeliveryLimits } from './delivery.js';
import { note, type Finding } from './finding.js';
import { blurRange } from './residual.js';

/** The notes that the sections support, in reading order. */
export function notes(
  motion: MotionSection,
  stabilise: StabiliseSection,
  surface: SurfaceSection,
  delivery: DeliveryLimits,
): Finding[] {
  const found: Finding[] = [];
  const { value: share, ci95 } = motion.angularShare;
  if (share !== null)
    found.push(
      note(
        {
          code: 'angular-share',
          text: `${figure(100 * share)} % of the shake is angular${ci95 ? ` (${figure(100 * ci95[0])} to ${figure(100 * ci95[1])} %)` : ''}: that part one warp per frame removes.`,
        },
        { value: share, ci95, unit: 'share' },
      ),
    );
  const blur = blurRange(motion, stabilise);
  if (blur !== null && blur.value > delivery.maxResidualPx)
    found.push(
      note(
        {
          code: 'blur-pulsing',
          text: `After stabilising the sharpness will pulse: motion blur changes by ${figure(blur.value)} px from frame to frame (with the shutter angle of the setup below).`,
        },
        { value: blur.value, ci95: [blur.low, blur.high], unit: 'px' },
      ),
    );
  const { psdAt01CyclesPerM, psdCi95 } = surface;
  if (surface.observable && surface.isoClass !== null)
    found.push(
      note(
        {
          code: 'surface-class',
          text: `The surface grades ${classInWords(surface) ?? surface.isoClass} on the ISO 8608-style scale.`,
        },
        { value: psdAt01CyclesPerM, ci95: psdCi95, unit: 'm^3' },
      ),
    );
  else
    found.push(
      note(
        {
          code: 'surface-not-graded',
          text: `The surface was not graded${surface.reason ? `: ${surface.reason}` : '.'}`,
        },
        { value: null, ci95: null, unit: 'm^3' },
      ),
    );
  return found;
}
