/** The made-up section on stabilising: 3.15 % of crop, mostly for one joint, and 0.4 px of shake left. */
import type { StabiliseSection } from '../../../src/run/index.js';

type Left = NonNullable<StabiliseSection['residual']['total']>;

const ZOOM = 1.0325;
const ARC_MIN_PER_PX = 1.0268;

const left = (rmsPx: number, p95Px: number): Left => ({
  rmsPx,
  p95Px,
  arcMinRms: rmsPx * ARC_MIN_PER_PX,
  arcMinP95: p95Px * ARC_MIN_PER_PX,
});

const framing = (overscanPercent: number): StabiliseSection['recommended']['forRepeat'] => {
  const focalFactor = 1 / (1 + overscanPercent / 100);
  return {
    focalFactor,
    focalLengthMm: 35 * focalFactor,
    overscanPercent,
    overscanPx: 19.2 * overscanPercent,
    cropPercent: 100 * (1 - focalFactor),
  };
};

/** How much more a repeat of the made-up move may need. */
export const MADE_UP_REPEAT = 1.35;

/** Sets the crop of a section, and what hangs on it in a real plan. */
export function setCrop(section: StabiliseSection, cropPercent: number): void {
  section.cropPercent = cropPercent;
  section.again = {
    ...section.again,
    medianPercent: cropPercent,
    upper95Percent: Math.min(100, MADE_UP_REPEAT * cropPercent),
  };
  section.recommended.forRepeat =
    cropPercent > 30 ? null : framing(100 / (1 - (MADE_UP_REPEAT * cropPercent) / 100) - 100);
}

/** The section. @param worstFrameS where the frame lies that decides the crop */
export function madeUpStabilise(worstFrameS: number): StabiliseSection {
  const cropPercent = 100 * (1 - 1 / ZOOM);
  const take = (takeS: number, medianPercent: number, upper95Percent: number) => ({
    takeS,
    medianPercent,
    upper95Percent,
    atLeast: false,
    refused: null,
  });
  const section: StabiliseSection = {
    mode: 'keepMove',
    smoothingS: 1.25,
    rowsCorrected: false,
    zoom: ZOOM,
    cropPercent,
    cropPx: 60.4,
    coverable: true,
    worstFrameS,
    movingCropPercent: 1.4,
    offCentre: { rightPx: -6, downPx: 31, zoom: 1.026, cropPercent: 2.53, coverable: true },
    modes: [
      { mode: 'keepMove', smoothingS: 1.25, remark: null, cropPercent, residualPx: 0.4, coverable: true },
      {
        mode: 'holdStill',
        smoothingS: null,
        remark: null,
        cropPercent: 60,
        residualPx: 0.4,
        coverable: false,
      },
      {
        mode: 'smoothest',
        smoothingS: null,
        remark: 'moving',
        cropPercent: 5,
        residualPx: 0.41,
        coverable: true,
      },
    ],
    takeS: 60,
    longerTake: [
      { ...take(30, 3.5, 5.1), chanceExceeds: 0.714, unseenHitsAtMost: null },
      { ...take(60, 3.8, 5.9), chanceExceeds: 0.833, unseenHitsAtMost: null },
    ],
    again: {
      medianPercent: cropPercent,
      upper95Percent: MADE_UP_REPEAT * cropPercent,
      longer: [take(30, 3.6, 5.2), take(60, 3.9, 6)],
    },
    hitsSeen: 1,
    curve: [
      { smoothingS: 0.3, cropPercent: 1.1, residualPx: 0.58 },
      { smoothingS: 0.5, cropPercent: 1.9, residualPx: 0.47 },
      { smoothingS: 0.8, cropPercent: 2.6, residualPx: 0.42 },
      { smoothingS: 1.25, cropPercent: 3.15, residualPx: 0.4 },
      { smoothingS: 2, cropPercent: 4.3, residualPx: 0.39 },
      { smoothingS: 3.2, cropPercent: 6.7, residualPx: 0.39 },
    ],
    residual: {
      rmsPx: 0.4,
      p95Px: 0.81,
      parallaxPx: 0.36,
      blurPx: 0.5,
      readoutPx: null,
      atMost: false,
      viewing: { arcMinPerPx: ARC_MIN_PER_PX, distanceHeights: 3.1 },
      total: left(0.4, 0.81),
      causes: {
        translation: left(0.39, 0.8),
        parallax: left(0.36, 0.7),
        path: left(0, 0),
        readout: null,
        readoutWholeFrames: null,
        tracking: left(0.06, 0.1),
        blur: { ...left(0.13, 0.3), pulsePx: 0.5, pulseArcMin: 0.53 },
      },
    },
    recommended: {
      smoothingS: 1.25,
      why: 'Its crop is accepted and no weaker smoothing leaves as little shake for less crop.',
      zoom: ZOOM + 0.001,
      overscanPercent: 3.35,
      forRepeat: null,
      thisTake: framing(3.35),
      reservePercent: 0.1,
      longestLens: {
        factor: 1.6,
        focalLengthMm: 56,
        cropPercent: 5,
        residualPx: 0.64,
        limitedBy: 'crop',
      },
      pixels: {
        holds: true,
        leftWidthPx: 3719,
        leftHeightPx: 2091,
        upscale: 1920 / 3719,
        largestCropPercent: 50,
      },
      shutterAngleDeg: null,
    },
    whatIf: {
      focal: [
        {
          factor: 25 / 35,
          focalLengthMm: 25,
          used: false,
          cropPercent: 2.3,
          coverable: true,
          residualPx: 0.29,
        },
        { factor: 1, focalLengthMm: 35, used: true, cropPercent, coverable: true, residualPx: 0.4 },
        {
          factor: 50 / 35,
          focalLengthMm: 50,
          used: false,
          cropPercent: 4.4,
          coverable: true,
          residualPx: 0.57,
        },
      ],
      focalAssumes: 'The dolly shakes the camera by the same angles with the other lens on it.',
      speed: [
        {
          factor: 1,
          speedMps: 0.25,
          durationS: 12,
          allFloor: { cropPercent, coverable: true, residualPx: 0.4 },
          allMachine: { cropPercent, coverable: true, residualPx: 0.4 },
          refused: null,
          assumes: 'Floor: each bump turns the camera by the same angle at any speed.',
        },
        {
          factor: 0.1,
          speedMps: 0.025,
          durationS: 120,
          allFloor: null,
          allMachine: null,
          refused: 'tooSlow',
          assumes: 'Floor: each bump turns the camera by the same angle at any speed.',
        },
      ],
    },
    steadiness: {
      before: { croppingLinear: 1, croppingArea: 1, distortion: 1, stability: 0.81 },
      after: { croppingLinear: 1 / ZOOM, croppingArea: 1 / ZOOM ** 2, distortion: 0.999, stability: 0.96 },
    },
  };
  setCrop(section, cropPercent);
  return section;
}
