/** Grades what stabilising costs: the crop, in per cent of the frame width, against the most that the crew accepts. */
import {
  boundBeside,
  figureBeside,
  limitFigure,
  percentBeside,
  percentFigure,
  type MotionSection,
  type Ranged,
  type StabiliseSection,
} from '../run/index.js';
import { cropReasonTexts } from '../texts/index.js';
import { shakeGuidance, type DeliveryLimits } from './delivery.js';
import { decided, type Finding } from './finding.js';
import { cropNotNeeded, largestShiftPx } from './pass/grade-figures.js';
import { angularRange } from './relative-range.js';

/**
 * The crop with the range that decides: down to what it would be with the angles at the low end of their measuring error, up to what a
 * repeat of the move needs (19 of 20 stay below), or the high end of the measuring error when that is more.
 *
 * The smoothest path of a repeat fits into the crop that it is given; other ways need more as the shake grows.
 */
export function cropRange(motion: MotionSection, stabilise: StabiliseSection): Ranged {
  const { cropPercent: value, mode } = stabilise;
  const [least, most] = angularRange(motion);
  const growth = mode === 'smoothest' ? 1 : Math.max(repeatGrowth(stabilise), most);
  return { value, low: value * least, high: Math.max(value, Math.min(100, value * growth)) };
}

/** True when the shake stays below what is seen even if nothing is done about it, see `shakeGuidance`. */
export function shakeInvisible(
  motion: MotionSection,
  stabilise: StabiliseSection,
  delivery: DeliveryLimits,
): boolean {
  return cropNotNeeded(cropRange(motion, stabilise), delivery);
}

/**
 * The crop of this pass against the limit: pass or fail when all of {@link cropRange} lies on one side, marginal when the limit lies
 * within. Shake too small to be seen passes whatever the limit; what decides then is its largest shift, px of the delivery.
 */
export function cropFinding(
  motion: MotionSection,
  stabilise: StabiliseSection,
  delivery: DeliveryLimits,
): Finding {
  const range = cropRange(motion, stabilise);
  const limit = delivery.maxCropPercent;
  const crop = percentBeside(range.value, limit);
  const most = limitFigure(limit);
  if (cropNotNeeded(range, delivery)) return notNeeded(range, delivery);

  return decided({ range, limit, unit: '%' }, (outcome) => {
    if (outcome === 'fail')
      return {
        code: 'crop-over-limit',
        text: cropReasonTexts.overLimit(crop, most),
      };
    if (outcome === 'pass')
      return {
        code: 'crop-within-limit',
        text: cropReasonTexts.withinLimit(crop, most, boundBeside(range.high, limit)),
      };
    if (range.value > limit)
      return {
        code: 'crop-at-limit',
        text: cropReasonTexts.justOver(crop, most, figureBeside(range.low, limit)),
      };
    const byError = angularRange(motion)[1] > repeatGrowth(stabilise);
    const words = byError ? cropReasonTexts.errorMayPass : cropReasonTexts.repeatMayPass;
    return { code: 'crop-near-limit', text: words(crop, most, boundBeside(range.high, limit)) };
  });
}

function notNeeded(range: Ranged, delivery: DeliveryLimits): Finding {
  const shift = largestShiftPx(range, delivery);
  const { notVisiblePeakPx: limit } = shakeGuidance(delivery);
  const seen = Number(limit.toPrecision(3));
  return decided({ range: shift, limit, unit: cropReasonTexts.pxPeak }, () => ({
    code: 'crop-not-needed',
    text: cropReasonTexts.notNeeded(
      figureBeside(shift.value, seen),
      limitFigure(seen),
      percentFigure(range.value),
    ),
  }));
}

/** How many times the crop of this pass a repeat of the move may need; the smoothest path of a repeat fits into what it is given. */
export function repeatGrowth({ mode, again }: StabiliseSection): number {
  const { medianPercent, upper95Percent } = again;
  return mode === 'smoothest' || !(medianPercent > 0) ? 1 : upper95Percent / medianPercent;
}
