/**
 * How far the picture shifts in each frame before anything is stabilised: all six axes together, px of the delivery, on one lens and
 * at one distance for all passes.
 */
import { median } from '../../numerics/index.js';
import type { PictureSize } from '../../optics/index.js';
import { AXES, isAngular, type Axis } from '../../run/index.js';
import { pictureMeanSquares, pictureReach, vibrationAt, type PictureReach } from '../../stabilise/index.js';
import type { MeasuredPass } from '../pass/measured-pass.js';

/** What all passes are looked at through. */
export interface CommonView {
  /** Focal length over the width of the picture. */
  readonly focalPerWidth: number;
  readonly delivery: PictureSize;
  /** Mean inverse depth, 1/m; null: each pass has its own. */
  readonly meanInverseDepthPerM: number | null;
  /** Slower motion counts as the move. */
  readonly cutoffHz: number;
}

/** The shake of one pass. */
export interface PictureShake {
  /** Mean square over the picture, px^2 of the delivery, one per frame of the motion; noise included. */
  readonly squares: Float64Array;
  /** What measuring noise adds to it on average. */
  readonly noise: number;
}

/** Focal length over picture width. */
export function focalPerWidthOf({ motion: { camera } }: MeasuredPass): number {
  return camera.focalPx / camera.widthPx;
}

/** The longest lens, the middle distance of the scenes, the delivery of the first pass; what is given wins. */
export function commonView(
  passes: readonly MeasuredPass[],
  given: { readonly focalPerWidth?: number | null; readonly delivery?: PictureSize } = {},
): CommonView {
  const depths = passes.flatMap(({ motion: { depth, translationUnit } }) =>
    depth !== null && translationUnit === 'm' ? [depth.meanInverse] : [],
  );
  return {
    focalPerWidth: given.focalPerWidth ?? Math.max(...passes.map(focalPerWidthOf)),
    delivery: given.delivery ?? passes[0].delivery,
    meanInverseDepthPerM: depths.length > 0 ? median(depths) : null,
    cutoffHz: Math.max(...passes.map(({ motion }) => motion.bandHz[0])),
  };
}

/**
 * The shift of the picture, frame by frame.
 *
 * Where translation cannot be told from rotation the angles hold it already, and moves are left out. The noise is that of the six
 * axes together: errors of pan and lateral (tilt and vertical) cancel in the picture by their correlation.
 */
export function pictureShake({ motion }: MeasuredPass, view: CommonView): PictureShake {
  const { camera, depth, translationUnit } = motion;
  const pxScale = view.delivery.widthPx / camera.widthPx;
  const lens = { ...camera, focalPx: view.focalPerWidth * camera.widthPx };
  const reach = pictureReach(lens, view.delivery, pxScale);
  const moves = motion.mode === 'full' && motion.observable !== 'no' && depth !== null;
  const meanInverse =
    translationUnit === 'm'
      ? (view.meanInverseDepthPerM ?? depth?.meanInverse ?? 0)
      : (depth?.meanInverse ?? 0);
  const band = vibrationAt(motion, 1 / view.cutoffHz);
  const counted = AXES.filter((axis) => moves || isAngular(axis));
  const change = Object.fromEntries(counted.map((axis) => [axis, band.series[axis]]));
  const at = moves ? { median: depth.median, meanInverse, sdInverse: 0 } : null;
  const perPx = pxScale ** 2;
  const noise = noiseSquare(motion, counted, reach, at === null ? 0 : meanInverse);
  const narrower = keptShare(view.cutoffHz, motion.rateHz) / keptShare(motion.bandHz[0], motion.rateHz);
  return {
    squares: pictureMeanSquares(change, reach, at).map((square) => square * perPx),
    noise: noise * perPx * narrower,
  };
}

function noiseSquare(
  { axes, separation: { correlation } }: MeasuredPass['motion'],
  counted: readonly Axis[],
  reach: PictureReach,
  meanInverse: number,
): number {
  const sd = (axis: Axis): number => (counted.includes(axis) ? axes[axis].plainFloor : 0);
  const per = reach.focalPx * meanInverse;
  const alone =
    (reach.pan * sd('pan')) ** 2 +
    (reach.tilt * sd('tilt')) ** 2 +
    (reach.roll * sd('roll')) ** 2 +
    per ** 2 * (sd('lateral') ** 2 + sd('vertical') ** 2 + (reach.axialArm * sd('axial')) ** 2);
  const together =
    reach.panWithLateral * (correlation?.panLateral ?? 0) * sd('pan') * sd('lateral') +
    reach.tiltWithVertical * (correlation?.tiltVertical ?? 0) * sd('tilt') * sd('vertical');
  return Math.max(0, alone + 2 * reach.focalPx * per * together);
}

/** Share of white noise that a high-pass keeps. */
function keptShare(cutoffHz: number, rateHz: number): number {
  return 1 - cutoffHz / (rateHz / 2);
}
