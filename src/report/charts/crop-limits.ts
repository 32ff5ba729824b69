/** Where along the smoothing (seconds) a trade-off of crop (per cent) and shake left (px RMS) keeps its limits. */

/** One point of the trade-off. */
export interface CropCurvePoint {
  readonly smoothingS: number;
  readonly cropPercent: number;
  readonly residualPx: number | null;
}

/** The most that a delivery accepts. */
export interface CropLimits {
  readonly maxCropPercent: number;
  readonly maxResidualPx: number;
}

/** Both ends of a range as factors on the figure. */
export type RangeFactors = readonly [least: number, most: number];

/** The ranges that decide, carried along the curves in proportion; null where none is known. */
export interface CropRanges {
  readonly cropFactors: RangeFactors | null;
  readonly leftFactors: RangeFactors | null;
}

/** From where to where, seconds. */
export type SmoothingStretch = readonly [fromS: number, toS: number];

/**
 * The stretches of smoothing in which neither limit is passed, straight lines between the points.
 *
 * A curve whose shake left is known nowhere is held against the crop alone; a gap between two points of which one is not known keeps
 * no limit. Stretches without any length are left out.
 *
 * @param points in order of growing smoothing
 * @example withinLimits([{ smoothingS: 1, cropPercent: 1, residualPx: 0.5 }, { smoothingS: 3, cropPercent: 3, residualPx: 0.5 }],
 *   { maxCropPercent: 2, maxResidualPx: 1 }) // [[1, 2]]
 */
export function withinLimits(
  points: readonly CropCurvePoint[],
  { maxCropPercent, maxResidualPx }: CropLimits,
): SmoothingStretch[] {
  const cropAlone = points.every(({ residualPx }) => residualPx === null);
  const found: SmoothingStretch[] = [];
  for (let i = 1; i < points.length; i++) {
    const [a, b] = [points[i - 1], points[i]];
    const crop = below(a.cropPercent, b.cropPercent, maxCropPercent);
    const left = cropAlone ? ALL : below(a.residualPx, b.residualPx, maxResidualPx);
    const [from, to] = [Math.max(crop[0], left[0]), Math.min(crop[1], left[1])];
    if (!(from < to)) continue;
    const at = (share: number): number => a.smoothingS + share * (b.smoothingS - a.smoothingS);
    const last = found.at(-1);
    if (last?.[1] === at(from)) found[found.length - 1] = [last[0], at(to)];
    else found.push([at(from), at(to)]);
  }
  return found;
}

/** The stretches of smoothing that keep both limits with the whole ranges, see {@link withinLimits}: within them the grade is pass. */
export function surelyWithin(
  points: readonly CropCurvePoint[],
  limits: CropLimits,
  { cropFactors, leftFactors }: CropRanges,
): SmoothingStretch[] {
  const [crop, left] = [cropFactors?.[1] ?? 1, leftFactors?.[1] ?? 1];
  const highest = points.map(({ smoothingS, cropPercent, residualPx }) => ({
    smoothingS,
    cropPercent: crop * cropPercent,
    residualPx: residualPx === null ? null : left * residualPx,
  }));
  return withinLimits(highest, limits);
}

/** Shares of the way from one point to the next. */
type Shares = readonly [from: number, to: number];
const ALL: Shares = [0, 1];
const NONE: Shares = [1, 0];

/** The part of a straight line from `a` to `b` that lies at or below `limit`. */
function below(a: number | null, b: number | null, limit: number): Shares {
  if (a === null || b === null) return NONE;
  if (a <= limit && b <= limit) return ALL;
  if (a > limit && b > limit) return NONE;
  const crossing = (limit - a) / (b - a);
  return a <= limit ? [0, crossing] : [crossing, 1];
}
