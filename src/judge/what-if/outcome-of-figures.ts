/**
 * Crop (per cent of the width) and shake left (px RMS of the delivery) that were foretold for a measured pass as bare figures, with the
 * ranges that decide and the grade: what a report says of its tables without stabilising anything again.
 */
import type { MotionSection, PredictedOutcome, ResolvedDelivery, StabiliseSection } from '../../run/index.js';
import { decide } from '../decide.js';
import { worstGrade } from '../finding.js';
import { outcomeWith } from './foretold.js';

/** A case as the sections of a run hold it. */
export interface BareFigures {
  readonly cropPercent: number;
  readonly coverable: boolean;
  readonly residualPx: number | null;
}

/**
 * The outcome. Measuring error and a repeat of the move open each figure by the same factors as they do for the pass itself, and the
 * shake left keeps its causes in proportion; the figures of the pass therefore earn the grade of its verdict.
 *
 * @param shakeFactor how many times the shake of the pass the picture shows: scales rolling-shutter wobble, and what is left of
 *   parallax, where the shake left itself is not known
 */
export function outcomeOfFigures(
  motion: MotionSection,
  stabilise: StabiliseSection,
  delivery: ResolvedDelivery,
  { cropPercent, coverable, residualPx }: BareFigures,
  shakeFactor = 1,
): PredictedOutcome {
  const { residual } = stabilise;
  const { rmsPx } = residual;
  const factor = rmsPx !== null && residualPx !== null && rmsPx > 0 ? residualPx / rmsPx : shakeFactor;
  const { translation, path, readout, tracking } = residual.causes;
  const section: StabiliseSection = {
    ...stabilise,
    cropPercent,
    cropPx: (delivery.widthPx * cropPercent) / 100,
    coverable,
    residual: {
      ...residual,
      rmsPx: residualPx,
      parallaxPx: times(residual.parallaxPx, factor),
      readoutPx: times(residual.readoutPx, shakeFactor),
      causes: {
        ...residual.causes,
        translation: scaled(translation, factor),
        path: { ...path, rmsPx: path.rmsPx * factor },
        readout: scaled(readout, factor),
        tracking: { ...tracking, rmsPx: tracking.rmsPx * factor },
      },
    },
  };
  return outcomeWith(motion, section, worstGrade(decide(motion, section, delivery)));
}

function times(value: number | null, factor: number): number | null {
  return value === null ? null : value * factor;
}

function scaled<Left extends { readonly rmsPx: number }>(left: Left | null, factor: number): Left | null {
  return left === null ? null : { ...left, rmsPx: left.rmsPx * factor };
}
