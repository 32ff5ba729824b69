/** Grades what stabilising costs: the crop, in per cent of the frame width, against the most that the crew accepts. */
import {
  boundBeside,
  figure,
  limitFigure,
  percentBeside,
  type MotionSection,
  type StabiliseSection,
} from '../run/index.js';
import { shakeGuidance, type DeliveryLimits } from './delivery.js';
import type { Finding } from './finding.js';
import { relativeRange } from './relative-range.js';

/** Largest shift that the crop stands for, px of the delivery: half the crop, since it is taken from both sides. */
export function largestShiftPx(cropPercent: number, delivery: DeliveryLimits): number {
  return (cropPercent / 200) * delivery.widthPx;
}

/** True when the shake stays below what is seen even if nothing is done about it, see `shakeGuidance`. */
export function shakeInvisible(stabilise: StabiliseSection, delivery: DeliveryLimits): boolean {
  const { notVisiblePeakPx } = shakeGuidance(delivery);
  return largestShiftPx(stabilise.cropPercent, delivery) <= notVisiblePeakPx;
}

/**
 * The crop of this pass against the limit.
 *
 * Over the limit: fail, or marginal when the measuring error of the angles reaches back across it. Under it: pass when a
 * repeat of the move fits as well, else marginal. Shake too small to be seen passes whatever the limit.
 */
export function cropFinding(
  motion: MotionSection,
  stabilise: StabiliseSection,
  delivery: DeliveryLimits,
): Finding {
  const value = stabilise.cropPercent;
  const limit = delivery.maxCropPercent;
  const crop = percentBeside(value, limit);
  const most = limitFigure(limit);
  const because = (outcome: Finding['outcome'], code: string, text: string): Finding => ({
    outcome,
    reason: { code, text, value, limit, unit: '%' },
  });
  if (shakeInvisible(stabilise, delivery))
    return because(
      'pass',
      'crop-not-needed',
      `The angular shake is too small to be seen: it moves the picture by no more than ${figure(largestShiftPx(value, delivery))} px of the delivery. Stabilising would cost ${crop} % of the frame width; ${most} % is allowed.`,
    );
  const { pan, tilt, roll } = motion.angular;
  const range = relativeRange(
    [pan, tilt, roll].map(({ status, rmsDeg, ci95Deg, belowDeg }) => ({
      status,
      rms: rmsDeg,
      ci95: ci95Deg,
      below: belowDeg,
    })),
  ) ?? [1, 1];
  if (value > limit) {
    const least = value * range[0];
    if (least > limit)
      return because(
        'fail',
        'crop-over-limit',
        `Stabilising costs too much: ${crop} % of the frame width; ${most} % is allowed.`,
      );
    return because(
      'marginal',
      'crop-at-limit',
      `Stabilising costs ${crop} % of the frame width and ${most} % is allowed, but the measuring error reaches down to ${figure(least)} %.`,
    );
  }
  const { medianPercent, upper95Percent } = stabilise.again;
  // The smoothest path of a repeat fits into the crop that it is given; other ways need more as the shake grows.
  const growth =
    stabilise.mode === 'smoothest'
      ? 1
      : Math.max(medianPercent > 0 ? upper95Percent / medianPercent : 1, range[1]);
  const repeat = value * growth;
  if (repeat > limit)
    return because(
      'marginal',
      'crop-near-limit',
      `Stabilising this pass costs ${crop} % of the frame width and ${most} % is allowed, with little to spare: a repeat may need up to ${boundBeside(repeat, limit)} % (19 of 20 stay below).`,
    );
  return because(
    'pass',
    'crop-within-limit',
    `Stabilising costs ${crop} % of the frame width; ${most} % is allowed, and a repeat of the move should fit too (up to ${boundBeside(repeat, limit)} %).`,
  );
}
