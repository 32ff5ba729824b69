/** The stabilisation of a run as the run document says it (per cent, delivery pixels, seconds), and as pictures draw it. */
import type { StabiliseSection } from '../run/index.js';
import type { CropForecast } from './take/longer-take-types.js';
import type { Recommendation, Stabilisation, WhatIf } from './types.js';
import { arcMinutesPerPx } from './residual/viewing.js';
import { heightPerWidth, wholeHalfWidth } from './crop/exact-crop.js';
import { FOCAL_ASSUMES } from './what-if/what-if-focal.js';
import type { SpeedExtreme } from './what-if/what-if-speed.js';

/**
 * The `stabilise` section of the run document.
 *
 * Where the translation lies below the noise the residual figures are upper bounds (`atMost`); where it
 * is not observable and has no bound they are null.
 */
export function stabiliseSection(plan: Stabilisation): StabiliseSection {
  const { forecast, corrections } = plan;
  return {
    mode: plan.mode,
    smoothingS: plan.smoothingS,
    rowsCorrected: corrections.rows !== null,
    zoom: plan.zoom,
    cropPercent: plan.cropPercent,
    cropPx: plan.cropPx,
    coverable: plan.coverable,
    worstFrameS: plan.worstFrameS,
    movingCropPercent: plan.movingCropPercent,
    offCentre: offCentreSection(plan),
    modes: plan.ways.map(({ mode, smoothingS, remark, crop, residual }) => ({
      mode,
      smoothingS,
      remark,
      cropPercent: crop.cropPercent,
      residualPx: residual.total?.rmsPx ?? null,
      coverable: crop.coverable,
    })),
    takeS: plan.takeS,
    longerTake: forecast.takes.map((take) => ({
      ...cropForecast(take),
      chanceExceeds: take.chanceExceeds,
      unseenHitsAtMost: take.unseenHitsAtMost,
    })),
    again: {
      medianPercent: forecast.again.medianPercent,
      upper95Percent: forecast.again.upper95Percent,
      longer: forecast.again.longer.map(cropForecast),
    },
    hitsSeen: forecast.hits.seen,
    curve: plan.curve.map(({ smoothingS, cropPercent, residualPx }) => ({
      smoothingS,
      cropPercent,
      residualPx,
    })),
    residual: residualSection(plan),
    recommended: recommendedSection(plan.recommended),
    whatIf: whatIfSection(plan.whatIf),
    steadiness: plan.steadiness,
  };
}

function cropForecast({ takeS, medianPercent, upper95Percent, atLeast, refused }: CropForecast) {
  return { takeS, medianPercent, upper95Percent, atLeast, refused };
}

/** The window's place in pixels of the delivery as the uncropped picture would fill it. */
function offCentreSection({ offCentre, camera, delivery }: Stabilisation): StabiliseSection['offCentre'] {
  const { offsetXPx, offsetYPx, zoom, cropPercent, coverable } = offCentre;
  const scale = delivery.widthPx / (2 * wholeHalfWidth(camera, heightPerWidth(delivery)));
  return { rightPx: scale * offsetXPx, downPx: scale * offsetYPx, zoom, cropPercent, coverable };
}

function residualSection({ residual, delivery }: Stabilisation): StabiliseSection['residual'] {
  const { status, total, causes } = residual;
  return {
    rmsPx: total?.rmsPx ?? null,
    p95Px: total?.p95Px ?? null,
    parallaxPx: causes.parallax?.rmsPx ?? null,
    blurPx: causes.blur?.pulsePx ?? null,
    readoutPx: causes.readoutWholeFrames?.rmsPx ?? null,
    atMost: status === 'atMost',
    viewing: { arcMinPerPx: arcMinutesPerPx(delivery), distanceHeights: delivery.viewingDistanceHeights },
    total,
    causes: { ...causes },
  };
}

function recommendedSection(recommended: Recommendation): StabiliseSection['recommended'] {
  const { smoothingS, why, zoom, framing, longestLens, pixels, shutter } = recommended;
  return {
    smoothingS,
    why,
    zoom,
    overscanPercent: framing.reserved?.overscanPercent ?? null,
    forRepeat: framing.forRepeat,
    thisTake: framing.reserved,
    reservePercent: 100 * framing.reserve.share,
    longestLens: longestLens && {
      factor: longestLens.focalFactor,
      focalLengthMm: longestLens.focalLengthMm,
      cropPercent: longestLens.cropPercent,
      residualPx: longestLens.residualPx,
      limitedBy: longestLens.limitedBy,
    },
    pixels,
    shutterAngleDeg: shutter?.shutterAngleDeg ?? null,
  };
}

function whatIfSection({ focal, speed }: WhatIf): StabiliseSection['whatIf'] {
  const extreme = (one: SpeedExtreme | null): StabiliseSection['whatIf']['speed'][number]['allFloor'] =>
    one && { cropPercent: one.cropPercent, coverable: one.coverable, residualPx: one.residualPx };
  return {
    focal: focal.map(({ focalFactor, focalLengthMm, used, cropPercent, coverable, residualPx }) => ({
      factor: focalFactor,
      focalLengthMm,
      used,
      cropPercent,
      coverable,
      residualPx,
    })),
    focalAssumes: FOCAL_ASSUMES,
    speed: speed.map(({ speedFactor, speedMps, durationS, allFloor, allMachine, refused, assumes }) => ({
      factor: speedFactor,
      speedMps,
      durationS,
      allFloor: extreme(allFloor),
      allMachine: extreme(allMachine),
      refused,
      assumes,
    })),
  };
}
