/** The ways to stabilise one clip, each with what it takes out (rad), costs (crop) and leaves (px of the delivery). */
import type { Camera } from '../optics/index.js';
import type { ResolvedDelivery } from '../run/index.js';
import { stabilisingTexts } from '../texts/index.js';
import type { Motion } from '../motion/index.js';
import { exactCrop, heightPerWidth, MOST_CROP_PERCENT, wholeHalfWidth } from './crop/exact-crop.js';
import { staticCrop } from './crop/static-crop.js';
import { residualOf, type FrameTimes } from './residual/residual-by-cause.js';
import type { Residual } from './residual/residual-types.js';
import { rowChanges } from './turn/row-changes.js';
import { vibrationForMode, type TargetPath } from './path/target-path.js';
import type { BareWay, Corrections, RowChanges, StabiliseMode, StaticCrop, Way } from './types.js';
import { smoothingOf, vibrationAt } from './path/vibration-at.js';

/** The smoothest path uses this much of the crop allowed: the rest is for resampling at the border. */
const SMOOTHEST_SHARE = 0.99;

/** A clip to stabilise, with what is known of it. */
export interface WayInput {
  readonly motion: Motion;
  /** Camera of the analysis frames. */
  readonly camera: Camera;
  readonly delivery: ResolvedDelivery;
  readonly times: FrameTimes;
}

/** What is asked of a way. */
export interface WayWish {
  readonly mode: StabiliseMode;
  /** For keepMove; that at which the motion was split unless given. */
  readonly smoothingS?: number | undefined;
}

/**
 * One way to stabilise a clip.
 *
 * @throws RangeError when the smoothing is not positive or its cut-off lies beyond half the frame rate
 */
export function wayOf(input: WayInput, wish: WayWish): Way {
  return wayWith(input, wish, exactCrop);
}

/** The same figures as `wayOf` in less time: where the crop of each frame by itself is not asked for. @throws RangeError as `wayOf` */
export function bareWayOf(input: WayInput, wish: WayWish): BareWay {
  return wayWith(input, wish, staticCrop);
}

function wayWith<Crop extends StaticCrop>(
  input: WayInput,
  wish: WayWish,
  cropOf: (corrections: Corrections, camera: Camera, shape: number) => Crop,
): Omit<Way, 'crop'> & { readonly crop: Crop } {
  const { camera, delivery, motion } = input;
  const { target, corrections } = turnsOf(input, wish);
  const crop = cropOf(corrections, camera, heightPerWidth(delivery));
  return {
    mode: wish.mode,
    smoothingS: wish.mode === 'keepMove' ? (wish.smoothingS ?? smoothingOf(motion)) : null,
    remark: remarkOn(target),
    corrections,
    crop,
    residual: residualAt(input, corrections, camera, crop.zoom),
  };
}

/** What one way takes out, without what it costs and leaves. @throws RangeError as `wayOf` */
export function correctionsOf(input: WayInput, wish: WayWish): Corrections {
  return turnsOf(input, wish).corrections;
}

function turnsOf(input: WayInput, wish: WayWish): { target: TargetPath; corrections: Corrections } {
  const { motion, camera, delivery } = input;
  const shape = heightPerWidth(delivery);
  const rows = rowsOf(input);
  const { mode, smoothingS = smoothingOf(motion) } = wish;
  // More than that is no shot to stabilise, whatever a crew accepts.
  const maxCropPercent = SMOOTHEST_SHARE * Math.min(delivery.maxCropPercent, MOST_CROP_PERCENT);
  const request = { motion, camera, rows, shape, smoothingS, maxCropPercent };
  const target = vibrationForMode(mode, request);
  return { target, corrections: { vibration: target.vibration, rows } };
}

function remarkOn(target: TargetPath): string | null {
  if (target.mode !== 'smoothest') return null;
  const remark = stabilisingTexts.smoothest[target.kind];
  return target.limitRaised ? stabilisingTexts.smoothest.limitRaised(remark) : remark;
}

/** What is left when `corrections` are taken on a camera, which may hold another lens, at a zoom. */
export function residualAt(
  input: WayInput,
  corrections: Corrections,
  camera: Camera,
  zoom: number,
): Residual {
  const { motion, delivery, times } = input;
  return residualOf({
    motion,
    band: vibrationAt(motion, smoothingOf(motion)),
    correctionsVibration: corrections.vibration,
    camera,
    pxScale: pxScaleAt(camera, delivery, zoom),
    times,
    rowsCorrected: corrections.rows !== null,
    delivery,
  });
}

/** Delivery pixels per pixel of the camera at a zoom: the zoom enlarges what is left, too. */
export function pxScaleAt(
  camera: Camera,
  delivery: { readonly widthPx: number; readonly heightPx: number },
  zoom: number,
): number {
  return (zoom * delivery.widthPx) / (2 * wholeHalfWidth(camera, heightPerWidth(delivery)));
}

/** The same motion is stabilised in many ways: its rows are found once, and forgotten with it. */
const knownRows = new WeakMap<Motion, { readonly readoutS: number; readonly rows: RowChanges }>();

/** How the rows of each frame turn apart; null when the readout is not known, or a global shutter reads no rows. */
function rowsOf({ motion, times: { readoutS } }: WayInput): RowChanges | null {
  if (readoutS === null || readoutS === 0) return null;
  const before = knownRows.get(motion);
  if (before?.readoutS === readoutS) return before.rows;
  const rows = rowChanges(motion.path, motion.rateHz, readoutS);
  knownRows.set(motion, { readoutS, rows });
  return rows;
}
