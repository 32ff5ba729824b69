/**
 * The settings of the smoothing slider: for smoothings (s) between the weakest and the strongest of the trade-off, the crop (per cent of
 * the width, px of the delivery), the shake left (px RMS), whether that passes, and where the window lies in the pictured frame.
 */
import { figuresOf, gradeFigures, passOfRun, type MeasuredPass } from '../judge/index.js';
import type { PredictedOutcome, Ranged, RunDocument } from '../run/index.js';
import { tighterFocalLengthMm } from '../stabilise/index.js';
import type { LimitHit } from '../texts/index.js';
import { deliveryWindow, type RangeFactors } from './charts/index.js';
import { picturedSample } from './crop-windows.js';
import { rangesAlong } from './smoothing-to-set.js';
import type { ReportBundle } from './types.js';

/** One setting. */
export interface CropStep {
  readonly smoothingS: number;
  /** The setting of the report. */
  readonly chosen: boolean;
  readonly cropPercent: number;
  readonly cropPx: number;
  /** Null where it is not known. */
  readonly residualPx: number | null;
  readonly grade: PredictedOutcome['grade'];
  /** Which of the limits keeps it from pass; null where none does. */
  readonly hit: LimitHit | null;
  /** The lens that would frame the same without crop; null where the lens is not known. */
  readonly lensMm: number | null;
  /** The window in the pictured frame, and in the frame that decides its size: see `deliveryWindow`. */
  readonly window: Float64Array;
  readonly deciding: Float64Array;
}

/** Neighbours of the trade-off that lie further apart than this factor get a setting between them. */
const WIDE_GAP = 1.3;

/**
 * The smoothings to offer: those of the trade-off, and one in the middle of each wide gap, ascending.
 * @example sliderSmoothings([0.25, 0.5, 0.6]) // [0.25, 0.35, 0.5, 0.6]
 */
export function sliderSmoothings(curveS: readonly number[]): number[] {
  const sorted = [...curveS].sort((a, b) => a - b);
  return sorted.flatMap((s, i) => {
    const next = sorted[i + 1] ?? s;
    return next > WIDE_GAP * s ? [s, Number(Math.sqrt(s * next).toPrecision(2))] : [s];
  });
}

/**
 * The settings, ascending; empty where the way does not keep the move, or there is no trade-off.
 *
 * The setting of the report has its figures; the others are planned anew from the motion, so that they are the same whether the bundle was
 * measured or read back.
 */
export function cropSteps(bundle: ReportBundle): CropStep[] {
  const { run, stabilisation, motion, pictureAtS } = bundle;
  const { mode, smoothingS: chosenS, curve } = run.stabilise;
  if (mode !== 'keepMove' || chosenS === null || curve.length < 2 || motion.timeS.length === 0) return [];
  const pass: MeasuredPass = { ...passOfRun(run, bundle.series), motion };
  const { camera } = stabilisation;
  const pictured = picturedSample(stabilisation.timeS, pictureAtS);
  const standingOf = standingAlong(run);
  const { delivery, rig } = run;
  const stepOf = (
    smoothingS: number,
    cropPercent: number,
    residualPx: number | null,
    outlines: Pick<CropStep, 'window' | 'deciding'>,
  ): CropStep => ({
    smoothingS,
    chosen: smoothingS === chosenS,
    cropPercent,
    cropPx: (delivery.widthPx * cropPercent) / 100,
    residualPx,
    ...standingOf(cropPercent, residualPx),
    lensMm:
      rig.focalLengthMm === undefined
        ? null
        : tighterFocalLengthMm(rig.focalLengthMm, 1 / (1 - cropPercent / 100)),
    ...outlines,
  });
  return sliderSmoothings(curve.map(({ smoothingS }) => smoothingS)).map((smoothingS) => {
    if (smoothingS === chosenS) {
      const { cropPercent, residual, worstFrameS } = run.stabilise;
      return stepOf(smoothingS, cropPercent, residual.rmsPx, {
        window: deliveryWindow(stabilisation, pictured),
        deciding: deliveryWindow(
          stabilisation,
          worstFrameS === null ? pictured : picturedSample(stabilisation.timeS, worstFrameS),
        ),
      });
    }
    const { way, cropPercent, residualPx } = figuresOf(pass, motion, { camera, choice: { smoothingS } });
    const plan = { camera, corrections: way.corrections, zoom: way.crop.zoom, delivery };
    return stepOf(smoothingS, cropPercent, residualPx, {
      window: deliveryWindow(plan, pictured),
      deciding: deliveryWindow(plan, way.crop.worstFrame),
    });
  });
}

/**
 * Grades figures by the ranges that decide on this pass, which are as wide, in proportion, at any smoothing. Shake left that is not known
 * is no reason here: the slider says so beside it.
 */
function standingAlong(
  run: RunDocument,
): (cropPercent: number, residualPx: number | null) => Pick<CropStep, 'grade' | 'hit'> {
  const { delivery } = run;
  const { cropFactors, leftFactors } = rangesAlong(run);
  const none: Ranged = { value: 0, low: 0, high: 0 };
  const ranged = (value: number, factors: RangeFactors | null): Ranged => {
    const [low, high] = factors ?? [1, 1];
    return { value, low: value * low, high: value * high };
  };
  return (cropPercent, residualPx) => {
    const crop = ranged(cropPercent, cropFactors);
    const left = residualPx === null ? none : ranged(residualPx, leftFactors);
    const grade = gradeFigures(crop, left, delivery);
    const byCrop = gradeFigures(crop, none, delivery) === grade;
    const byLeft = gradeFigures(none, left, delivery) === grade;
    if (grade === 'pass') return { grade, hit: null };
    return { grade, hit: byCrop && byLeft ? 'both' : byCrop ? 'crop' : 'left' };
  };
}
