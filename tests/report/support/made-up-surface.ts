/** The surface section of a made-up run: a tiled corridor, joints every 0.3 m, a step and a dip. */
import type { SurfaceSection } from '../../../src/run/index.js';

const POINTS = 150;
const STEP_M = 0.02;

function column(value: (i: number) => number): number[] {
  return Array.from({ length: POINTS }, (_, i) => value(i));
}

function height(i: number): number {
  return 0.12 * Math.sin(i / 4) + 0.07 * Math.sin(i / 1.7) + (i > 89 && i < 93 ? 0.5 : 0);
}

/** A surface with every part filled in. */
export function madeUpSurface(): SurfaceSection {
  return {
    observable: true,
    reason: null,
    wavelengthsM: [0.02, 0.31],
    profileRmsMm: 0.11,
    psdAt01CyclesPerM: 9.2e-7,
    psdAsRolled: 4.4e-6,
    psdCi95: [6.1e-7, 1.5e-6],
    atMost: false,
    atLeast: false,
    parts: {
      meanTrackM3: 6.1e-7,
      differenceM3: 1.2e-6,
      sdLn: 0.22,
      contactCyclesPerM: 120,
      speedMps: 0.25,
    },
    waviness: 2.1,
    wavinessCi95: [1.8, 2.4],
    isoClass: 'A-2',
    ci95Class: ['A-2', 'A-1'],
    isoClassAsRolled: 'A-1',
    spoken: { word: 'fair', orBetter: false, steadyUpToMm: 24, withCropUpToMm: 85 },
    flatnessFF: 116,
    flatness: {
      equivalentFF: 116,
      profileFF: null,
      reason: 'Waves longer than 0.31 m are not in the profile, and the curvature lies mostly there.',
      readings: 0,
      spacingM: 0.3048,
      curvatureMeanMm: null,
      curvatureSdMm: null,
      heldShare: 0.12,
      change95Mm: null,
      freeMovement: null,
    },
    straightedges: [
      {
        lengthM: 0.1,
        gapMm: 0.41,
        gap95Mm: 0.22,
        noiseGapMm: 0.02,
        reason: null,
        dinRow: 4,
        dinLimitMm: 1,
        surfaceRegularity: null,
      },
      {
        lengthM: 1,
        gapMm: null,
        gap95Mm: null,
        noiseGapMm: null,
        reason: 'Waves longer than 0.31 m are not in the profile: go faster.',
        dinRow: null,
        dinLimitMm: null,
        surfaceRegularity: null,
      },
    ],
    rail: {
      outcome: 'exceeds',
      bandsCompared: 6,
      worstExcessDb: 29.1,
      worstCentreM: 0.1,
      sumDb: 43.1,
      limitSumDb: 15.2,
    },
    texture: { cutoffM: 0.2, rqMm: 0.1, raMm: 0.08, rzMm: 0.41, sections: 15 },
    wavelengthBands: [
      [0.2, 38.5, 36.9, 0.8, 11],
      [0.16, 36.4, 35.2, 0.7, 9],
      [0.125, 34.2, 33.1, 0.8, 7],
      [0.1, 34.0, 31.9, 0.9, 4.9],
      [0.08, 31.1, 29.6, 1.1, 2.9],
      [0.063, 29, 27.7, 3.4, 0.9],
    ].map(([centreM = 0, levelDbRe1um = 0, betweenJointsDb = 0, sdDb = 0, railLimitDb = 0]) => ({
      centreM,
      levelDbRe1um,
      betweenJointsDb,
      sdDb,
      below: sdDb > 3,
      railLimitDb,
    })),
    profile: {
      distanceM: column((i) => i * STEP_M),
      heightMm: column(height),
      bandMm: column(() => 0.03),
      leftMm: column((i) => height(i) + 0.05 * Math.sin(i / 3)),
      rightMm: column((i) => height(i) - 0.05 * Math.sin(i / 3)),
      sideBandMm: column(() => 0.05),
    },
    distanceRangePercent: 2,
    joints: {
      spacingM: 0.3004,
      spacingRangeM: 0.0008,
      count: 9,
      seen: 4,
      firstM: 0.11,
      stepRmsMm: 0.31,
      lnEvidence: 64,
    },
    bumps: [
      {
        atM: 1.81,
        atRangeM: 0.004,
        atS: 7.24,
        axlesS: [7.24, 9.04],
        heightMm: 0.62,
        heightRangeMm: 0.08,
        leftMm: 0.66,
        rightMm: 0.58,
        lengthM: 0,
        kind: 'joint',
        wheelLine: 'both',
        pictureShiftPx: 7.2,
        confidence: 0.9999,
        foundBy: 'itself',
      },
      {
        atM: 0.64,
        atRangeM: 0.006,
        atS: 2.56,
        axlesS: [2.56],
        heightMm: -0.21,
        heightRangeMm: 0.09,
        leftMm: -0.4,
        rightMm: -0.02,
        lengthM: 0.04,
        kind: 'dip',
        wheelLine: 'left',
        pictureShiftPx: 2.1,
        confidence: 0.96,
        foundBy: 'itself',
      },
    ],
    predictions: [
      {
        change: 'none',
        label: 'as rolled: 0.25 m/s, wheelbase 0.45 m',
        pitchMdegRms: { value: 21, low: 18, high: 24 },
        rollMdegRms: { value: 19, low: 16, high: 23 },
        shakePxRms: { value: 0.9, low: 0.7, high: 1.1 },
        ratio: { value: 1, low: 1, high: 1 },
        largestKickPx: 7.2,
        assumes: 'Nothing changed.',
        reason: null,
      },
      {
        change: 'speed',
        label: '0.5 m/s',
        pitchMdegRms: { value: 28, low: 22, high: 35 },
        rollMdegRms: { value: 24, low: 19, high: 31 },
        shakePxRms: { value: 1.2, low: 0.9, high: 1.6 },
        ratio: { value: 1.3, low: 1.1, high: 1.6 },
        largestKickPx: 7.2,
        assumes: 'The floor between 0.31 m and 0.62 m is as rough as its class.',
        reason: null,
      },
    ],
  };
}
