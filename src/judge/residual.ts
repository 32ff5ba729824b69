/**
 * Grades what stabilising leaves: translational shake (parallax) that no warp removes, and rolling-shutter wobble, in px RMS of
 * the delivery against the most that the crew accepts.
 */
import {
  figure,
  figureBeside,
  limitFigure,
  type MotionSection,
  type StabiliseSection,
} from '../run/index.js';
import type { DeliveryLimits } from './delivery.js';
import type { Finding } from './finding.js';
import { relativeRange } from './relative-range.js';

/**
 * Parallax below this many times the tracking noise cannot be told from no parallax at all: a camera that only turns shows 1.3
 * to 1.5 (own measurement on made-up tracks).
 */
export const PARALLAX_SEEN = 3;

/** Half width of the range taken where the translation comes without an interval, as a share of the value. */
export const RESIDUAL_MARGIN = 0.1;

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
  const most = limitFigure(limit);
  const because = (outcome: Finding['outcome'], code: string, text: string): Finding => ({
    outcome,
    reason: { code, text, value, limit, unit: UNIT },
  });
  const { observable, parallaxP, lateral, vertical, axial, reason } = motion.translational;

  if (observable === 'no' || value === null) {
    const why = reason === null ? '' : ` ${sentence(reason)}`;
    const under = value === null || value <= limit;
    if (parallaxP !== null && parallaxP < PARALLAX_SEEN && under)
      return because(
        'pass',
        'residual-below-noise',
        `Nothing shifts against anything else by more than the tracking noise (parallax ${figure(parallaxP)} times the noise, ${PARALLAX_SEEN} are needed to see any): stabilising leaves nothing that this clip can show. Translation itself was not measured.`,
      );
    if (value !== null && under)
      return because(
        'pass',
        'residual-bound-within-limit',
        `Translation could not be told from rotation, but what one warp leaves is at most ${figureBeside(value, limit)} px; ${most} px are allowed.${why}`,
      );
    const bound =
      value === null ? '' : ` One warp leaves up to ${figureBeside(value, limit)} px (limit ${most} px).`;
    return because(
      'marginal',
      'translation-not-measured',
      `The translation could not be measured, so what stabilising leaves is not known.${bound}${why}`,
    );
  }

  const doubtful = motion.unreliable.filter(({ axis }) => axis === 'lateral' || axis === 'vertical');
  if (doubtful.length > 0)
    return because(
      'marginal',
      'residual-not-reliable',
      `About ${figureBeside(value, limit)} px of shake stay after stabilising (${most} px are allowed), but ${doubtful.map(({ axis }) => axis).join(' and ')} motion is not reliable in this clip. ${doubtful[0].reason}`,
    );

  // Moves along the lens shift the picture only towards its edges: they count when nothing else is known.
  const known = relativeRange([lateral, vertical]) ?? relativeRange([axial]);
  const [low, high] = known ?? [1 - RESIDUAL_MARGIN, 1 + RESIDUAL_MARGIN];
  const least = value * low;
  const greatest = value * high;
  const left = figureBeside(value, limit);
  const weak = observable === 'flagged' ? ' Parallax is weak in this clip, so the range is wide.' : '';
  if (least > limit)
    return because(
      'fail',
      'residual-over-limit',
      pathDecides(stabilise)
        ? `Too much shake stays after stabilising: ${left} px; ${most} px are allowed. Most of it is angular shake that the chosen path still follows.${weak}`
        : `Too much shake stays after stabilising: ${left} px; ${most} px are allowed. It comes from translation, which taking out the angles does not touch.${weak}`,
    );
  if (greatest <= limit)
    return because(
      'pass',
      'residual-within-limit',
      `Little shake stays after stabilising: ${left} px; ${most} px are allowed.${weak}`,
    );
  const range = `${figureBeside(least, limit)} to ${figureBeside(greatest, limit)} px`;
  return because(
    'marginal',
    'residual-at-limit',
    `The shake that stays after stabilising, ${left} px (${range}), cannot be told from the limit of ${most} px.${weak}`,
  );
}

/** Rolling-shutter wobble that one warp per frame leaves; null when it is unknown or under the limit. */
export function readoutFinding(stabilise: StabiliseSection, delivery: DeliveryLimits): Finding | null {
  const value = stabilise.residual.readoutPx;
  const limit = delivery.maxResidualPx;
  if (value === null || value <= limit) return null;
  return {
    outcome: 'marginal',
    reason: {
      code: 'readout-wobble',
      text: `The rolling shutter bends the picture within each frame by ${figureBeside(value, limit)} px; a stabiliser that warps whole frames leaves that (${limitFigure(limit)} px are allowed).`,
      value,
      limit,
      unit: UNIT,
    },
  };
}

function sentence(text: string): string {
  const capital = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(capital) ? capital : `${capital}.`;
}
