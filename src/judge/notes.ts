/** What the crew should know beside the verdict: the angular share, the surface grade, blur that stays; none of it decides. */
import {
  classInWords,
  figure,
  type MotionSection,
  type StabiliseSection,
  type SurfaceSection,
} from '../run/index.js';
import type { DeliveryLimits } from './delivery.js';
import type { Finding, Reason } from './finding.js';

function note(reason: Omit<Reason, 'limit'>): Finding {
  return { outcome: 'note', reason: { ...reason, limit: null } };
}

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
      note({
        code: 'angular-share',
        text: `${figure(100 * share)} % of the shake is angular${ci95 ? ` (${figure(100 * ci95[0])} to ${figure(100 * ci95[1])} %)` : ''}: that part one warp per frame removes.`,
        value: share,
        unit: 'share',
      }),
    );
  const { blurPx } = stabilise.residual;
  if (blurPx !== null && blurPx > delivery.maxResidualPx)
    found.push(
      note({
        code: 'blur-pulsing',
        text: `Motion blur changes by ${figure(blurPx)} px from frame to frame (with the shutter angle of the setup below); after stabilising the sharpness will pulse.`,
        value: blurPx,
        unit: 'px',
      }),
    );
  if (surface.observable && surface.isoClass !== null)
    found.push(
      note({
        code: 'surface-class',
        text: `The surface grades ${classInWords(surface) ?? surface.isoClass} on the ISO 8608-style scale.`,
        value: surface.psdAt01CyclesPerM,
        unit: 'm^3',
      }),
    );
  else
    found.push(
      note({
        code: 'surface-not-graded',
        text: `The surface was not graded${surface.reason ? `: ${surface.reason}` : '.'}`,
        value: null,
        unit: 'm^3',
      }),
    );
  return found;
}
