/** The result of a lens calibration, for people and programs: figures in the clip's own pixels, each with its 95 % interval, and what would make them better. */
import type { ClipFacts } from './footage/index.js';
import { studentQuantile } from './numerics/index.js';
import {
  CALIBRATION_BOARD,
  cornerShiftPx,
  rotationFromVector,
  undistort,
  type BoardCoverage,
  type FittedLens,
  type FittedPose,
  type LensTerms,
  type LensUncertainty,
  type PictureQuarter,
  type PictureSize,
} from './optics/index.js';
import type { LensDistortion, Warning } from './run/index.js';
import { lensCalibrationTexts } from './texts/index.js';
import { toolVersion } from './tool-version.js';

/** Format name of the saved result. */
export const LENS_SCHEMA = 'trundle-lens/1';

/** A fitted figure. */
export interface FittedFigure {
  readonly value: number;
  /** Standard deviation. */
  readonly deviation: number;
  readonly ci95: readonly [number, number];
}

/** A lens as calibrated. Pixels are those of the clip as shown. */
export interface LensCalibration {
  readonly schema: typeof LENS_SCHEMA;
  readonly tool: { readonly version: string; readonly commit: string | null };
  readonly clip: { readonly file: string; readonly widthPx: number; readonly heightPx: number };
  readonly focalPx: FittedFigure;
  /** Null when the sensor was not given. */
  readonly focalLengthMm: FittedFigure | null;
  readonly sensorWidthMm: number | null;
  /** Between opposite edges, and corners, of the picture, lens distortion included. */
  readonly fieldOfViewDeg: {
    readonly horizontal: number;
    readonly vertical: number;
    readonly diagonal: number;
  };
  /** Null for a term that was not needed, or that the views do not carry: it is 0. */
  readonly distortion: Readonly<Record<keyof LensDistortion, FittedFigure | null>>;
  /** How far the lens moves the corners of the picture outwards, px; negative is barrel distortion. */
  readonly cornerShiftPx: FittedFigure;
  /** RMS distance between crossings seen and fitted. */
  readonly rmsPx: number;
  /** Where a fit that leaves it free puts the optical centre; the camera model of this tool keeps it in the middle. */
  readonly freeCentre: { readonly xPx: number; readonly yPx: number; readonly offPercentOfWidth: number };
  readonly coverage: BoardCoverage;
  readonly views: {
    readonly framesLookedAt: number;
    readonly framesWithBoard: number;
    readonly used: number;
    readonly leftOut: number;
  };
  /** Angle between the lens and the normal of the board in the most tilted view. */
  readonly largestTiltDeg: number;
  /** Nearest and furthest middle of the board; null when the size of the squares was not given. */
  readonly boardDistanceM: readonly [number, number] | null;
  /** False when the focal length is too unsure to be used. */
  readonly tellsFocalLength: boolean;
  readonly warnings: readonly Warning[];
}

/** What the calibration is told from. */
export interface LensParts {
  readonly request: { readonly sensorWidthMm?: number | undefined; readonly squareM?: number | undefined };
  readonly facts: ClipFacts;
  /** Size of the pictures that were looked at. */
  readonly size: PictureSize;
  readonly terms: LensTerms;
  readonly fit: FittedLens & { readonly rmsPx: number };
  readonly uncertainty: LensUncertainty;
  readonly coverage: BoardCoverage;
  readonly freeCentre: { readonly xPx: number; readonly yPx: number };
  readonly counts: {
    readonly framesLookedAt: number;
    readonly framesWithBoard: number;
    readonly viewsLeftOut: number;
  };
}

/** Relative standard deviation of the focal length beyond which it is no result. */
const LARGEST_FOCAL_DEVIATION = 0.01;
/** Boards that stay flatter than this to the sensor leave focal length and distance one and the same, whatever the deviation says. */
const LEAST_TILT_DEG = 6;

const DEG = 180 / Math.PI;

/** Puts a fit into words and figures. */
export function describeLens(parts: LensParts): LensCalibration {
  const { request, facts, size, terms, fit, uncertainty, coverage, counts } = parts;
  const scale = facts.widthPx / size.widthPx;
  const freedom = Math.max(1, fit.poses.length - 1);
  const reach95 = studentQuantile(0.975, freedom);
  const figure = (value: number, deviation: number): FittedFigure => ({
    value,
    deviation,
    ci95: [value - reach95 * deviation, value + reach95 * deviation],
  });
  const term = (name: keyof LensDistortion, isFitted: boolean): FittedFigure | null =>
    isFitted ? figure(fit.lens[name], uncertainty.lens[name]) : null;

  const tiltsDeg = fit.poses.map(tiltDeg);
  const distances = fit.poses.map(middleDistance);
  const { sensorWidthMm = null, squareM } = request;
  const mmPerPx = sensorWidthMm === null ? null : sensorWidthMm / Math.max(size.widthPx, size.heightPx);
  const off = {
    xPx: parts.freeCentre.xPx - (size.widthPx - 1) / 2,
    yPx: parts.freeCentre.yPx - (size.heightPx - 1) / 2,
  };
  const calibration = {
    schema: LENS_SCHEMA,
    tool: toolVersion(),
    clip: { file: facts.file, widthPx: facts.widthPx, heightPx: facts.heightPx },
    focalPx: figure(scale * fit.focalPx, scale * uncertainty.focalPx),
    focalLengthMm: mmPerPx === null ? null : figure(mmPerPx * fit.focalPx, mmPerPx * uncertainty.focalPx),
    sensorWidthMm,
    fieldOfViewDeg: fieldOfView(fit, size),
    distortion: {
      k1: term('k1', true),
      k2: term('k2', terms.k2),
      p1: term('p1', terms.decentring),
      p2: term('p2', terms.decentring),
      k3: term('k3', terms.k3),
    },
    cornerShiftPx: figure(scale * cornerShiftPx(fit, size), scale * uncertainty.cornerPx),
    rmsPx: scale * fit.rmsPx,
    freeCentre: {
      xPx: scale * (parts.freeCentre.xPx + 0.5) - 0.5,
      yPx: scale * (parts.freeCentre.yPx + 0.5) - 0.5,
      offPercentOfWidth: (100 * Math.hypot(off.xPx, off.yPx)) / size.widthPx,
    },
    coverage,
    views: {
      framesLookedAt: counts.framesLookedAt,
      framesWithBoard: counts.framesWithBoard,
      used: fit.poses.length,
      leftOut: counts.viewsLeftOut,
    },
    largestTiltDeg: Math.max(...tiltsDeg),
    boardDistanceM:
      squareM === undefined
        ? null
        : ([squareM * Math.min(...distances), squareM * Math.max(...distances)] as const),
    tellsFocalLength:
      uncertainty.focalPx < LARGEST_FOCAL_DEVIATION * fit.focalPx && Math.max(...tiltsDeg) >= LEAST_TILT_DEG,
  } as const;
  return { ...calibration, warnings: warningsOf(calibration) };
}

