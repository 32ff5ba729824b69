/**
 * The plan to keep a move and take its vibration out: crop, trade-off with smoothing, what is left, what to set.
 *
 * From a measured motion (radians, translation unit), the camera of the analysis frames (px) and the delivery (px).
 */
import { shutterTimeS, type Camera, type PictureSize } from '../optics/index.js';
import type { Assumption, ResolvedDelivery, Rig } from '../run/index.js';
import type { Motion } from '../motion/index.js';
import {
  correctionHomographies,
  exactZoomForPath,
  heightPerWidth,
  horizontalCropPercent,
  wholeHalfWidth,
} from './exact-crop.js';
import { predictTakes } from './longer-take.js';
import { MOVING_ZOOM_WINDOW_S, smoothBelow } from './moving-zoom.js';
import { residualOf, type FrameTimes } from './residual.js';
import type { CurvePoint, ExactCrop, Recommendation, Residual, Stabilisation } from './types.js';
import { smoothingFits, smoothingOf, vibrationAt, type VibrationBand } from './vibration-at.js';

/** What a plan is made from. */
export interface StabilisationInput {
  readonly motion: Motion;
  /** Camera of the analysis frames. */
  readonly camera: Camera;
  readonly delivery: ResolvedDelivery;
  /** Shutter angle and sensor readout, when known. */
  readonly rig?: Pick<Rig, 'shutterAngleDeg' | 'readoutMs'>;
  /** Size of the clip, to say how many of its pixels are left. */
  readonly source?: PictureSize;
}

/** Choices of a plan. */
export interface StabilisationOptions {
  /** One over the frequency below which motion is kept, seconds; that at which the motion was split unless given. */
  readonly smoothingS?: number;
  /** Smoothings of the trade-off curve, seconds; those that do not fit the clip are left out. */
  readonly sweepS?: readonly number[];
  /** Seed of the upper bounds of longer takes. */
  readonly seed?: number;
}

/** Defaults of the options; the smoothing comes from the motion. */
export const STABILISE_DEFAULTS = {
  sweepS: [0.25, 0.35, 0.5, 0.7, 1, 1.5, 2, 2.5, 3],
  seed: 1,
} as const;

/** Taken when the crew names no shutter. */
export const ASSUMED_SHUTTER_ANGLE_DEG = 180;
/** Reserve on top of the exact zoom, for half a pixel of interpolation at the border and for tracking errors. */
const RESERVE_ZOOM = 0.002;

/**
 * Plans the stabilisation of one clip: the intended move of pan, tilt and roll is kept, the rest of the angles is taken
 * out by one warp per frame, and the picture is enlarged until no border shows. Translation is left as it is.
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
  const { motion, camera, delivery, rig = {}, source } = input;
  const {
    smoothingS = smoothingOf(motion),
    sweepS = STABILISE_DEFAULTS.sweepS,
    seed = STABILISE_DEFAULTS.seed,
  } = options;
  if (!(smoothingS > 0)) throw new RangeError(`smoothingS must be positive, got ${smoothingS}`);
  const shape = heightPerWidth(delivery);
  const assumed: Assumption[] = [];
  const times = frameTimes(rig, motion, assumed);

  const chosen = consider(input, smoothingS, times);
  const { band, crop } = chosen;
  const curve = [...sweepS.filter((s) => s !== smoothingS && smoothingFits(motion, s)), smoothingS]
    .sort((a, b) => a - b)
    .map((s) => curvePoint(s, s === smoothingS ? chosen : consider(input, s, times)));

  const cropFraction = crop.halfWidthShare.map((share) => 1 - share);
  const moving = smoothBelow(crop.halfWidthShare, Math.round(MOVING_ZOOM_WINDOW_S * motion.rateHz));
  const movingCropFraction = moving.map((share) => 1 - share);
  return {
    mode: 'keepMove',
    smoothingS,
    timeS: motion.timeS,
    cropFraction,
    corrections: correctionHomographies(band.series, camera),
    zoom: crop.zoom,
    cropPercent: crop.cropPercent,
    cropPx: (delivery.widthPx * crop.cropPercent) / 100,
    coverable: crop.coverable,
    worstFrameS: crop.worstFrame < 0 ? null : motion.timeS[crop.worstFrame],
    movingCropFraction,
    movingCropPercent: 100 * average(movingCropFraction),
    longerTake:
      cropFraction.length === 0
        ? []
        : predictTakes(
            { cropFraction, rateHz: motion.rateHz, upCrossingsHz: upCrossings(motion, band, camera) },
            undefined,
            seed,
          ),
    curve,
    residual: chosen.residual,
    recommended: recommend(curve, smoothingS, delivery.maxCropPercent),
    pixelsLeft: source ? pixelsLeft(source, shape, crop.zoom) : null,
    frame: { widthPx: camera.widthPx, heightPx: camera.heightPx },
    delivery: { widthPx: delivery.widthPx, heightPx: delivery.heightPx },
    assumed,
  };
}

interface Considered {
  readonly band: VibrationBand;
  readonly crop: ExactCrop;
  readonly residual: Residual;
}

/** Crop and residual of one smoothing. */
function consider(input: StabilisationInput, smoothingS: number, times: FrameTimes): Considered {
  const { motion, camera, delivery } = input;
  const shape = heightPerWidth(delivery);
  const band = vibrationAt(motion, smoothingS);
  const crop = exactZoomForPath(band.series, camera, shape);
  // The zoom enlarges what is left, too.
  const pxScale = (crop.zoom * delivery.widthPx) / (2 * wholeHalfWidth(camera, shape));
  return { band, crop, residual: residualOf(motion, band, camera, pxScale, times) };
}

