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
      text: `How much shake stays after stabilising is not certain: about ${left} px (${most} px are allowed), but ${doubtful.map(({ axis }) => axis).join(' and ')} motion is not reliable in this clip. ${doubtful[0].reason}`,
    });

  const range = residualRange(motion, stabilise, value);
  const weak = observable === 'flagged' ? ' Parallax is weak in this clip, so the range is wide.' : '';
  return decided({ range, limit, unit: UNIT }, (outcome) => {
    if (outcome === 'fail')
      return {
        code: 'residual-over-limit',
        text: `Too much shake stays after stabilising: ${left} px; ${most} px are allowed. ${
          pathDecides(stabilise)
            ? 'Most of it is angular shake that the chosen path still follows.'
            : 'It comes from translation, which taking out the angles does not touch.'
        }${weak}`,
      };
    if (outcome === 'pass')
      return {
        code: 'residual-within-limit',
        text: `Little shake stays after stabilising: ${left} px; ${most} px are allowed.${weak}`,
      };
    return {
      code: 'residual-at-limit',
      text: `The shake that stays after stabilising cannot be told from the limit: ${left} px (${figureBeside(range.low, limit)} to ${boundBeside(range.high, limit)} px); ${most} px are allowed.${weak}`,
    };
  });
}

/** Translation could not be told from rotation, or is not known: a bound at best. */
function notTold(
  { translational: { parallaxP, reason } }: MotionSection,
  boundPx: number | null,
  limit: number,
): Finding {
  const why = reason === null ? '' : ` ${sentence(reason)}`;
  const most = limitFigure(limit);
  const nothingShifts = parallaxP !== null && parallaxP < PARALLAX_SEEN;
  const belowNoise = (times: number): { code: string; text: string } => ({
    code: 'residual-below-noise',
    text: `Nothing shifts against anything else by more than the tracking noise (parallax ${figureBeside(times, PARALLAX_SEEN)} times the noise, ${PARALLAX_SEEN} are needed to see any): stabilising leaves nothing that this clip can show. Translation itself was not measured.`,
  });
  if (boundPx === null) {
    if (!nothingShifts)
      return undecided(null, limit, UNIT, {
        code: 'translation-not-measured',
        text: `The translation could not be measured, so what stabilising leaves is not known.${why}`,
      });
    // Parallax is a ratio over all pairs of frames: it comes without a range.
    const told = belowNoise(parallaxP);
    const margin = PARALLAX_SEEN - parallaxP;
    const unit = 'times the noise';
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
        text: `The translation could not be measured, so what stabilising leaves is not known. One warp leaves up to ${bound} px (limit ${most} px).${why}`,
      };
    if (nothingShifts) return belowNoise(parallaxP);
    return {
      code: 'residual-bound-within-limit',
      text: `Translation could not be told from rotation, but what one warp leaves is at most ${bound} px; ${most} px are allowed.${why}`,
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
  const finding = decided({ range, limit, unit: UNIT }, (outcome) => ({
    code: 'readout-wobble',
    text:
      outcome === 'fail'
        ? `The rolling shutter bends the picture within each frame: ${figureBeside(value, limit)} px when whole frames are warped, and ${figureBeside(rowsPx, limit)} px even when the rows are corrected; ${limitFigure(limit)} px are allowed.`
        : `The rolling shutter bends the picture within each frame: a stabiliser that warps whole frames leaves ${figureBeside(value, limit)} px of that; ${limitFigure(limit)} px are allowed.`,
  }));
  return finding.outcome === 'pass' ? null : finding;
}

/** How far motion blur pulses, px, with its range. @returns null when it is not known */
export function blurRange(motion: MotionSection, { residual: { blurPx } }: StabiliseSection): Ranged | null {
  return blurPx === null ? null : rangeOf(blurPx, angularRange(motion));
}

function sentence(text: string): string {
  const capital = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(capital) ? capital : `${capital}.`;
}