/** From the lens to the middle of the board, squares. */
function middleDistance({ turn, shift }: FittedPose): number {
  const r = rotationFromVector(...turn);
  const [x, y] = [CALIBRATION_BOARD.columns / 2, CALIBRATION_BOARD.rows / 2];
  return Math.hypot(...[0, 1, 2].map((i) => r[3 * i] * x + r[3 * i + 1] * y + shift[i]));
}

/** Angle between the lens axis and the normal of the board, degrees. */
function tiltDeg({ turn }: FittedPose): number {
  return Math.acos(Math.max(-1, Math.min(1, rotationFromVector(...turn)[8]))) * DEG;
}

function fieldOfView(fit: FittedLens, { widthPx, heightPx }: PictureSize): LensCalibration['fieldOfViewDeg'] {
  const halfAngle = (xPx: number, yPx: number): number => {
    const ideal = undistort(fit.lens, xPx / fit.focalPx, yPx / fit.focalPx);
    return Math.atan(Math.hypot(ideal.x, ideal.y)) * DEG;
  };
  return {
    horizontal: 2 * halfAngle(widthPx / 2, 0),
    vertical: 2 * halfAngle(0, heightPx / 2),
    diagonal: 2 * halfAngle(widthPx / 2, heightPx / 2),
  };
}

/** Below these a calibration could be better; common practice, no source. */
const ENOUGH_VIEWS = 10;
const ENOUGH_COVERAGE = 0.6;
const ENOUGH_REACH = 0.7;
const ENOUGH_TILT_DEG = 20;
/** RMS error of a flat, sharp board, px of a picture 1920 wide. */
const FAIR_RMS_PX = 0.8;
const CENTRE_OFF_PERCENT = 1;

function warningsOf(c: Omit<LensCalibration, 'warnings'>): Warning[] {
  const warnings: Warning[] = [];
  const warn = (code: string, text: string): void => void warnings.push({ code, text, atS: null });
  const empty = (Object.keys(c.coverage.reach) as PictureQuarter[]).filter(
    (quarter) => c.coverage.reach[quarter] < ENOUGH_REACH,
  );
  if (c.coverage.share < ENOUGH_COVERAGE || empty.length > 0)
    warn('board-coverage-poor', lensCalibrationTexts.coveragePoor(Math.round(100 * c.coverage.share), empty));
  if (c.views.used < ENOUGH_VIEWS) warn('board-views-few', lensCalibrationTexts.fewViews(c.views.used));
  if (c.largestTiltDeg < ENOUGH_TILT_DEG)
    warn('board-tilt-small', lensCalibrationTexts.littleTilt(Math.round(c.largestTiltDeg)));
  if ((c.rmsPx * 1920) / c.clip.widthPx > FAIR_RMS_PX)
    warn('lens-fit-rough', lensCalibrationTexts.roughFit(c.rmsPx.toFixed(2)));
  if (c.freeCentre.offPercentOfWidth > CENTRE_OFF_PERCENT)
    warn('lens-centre-off', lensCalibrationTexts.centreOff(c.freeCentre.offPercentOfWidth.toFixed(1)));
  return warnings;
}

/** What a calibration puts into a rig file. */
export interface RigLens {
  readonly focalPx: number;
  readonly focalPxWidth: number;
  readonly lensDistortion: LensDistortion;
}

/** The lens as a rig file holds it: focal length in px of the clip, and distortion. Rounded far below what can be known. */
export function rigLens(lens: LensCalibration): RigLens {
  const round = (value: number): number => Number(value.toPrecision(8));
  const term = (name: keyof LensDistortion): number => round(lens.distortion[name]?.value ?? 0);
  return {
    focalPx: round(lens.focalPx.value),
    focalPxWidth: lens.clip.widthPx,
    lensDistortion: { k1: term('k1'), k2: term('k2'), p1: term('p1'), p2: term('p2'), k3: term('k3') },
  };
}
