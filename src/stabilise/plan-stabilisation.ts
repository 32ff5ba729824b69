/**
 * The plan to stabilise one clip: crop, trade-off with smoothing, what is left, what to set, what if.
 *
 * From a measured motion (radians, translation unit), the camera of the analysis frames (px) and the delivery (px).
 */
import { shutterTimeS, type Camera, type PictureSize } from '../optics/index.js';
import type { Assumption, ResolvedDelivery, Rig } from '../run/index.js';
import { stabilisingTexts } from '../texts/index.js';
import type { Motion } from '../motion/index.js';
import { shutterForBlur } from './residual/blur-shutter.js';
import { deliveryPixels } from './what-if/delivery-pixels.js';
import { framingForPicture } from './what-if/framing.js';
import { predictTakes } from './take/longer-take.js';
import type { Hit, TakeForecast, TestPass } from './take/longer-take-types.js';
import { heightPerWidth } from './crop/exact-crop.js';
import { MOVING_ZOOM_WINDOW_S, smoothBelow } from './crop/moving-zoom.js';
import { offCentreCrop } from './crop/off-centre-crop.js';
import { recommendSmoothing, zoomWithReserve } from './what-if/recommend.js';
import type { FrameTimes } from './residual/residual-by-cause.js';
import { steadinessOf } from './residual/steadiness.js';
import type { CurvePoint, Recommendation, Stabilisation, StabiliseMode, Way } from './types.js';
import { smoothingFits, smoothingOf } from './path/vibration-at.js';
import { pxScaleAt, wayOf, type WayInput, type WayWish } from './ways.js';
import { longestFocalWithinLimits } from './what-if/what-if-focal.js';
import { otherLenses, whatIf } from './what-if/what-if.js';

/** What a plan is made from. */
export interface StabilisationInput {
  readonly motion: Motion;
  /** Camera of the analysis frames. */
  readonly camera: Camera;
  readonly delivery: ResolvedDelivery;
  readonly rig?: Rig;
  /** Size of the clip, to say how many of its pixels are left; that of the analysis frames unless given. */
  readonly source?: PictureSize;
}

/** Choices of a plan. */
export interface StabilisationOptions {
  /** keepMove unless given. */
  readonly mode?: StabiliseMode | undefined;
  /** With keepMove: one over the frequency below which motion is kept, seconds; that of the motion's split unless given. */
  readonly smoothingS?: number | undefined;
  /** The length of take to foretell the crop for first, seconds; the usual ones come, too. */
  readonly takeS?: number | undefined;
  /** Ways to work out beside the chosen one and the one that keeps the move; all of them unless given. */
  readonly modes?: readonly StabiliseMode[];
  /** Smoothings of the trade-off curve, seconds; those that do not fit the clip are left out. */
  readonly sweepS?: readonly number[];
  /** Hits that are known, in frames of the motion; looked for unless given. */
  readonly hits?: readonly Hit[] | undefined;
  /** Seed of the upper bounds of longer takes. */
  readonly seed?: number;
}

/** Defaults of the options; the smoothing comes from the motion. */
export const STABILISE_DEFAULTS = {
  mode: 'keepMove',
  sweepS: [0.25, 0.35, 0.5, 0.7, 1, 1.5, 2, 2.5, 3],
  takesS: [10, 30, 60, 120],
  takeS: 60,
  seed: 1,
} as const;

/** Taken when the crew names no shutter. */
export const ASSUMED_SHUTTER_ANGLE_DEG = 180;

/** The ways of stabilising, in the order in which they are offered. */
export const STABILISE_MODES: readonly StabiliseMode[] = ['keepMove', 'holdStill', 'smoothest'];

/**
 * Plans the stabilisation of one clip. Pan, tilt and roll are led along the target path of the mode by one warp per frame,
 * or one turn per row where the readout of the sensor is known, and the picture is enlarged until no border shows.
 * Translation is left as it is.
 *
 * Every frame of the clip counts for the crop, first and last included; RMS figures leave out the ends as the motion does.
 * Never gives NaN: when a frame cannot be covered the crop is large, at most 95 %, and `coverable` is false.
 *
 * @throws RangeError when `smoothingS` is not positive or its cut-off lies beyond half the frame rate
 * @example planStabilisation({ motion, camera, delivery, rig }).cropPercent
 */
