/**
 * Which smoothing to set (seconds), from the trade-off of crop (per cent of the width) and shake left (px RMS) and the 95 % ranges that
 * grade it; told apart by how sure it is to keep the limits.
 */
import { outcomeOfFigures } from '../judge/index.js';
import type { Ranged, RunDocument } from '../run/index.js';
import {
  surelyWithin,
  withinLimits,
  type CropCurvePoint,
  type CropRanges,
  type RangeFactors,
  type SmoothingStretch,
} from './charts/index.js';

/**
 * What to set. keep: the smoothing of the report; sure: another keeps the limits with the whole ranges; asGood: a weaker one leaves as
 * little for less crop; reserve: another keeps them with the reserve for resampling and measuring error; notSure: another keeps them by
 * its figures alone; none: no smoothing up to that of the report does, and this point comes nearest.
 */
export type SmoothingToSet =
  | { readonly kind: 'keep' }
  | { readonly kind: 'sure' | 'asGood' | 'reserve' | 'notSure'; readonly smoothingS: number }
  | { readonly kind: 'none'; readonly nearest: CropCurvePoint };

/** The ranges of the way that keeps the move, as factors: they are as wide, in proportion, at any smoothing. */
export function rangesAlong({ stabilise, motion, delivery }: RunDocument): CropRanges {
  const keepMove = stabilise.modes.find(({ mode }) => mode === 'keepMove');
  if (keepMove === undefined) return { cropFactors: null, leftFactors: null };
  const open = outcomeOfFigures(motion, { ...stabilise, mode: 'keepMove' }, delivery, keepMove);
  return { cropFactors: factorsOf(open.cropPercent), leftFactors: factorsOf(open.residualPx) };
}

function factorsOf(range: Ranged | null): RangeFactors | null {
  return range === null || !(range.value > 0) ? null : [range.low / range.value, range.high / range.value];
}

/**
 * The smoothing to set; never a stronger one than that of the report, which would take out part of the move. Null where the way has no
 * smoothing, or there is no trade-off.
 */
export function smoothingToSet(run: RunDocument): SmoothingToSet | null {
  const { curve, smoothingS: usedS, recommended, cropPercent } = run.stabilise;
  const { smoothingS: advisedS, reservePercent } = recommended;
  const { delivery } = run;
  if (usedS === null || curve.length < 2) return null;
  const kept = upTo(withinLimits(curve, delivery), usedS);
  const sure = upTo(surelyWithin(curve, delivery, rangesAlong(run)), usedS);
  const advised = (stretches: readonly SmoothingStretch[]): boolean =>
    advisedS !== null && holds(stretches, advisedS);
  const weaker = advisedS !== null && advisedS < usedS;
  if (sure.length > 0) {
    if (holds(sure, usedS))
      return weaker && advised(sure) ? { kind: 'asGood', smoothingS: advisedS } : { kind: 'keep' };
    return { kind: 'sure', smoothingS: advisedS !== null && advised(sure) ? advisedS : strongest(sure) };
  }
  if (kept.length === 0) return { kind: 'none', nearest: nearestTo(run, curve) };
  if (weaker && advised(kept)) {
    const fits = cropPercent + reservePercent <= delivery.maxCropPercent;
    return { kind: fits ? 'asGood' : 'reserve', smoothingS: advisedS };
  }
  return holds(kept, usedS) ? { kind: 'keep' } : { kind: 'notSure', smoothingS: strongest(kept) };
}

function upTo(stretches: readonly SmoothingStretch[], mostS: number): SmoothingStretch[] {
  return stretches.flatMap(([from, to]) => (from <= mostS ? [[from, Math.min(to, mostS)] as const] : []));
}

function holds(stretches: readonly SmoothingStretch[], smoothingS: number): boolean {
  return stretches.some(([from, to]) => from <= smoothingS && smoothingS <= to);
}

/** To two digits, rounded down where that still keeps the limits. */
function strongest(stretches: readonly SmoothingStretch[]): number {
  const [from, to] = stretches[stretches.length - 1];
  const unit = 10 ** (Math.floor(Math.log10(to)) - 1);
  const cut = Number((Math.floor(to / unit + 1e-9) * unit).toPrecision(2));
  return cut >= from ? cut : to;
}

/** The point whose worse figure lies least over its limit. */
function nearestTo(
  { delivery, stabilise: { smoothingS } }: RunDocument,
  curve: readonly CropCurvePoint[],
): CropCurvePoint {
  const { maxCropPercent: cropPercent, maxResidualPx: residualPx } = delivery;
  const over = (point: CropCurvePoint): number =>
    Math.max(point.cropPercent / cropPercent, (point.residualPx ?? 0) / residualPx);
  const allowed = curve.filter((point) => point.smoothingS <= (smoothingS ?? Infinity));
  return (allowed.length > 0 ? allowed : curve).reduce((a, b) => (over(b) < over(a) ? b : a));
}
