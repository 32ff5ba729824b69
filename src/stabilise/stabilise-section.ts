/** The stabilisation of a run as the run document says it (per cent, delivery pixels, seconds), and as pictures draw it. */
import type { StabiliseSection } from '../run/index.js';
import type { Stabilisation } from './types.js';

/**
 * The `stabilise` section of the run document.
 *
 * Where the translation lies below the noise the residual figures are upper bounds (`atMost`); where it
 * is not observable they are null.
 */
export function stabiliseSection(plan: Stabilisation): StabiliseSection {
  const { rmsPx, p95Px, parallaxPx, blurPx, readoutPx } = plan.residual;
  return {
    mode: plan.mode,
    smoothingS: plan.smoothingS,
    zoom: plan.zoom,
    cropPercent: plan.cropPercent,
    cropPx: plan.cropPx,
    coverable: plan.coverable,
    worstFrameS: plan.worstFrameS,
    movingCropPercent: plan.movingCropPercent,
    longerTake: plan.longerTake.map(({ takeS, chanceExceeds, medianPercent, upper95Percent }) => ({
      takeS,
      chanceExceeds,
      medianPercent,
      upper95Percent,
    })),
    curve: plan.curve.map(({ smoothingS, cropPercent, residualPx }) => ({
      smoothingS,
      cropPercent,
      residualPx,
    })),
    residual: { rmsPx, p95Px, parallaxPx, blurPx, readoutPx, atMost: plan.residual.status === 'atMost' },
    recommended: { ...plan.recommended },
  };
}

/** A rectangle in fractions of the frame, 0..1 from its left and top edge. */
export interface FractionRectangle {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/**
 * The part of the frame that the static crop keeps, for drawing on a picture of the clip.
 *
 * @example cropRectangle(plan) // { left: 0.02, top: 0.02, width: 0.96, height: 0.96 } at a crop of 4 %
 */
export function cropRectangle(plan: Pick<Stabilisation, 'frame' | 'delivery' | 'zoom'>): FractionRectangle {
  const frameShape = plan.frame.heightPx / plan.frame.widthPx;
  const shape = plan.delivery.heightPx / plan.delivery.widthPx;
  const width = Math.min(1, frameShape / shape) / plan.zoom;
  const height = Math.min(1, shape / frameShape) / plan.zoom;
  return { left: (1 - width) / 2, top: (1 - height) / 2, width, height };
}
