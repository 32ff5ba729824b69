/** Which smoothing to set, from the trade-off of crop (per cent of the width) against what is left (delivery px). */
import { stabilisingTexts } from '../../texts/index.js';
import { horizontalCropPercent, LEAST_SHARE } from '../crop/exact-crop.js';
import type { CurvePoint } from '../types.js';

/** Residues closer than this share of the least one look the same. */
const ALIKE_SHARE = 0.03;

/**
 * Why a smoothing is recommended. asWanted: the one wanted; weakerIsAsGood: a weaker one leaves as little and costs
 * less; weakerFits: the one wanted costs more than is accepted; nothingFits: none is accepted, and the one wanted leaves least.
 */
export type SmoothingReason = 'asWanted' | 'weakerIsAsGood' | 'weakerFits' | 'nothingFits';

/** The smoothing to set in the stabiliser. */
export interface SmoothingChoice {
  readonly smoothingS: number;
  /** Zoom with the reserve. */
  readonly zoom: number;
  readonly code: SmoothingReason;
  /** The reason in words for a reader. */
  readonly why: string;
}

/**
 * The best point of the trade-off: among the smoothings up to the one wanted whose crop, reserve included, is accepted,
 * that which leaves least; among those that leave the same within 3 per cent, that which crops least.
 *
 * Stronger smoothing than wanted is never recommended: it would take out part of the move. Where a residue is not
 * known, the strongest smoothing that is accepted is taken.
 *
 * @param curve at least one point, any order
 * @param wantedS smoothing that was asked for, seconds
 * @param reserveShare share of the width to keep beyond the exact crop, see `cropReserve`
 * @throws RangeError when the curve is empty
 */
export function recommendSmoothing(
  curve: readonly CurvePoint[],
  wantedS: number,
  maxCropPercent: number,
  reserveShare: number,
): SmoothingChoice {
  if (curve.length === 0) throw new RangeError('curve must hold at least one point');
  const zoomOf = (point: CurvePoint): number => zoomWithReserve(point.zoom, reserveShare);
  const allowed = curve.filter((point) => point.smoothingS <= wantedS);
  const fitting = allowed.filter((point) => horizontalCropPercent(zoomOf(point)) <= maxCropPercent);
  const chosen = (point: CurvePoint, code: SmoothingReason): SmoothingChoice => ({
    smoothingS: point.smoothingS,
    zoom: zoomOf(point),
    code,
    why: stabilisingTexts.smoothing[code],
  });
  // Following more of the shake does not help a crop that is not accepted anyway.
  if (fitting.length === 0)
    return chosen((allowed.length > 0 ? allowed : curve).reduce(stronger), 'nothingFits');
  const best = leastLeft(fitting);
  if (best.smoothingS === wantedS) return chosen(best, 'asWanted');
  const wantedFits = fitting.some((point) => point.smoothingS === wantedS);
  return chosen(best, wantedFits ? 'weakerIsAsGood' : 'weakerFits');
}

/**
 * The zoom that leaves `reserveShare` of the width unused beyond an exact zoom; limited as that is.
 *
 * @example zoomWithReserve(1.25, 0.001) // 1.2516
 */
export function zoomWithReserve(zoom: number, reserveShare: number): number {
  return 1 / Math.max(1 / zoom - reserveShare, LEAST_SHARE);
}

/** The stronger of two. */
function stronger(a: CurvePoint, b: CurvePoint): CurvePoint {
  return b.smoothingS > a.smoothingS ? b : a;
}

/** The cheaper of two; the stronger of two that cost the same. */
function cheaper(a: CurvePoint, b: CurvePoint): CurvePoint {
  if (b.zoom === a.zoom) return b.smoothingS > a.smoothingS ? b : a;
  return b.zoom < a.zoom ? b : a;
}

function leastLeft(points: readonly CurvePoint[]): CurvePoint {
  const residuals = points.flatMap(({ residualPx }) => (residualPx === null ? [] : [residualPx]));
  if (residuals.length < points.length) return points.reduce((a, b) => (b.smoothingS > a.smoothingS ? b : a));
  const least = Math.min(...residuals);
  return points
    .filter(({ residualPx }) => residualPx !== null && residualPx <= (1 + ALIKE_SHARE) * least)
    .reduce(cheaper);
}