function curvePoint(smoothingS: number, { crop, residual }: Considered): CurvePoint {
  return { smoothingS, zoom: crop.zoom, cropPercent: crop.cropPercent, residualPx: residual.rmsPx };
}

function frameTimes(
  rig: Pick<Rig, 'shutterAngleDeg' | 'readoutMs'>,
  { rateHz, readout: found }: Motion,
  assumed: Assumption[],
): FrameTimes {
  if (rig.shutterAngleDeg === undefined) {
    assumed.push({
      name: 'shutterAngleDeg',
      value: `${ASSUMED_SHUTTER_ANGLE_DEG} deg`,
      matters: 'motion blur scales with it; crop does not depend on it',
    });
  }
  const exposureS = shutterTimeS(rig.shutterAngleDeg ?? ASSUMED_SHUTTER_ANGLE_DEG, rateHz);
  return { exposureS, readoutS: rig.readoutMs === undefined ? found.readoutS : rig.readoutMs / 1000 };
}

/** Upward zero crossings per second of the axis that costs the most crop. */
function upCrossings(motion: Motion, band: VibrationBand, camera: Camera): number {
  const pan = band.rawRms.pan / camera.widthPx;
  const tilt = band.rawRms.tilt / camera.heightPx;
  const series = pan > tilt ? band.series.pan : band.series.tilt;
  let crossings = 0;
  for (let t = 1; t < series.length; t++) if (series[t - 1] <= 0 && series[t] > 0) crossings++;
  return (crossings * motion.rateHz) / series.length;
}

/** The wanted smoothing when its crop is accepted, else the strongest one that is, else the one that costs least. */
function recommend(curve: readonly CurvePoint[], wantedS: number, maxCropPercent: number): Recommendation {
  const accepted = curve.filter(
    (point) => horizontalCropPercent(point.zoom + RESERVE_ZOOM) <= maxCropPercent,
  );
  const weaker = accepted.filter((point) => point.smoothingS <= wantedS);
  const cheapest = curve.reduce((a, b) => (b.zoom < a.zoom ? b : a));
  const best = weaker[weaker.length - 1] ?? cheapest;
  const zoom = best.zoom + RESERVE_ZOOM;
  return { smoothingS: best.smoothingS, zoom, overscanPercent: 100 * (zoom - 1) };
}

function pixelsLeft(source: PictureSize, shape: number, zoom: number): PictureSize {
  const widthPx = Math.floor((2 * wholeHalfWidth(source, shape)) / zoom);
  return { widthPx, heightPx: Math.floor(widthPx * shape) };
}

function average(values: Readonly<Float64Array>): number {
  return values.length > 0 ? values.reduce((sum, value) => sum + value, 0) / values.length : 0;
}
