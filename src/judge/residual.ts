/**
 * Grades what stabilising leaves: translational shake (parallax) that no warp removes, and rolling-shutter wobble, in px RMS of
 * the delivery against the most that the crew accepts.
 */
import {
  boundBeside,
  figureBeside,
  limitFigure,
  type MotionSection,
  type Ranged,
  type StabiliseSection,
} from '../run/index.js';
import { leftReasonTexts } from '../texts/index.js';
import type { DeliveryLimits } from './delivery.js';
import { decided, rangeOf, undecided, type Finding } from './finding.js';
import { angularRange, translationalRange, type RelativeRange } from './relative-range.js';

/**
 * Parallax below this many times the tracking noise cannot be told from no parallax at all: a camera that only turns shows 1.3
 * to 1.5 (own measurement on made-up tracks).
 */
export const PARALLAX_SEEN = 3;

const UNIT = 'px RMS';

/** The residual as the plan gives it: all that is left, or its parallax part alone; null when neither is known. */
export function residualRmsPx({ residual }: StabiliseSection): number | null {
  return residual.rmsPx ?? residual.parallaxPx;
}

/** True when most of what stays is angular shake that the chosen path follows, rather than translation that nothing removes. */
export function pathDecides({ residual: { causes } }: StabiliseSection): boolean {
  const { path, translation, readout } = causes;
  return path.rmsPx > (translation?.rmsPx ?? 0) && path.rmsPx > (readout?.rmsPx ?? 0);
}

/**
 * The residual with its 95 % range: what comes from translation lies within the range of the translational axes, what comes from turns
 * (path, rolling shutter) within that of the angles, and noise is known.
 */
export function residualRange(motion: MotionSection, stabilise: StabiliseSection, value: number): Ranged {
  const { translation, path, readout, tracking } = stabilise.residual.causes;
  const moved = translationalRange(motion);
  const turned = angularRange(motion);
  const parts: readonly (readonly [number, RelativeRange])[] = [
    [translation?.rmsPx ?? 0, moved],
    [path.rmsPx, turned],
    [readout?.rmsPx ?? 0, turned],
    [tracking.rmsPx, [1, 1]],
  ];
  const joint = (end: 0 | 1 | null): number =>
    Math.hypot(...parts.map(([px, factors]) => px * (end === null ? 1 : factors[end])));
  const all = joint(null);
  return rangeOf(value, all > 0 ? [joint(0) / all, joint(1) / all] : moved);
}

/**
 * The residual against the limit.
 *
 * Pass or fail when the whole 95 % range lies on one side, marginal when it straddles the limit. Where translation cannot be
 * told from rotation the picture never passes on that silently: it passes on a bound that lies under the limit, or when
 * parallax itself is below the tracking noise (PARALLAX_SEEN); otherwise it is marginal and says why.
 */
export function residualFinding(
  motion: MotionSection,
  stabilise: StabiliseSection,
  delivery: DeliveryLimits,
): Finding {
  const value = residualRmsPx(stabilise);
  const limit = delivery.maxResidualPx;
  const { observable } = motion.translational;
  if (observable === 'no' || value === null) return notTold(motion, value, limit);

  const left = figureBeside(value, limit);
  const most = limitFigure(limit);
  const doubtful = motion.unreliable.filter(({ axis }) => axis === 'lateral' || axis === 'vertical');
  if (doubtful.length > 0)
    return undecided(value, limit, UNIT, {
      code: 'residual-not-reliable',
      text: leftReasonTexts.notReliable(
        left,
        most,
        doubtful.map(({ axis }) => axis),
        doubtful[0].reason,
      ),
    });

  const range = residualRange(motion, stabilise, value);
  const weak = observable === 'flagged';
  return decided({ range, limit, unit: UNIT }, (outcome) => {
    if (outcome === 'fail')
      return {
        code: 'residual-over-limit',
        text: leftReasonTexts.overLimit(left, most, pathDecides(stabilise) ? 'path' : 'translation', weak),
      };
    if (outcome === 'pass')
      return {
        code: 'residual-within-limit',
        text: leftReasonTexts.withinLimit(left, most, weak),
      };
    const ends = [figureBeside(range.low, limit), boundBeside(range.high, limit)] as const;
    return { code: 'residual-at-limit', text: leftReasonTexts.atLimit(left, ends, most, weak) };
  });
}

/** Translation could not be told from rotation, or is not known: a bound at best. */
function notTold(
  { translational: { parallaxP, reason } }: MotionSection,
  boundPx: number | null,
  limit: number,
): Finding {
  const most = limitFigure(limit);
  const nothingShifts = parallaxP !== null && parallaxP < PARALLAX_SEEN;
  const belowNoise = (times: number): { code: string; text: string } => ({
    code: 'residual-below-noise',
    text: leftReasonTexts.belowNoise(figureBeside(times, PARALLAX_SEEN), PARALLAX_SEEN),
  });
  if (boundPx === null) {
    if (!nothingShifts)
      return undecided(null, limit, UNIT, {
        code: 'translation-not-measured',
        text: leftReasonTexts.notMeasured(reason),
      });
    // Parallax is a ratio over all pairs of frames: it comes without a range.
    const told = belowNoise(parallaxP);
    const margin = PARALLAX_SEEN - parallaxP;
    const unit = leftReasonTexts.timesTheNoise;
    return {
      outcome: 'pass',
      reason: { ...told, value: parallaxP, limit: PARALLAX_SEEN, margin, ci95: null, unit },
    };
  }
  return decided({ range: { value: boundPx, low: 0, high: boundPx }, limit, unit: UNIT }, (outcome) => {
    const bound = figureBeside(boundPx, limit);
    if (outcome !== 'pass')
      return {
        code: 'translation-not-measured',
        text: leftReasonTexts.notMeasuredBound(bound, most, reason),
      };
    if (nothingShifts) return belowNoise(parallaxP);
    return {
      code: 'residual-bound-within-limit',
      text: leftReasonTexts.boundWithinLimit(bound, most, reason),
    };
  });
}

/**
 * Rolling-shutter wobble, px RMS. What stays of it hangs on the stabiliser: the range goes from what is left when the rows are
 * corrected (nothing, where that is not known) to what a warp of whole frames leaves, the error of the angles in both.
 *
 * @returns null when it is unknown, or within the limit whatever the stabiliser does
 */
export function readoutFinding(
  motion: MotionSection,
  stabilise: StabiliseSection,
  delivery: DeliveryLimits,
): Finding | null {
  const { readoutPx: value, causes } = stabilise.residual;
  const limit = delivery.maxResidualPx;
  if (value === null) return null;
  const [least, most] = angularRange(motion);
  const rowsPx = stabilise.rowsCorrected ? Math.min(value, causes.readout?.rmsPx ?? 0) : 0;
  const range = { value, low: rowsPx * least, high: value * most };
  const [whole, byRows] = [figureBeside(value, limit), figureBeside(rowsPx, limit)];
  const finding = decided({ range, limit, unit: UNIT }, (outcome) => ({
    code: 'readout-wobble',
    text:
      outcome === 'fail'
        ? leftReasonTexts.wobbleEvenByRows(whole, byRows, limitFigure(limit))
        : leftReasonTexts.wobble(whole, limitFigure(limit)),
  }));
  return finding.outcome === 'pass' ? null : finding;
}

/** How far motion blur pulses, px, with its range. @returns null when it is not known */
export function blurRange(motion: MotionSection, { residual: { blurPx } }: StabiliseSection): Ranged | null {
  return blurPx === null ? null : rangeOf(blurPx, angularRange(motion));
}