export function planStabilisation(
  input: StabilisationInput,
  options: StabilisationOptions = {},
): Stabilisation {
  const { motion, camera, delivery, rig = {}, source = camera } = input;
  const {
    mode = STABILISE_DEFAULTS.mode,
    smoothingS = smoothingOf(motion),
    modes = STABILISE_MODES,
    sweepS = STABILISE_DEFAULTS.sweepS,
    takeS = STABILISE_DEFAULTS.takeS,
    hits,
    seed = STABILISE_DEFAULTS.seed,
  } = options;
  if (!(smoothingS > 0)) throw new RangeError(`smoothingS must be positive, got ${smoothingS}`);
  const wish: WayWish = { mode, smoothingS };
  const clip: WayInput = { motion, camera, delivery, times: frameTimes(motion, rig) };
  // Pulsing sharpness is told of the chosen way alone; it is no part of what is left.
  const sharp: WayInput = { ...clip, times: { ...clip.times, exposureS: null } };

  const planned = STABILISE_MODES.filter((other) => [mode, 'keepMove', ...modes].includes(other));
  const ways = planned.map((other) => wayOf(clip, { mode: other, smoothingS }));
  const chosen = ways[planned.indexOf(mode)];
  const kept = ways[planned.indexOf('keepMove')];
  const { crop, corrections, residual } = chosen;
  const curve = [...sweepS.filter((s) => s !== smoothingS && smoothingFits(motion, s)), smoothingS]
    .sort((a, b) => a - b)
    .map((s) => curvePoint(s, s === smoothingS ? kept : wayOf(sharp, { mode: 'keepMove', smoothingS: s })));

  const cropFraction = crop.halfWidthShare.map((share) => 1 - share);
  const moving = smoothBelow(crop.halfWidthShare, Math.round(MOVING_ZOOM_WINDOW_S * motion.rateHz));
  const movingCropFraction = moving.map((share) => 1 - share);
  const takes = [...new Set([...STABILISE_DEFAULTS.takesS, takeS])];
  return {
    mode,
    smoothingS: chosen.smoothingS,
    timeS: motion.timeS,
    camera,
    corrections,
    cropFraction,
    zoom: crop.zoom,
    cropPercent: crop.cropPercent,
    cropPx: (delivery.widthPx * crop.cropPercent) / 100,
    coverable: crop.coverable,
    worstFrameS: crop.worstFrame < 0 ? null : motion.timeS[crop.worstFrame],
    movingCropFraction,
    movingCropPercent: 100 * average(movingCropFraction),
    offCentre: offCentreCrop(corrections, camera, heightPerWidth(delivery)),
    ways,
    takeS,
    forecast: forecast(
      input,
      kept,
      takes.sort((a, b) => a - b),
      { hits, seed },
    ),
    curve,
    residual,
    recommended: recommend(input, sharp, chosen, curve, source),
    whatIf: whatIf(sharp, chosen, wish, {
      focalLengthMm: rig.focalLengthMm ?? null,
      speedMps: rig.speedMps ?? null,
    }),
    steadiness: steadinessOf({
      motion,
      correctionsVibration: corrections.vibration,
      zoom: crop.zoom,
      camera,
    }),
    delivery: {
      widthPx: delivery.widthPx,
      heightPx: delivery.heightPx,
      viewingDistanceHeights: delivery.viewingDistanceHeights,
    },
    assumed: assumptions(rig),
  };
}

function curvePoint(smoothingS: number, { crop, residual }: Way): CurvePoint {
  return {
    smoothingS,
    zoom: crop.zoom,
    cropPercent: crop.cropPercent,
    residualPx: residual.total?.rmsPx ?? null,
  };
}

/** Exposure and readout of one frame: as given, else assumed (shutter) or found in the clip (readout). */
export function frameTimes({ rateHz, readout }: Motion, rig: Rig): FrameTimes {
  return {
    exposureS: shutterTimeS(rig.shutterAngleDeg ?? ASSUMED_SHUTTER_ANGLE_DEG, rateHz),
    readoutS: rig.readoutMs === undefined ? readout.readoutS : rig.readoutMs / 1000,
  };
}

function assumptions(rig: Rig): Assumption[] {
  if (rig.shutterAngleDeg !== undefined) return [];
  return [
    {
      name: 'shutterAngleDeg',
      value: stabilisingTexts.degrees(ASSUMED_SHUTTER_ANGLE_DEG),
      matters: stabilisingTexts.shutterMatters,
    },
  ];
}

function recommend(
  { motion, camera, delivery, rig = {} }: StabilisationInput,
  clip: WayInput,
  way: Way,
  curve: readonly CurvePoint[],
  source: PictureSize,
): Recommendation {
  const { mode, smoothingS, corrections, crop } = way;
  const focalLengthMm = rig.focalLengthMm ?? null;
  const framing = framingForPicture({ motion, corrections, camera, delivery, source, focalLengthMm });
  const reserve = framing.reserve.share;
  const setting =
    smoothingS === null
      ? { smoothingS: null, why: stabilisingTexts.why[mode], zoom: zoomWithReserve(crop.zoom, reserve) }
      : recommendSmoothing(curve, smoothingS, delivery.maxCropPercent, reserve);
  return {
    smoothingS: setting.smoothingS,
    why: setting.why,
    zoom: setting.zoom,
    // The smoothest path of a repeat fits into the same crop.
    framing: mode === 'smoothest' ? { ...framing, forRepeat: framing.reserved } : framing,
    longestLens: longestFocalWithinLimits(otherLenses(clip, way, focalLengthMm), delivery),
    pixels: deliveryPixels(source, delivery, crop.zoom),
    shutter: shutterForBlur({
      motion,
      camera,
      delivery,
      pxScale: pxScaleAt(camera, delivery, crop.zoom),
      shutterAngleDeg: rig.shutterAngleDeg ?? ASSUMED_SHUTTER_ANGLE_DEG,
    }),
  };
}

/**
 * What takes of several lengths will need where the move is kept: standing still costs what the move goes astray, and the smoothest
 * path takes what it is given. The hits of the test are taken apart.
 */
function forecast(
  { motion, camera, rig = {} }: StabilisationInput,
  kept: Way,
  takesS: readonly number[],
  { hits, seed }: { readonly hits: readonly Hit[] | undefined; readonly seed: number },
): TakeForecast {
  return predictTakes({ ...testPassOf(kept, camera, motion.rateHz, rig), hits }, takesS, seed);
}

/** A pass as the forecast of other takes needs it. @param camera that the way's crop was computed for */
export function testPassOf(way: Way, camera: Camera, rateHz: number, rig: Rig): TestPass {
  const { vibration } = way.corrections;
  const { wheelbaseM, speedMps, jointSpacingM } = rig;
  return {
    cropFraction: way.crop.halfWidthShare.map((share) => 1 - share),
    rateHz,
    upCrossingsHz: upCrossings(vibration, rateHz, camera),
    vibration: [vibration.pan, vibration.tilt, vibration.roll],
    ...(wheelbaseM !== undefined && speedMps !== undefined && { echoS: wheelbaseM / speedMps }),
    ...(jointSpacingM !== undefined &&
      speedMps !== undefined && { joints: { spacingM: jointSpacingM, speedMps } }),
  };
}

/** Upward zero crossings per second of the axis that costs the most crop. */
function upCrossings({ pan, tilt }: Way['corrections']['vibration'], rateHz: number, camera: Camera): number {
  const series = energy(pan) / camera.widthPx ** 2 > energy(tilt) / camera.heightPx ** 2 ? pan : tilt;
  let crossings = 0;
  for (let t = 1; t < series.length; t++) if (series[t - 1] <= 0 && series[t] > 0) crossings++;
  return series.length > 0 ? (crossings * rateHz) / series.length : 0;
}

function energy(series: Readonly<Float64Array>): number {
  return series.reduce((sum, value) => sum + value * value, 0);
}

function average(values: Readonly<Float64Array>): number {
  return values.length > 0 ? values.reduce((sum, value) => sum + value, 0) / values.length : 0;
}
