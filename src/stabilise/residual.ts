/**
 * What is left in the picture, in delivery pixels, after the angular vibration has been taken out by one warp per frame.
 *
 * A translational vibration d = (lateral, vertical, axial) moves a point of inverse depth rho, seen at (x, y), by
 * f rho (-lateral + x axial, vertical + y axial) pixels: the warp turns the picture only, so all of this stays.
 * Its mean over the depths is a shift of the whole picture; the part that goes with the spread of rho is parallax and
 * survives a shift as well. Motion field: Longuet-Higgins & Prazdny 1980, Proc. R. Soc. Lond. B 208.
 */
import { quantile, rms as rootMeanSquare } from '../numerics/index.js';
import type { Camera } from '../optics/index.js';
import { TRANSLATIONAL_AXES, type AngularAxis } from '../run/index.js';
import type { Motion, SceneDepth } from '../motion/index.js';
import { changeNoiseGain, changeWithinFrame } from './change-within-frame.js';
import type { Residual } from './types.js';
import { whiteVariance, withoutEnds, type VibrationBand } from './vibration-at.js';

/** Times of one frame that turn motion into blur and skew. */
export interface FrameTimes {
  readonly exposureS: number;
  /** From the first row to one past the last; null when unknown. */
  readonly readoutS: number | null;
}

/** Midpoints of eight bands of rows, as shares of the readout from mid-frame; the other half mirrors them. */
const ROW_BANDS = [1 / 16, 3 / 16, 5 / 16, 7 / 16] as const;

/**
 * The residual of a plan.
 *
 * @param band vibration that the plan removes (angles) or leaves (translation)
 * @param pxScale delivery pixels per analysis pixel, zoom included
 */
export function residualOf(
  motion: Motion,
  band: VibrationBand,
  camera: Camera,
  pxScale: number,
  times: FrameTimes,
): Residual {
  const readoutPx =
    times.readoutS === null ? null : readoutSkew(motion, band, camera, times.readoutS) * pxScale;
  const blurPx = blurRange(motion, band, camera, times.exposureS) * pxScale;
  const left = translationLeft(motion, band, camera);
  if (left === null)
    return { status: 'notObservable', rmsPx: null, p95Px: null, parallaxPx: null, blurPx, readoutPx };
  return {
    status: left.atMost ? 'atMost' : 'value',
    rmsPx: Math.hypot(left.rms * pxScale, readoutPx ?? 0),
    p95Px: left.p95 === null ? null : Math.hypot(left.p95 * pxScale, readoutPx ?? 0),
    parallaxPx: left.parallax * pxScale,
    blurPx,
    readoutPx,
  };
}

interface TranslationLeft {
  readonly atMost: boolean;
  readonly rms: number;
  readonly p95: number | null;
  readonly parallax: number;
}

/** Picture motion by translation, analysis px; null when it cannot be told from rotation. */
function translationLeft(motion: Motion, band: VibrationBand, camera: Camera): TranslationLeft | null {
  const { depth, axes } = motion;
  const observable =
    motion.observable !== 'no' && TRANSLATIONAL_AXES.every((axis) => axes[axis].status !== 'notObservable');
  if (depth === null || !observable) return null;
  const atMost = TRANSLATIONAL_AXES.every((axis) => axes[axis].status === 'below');
  const size = (axis: 'lateral' | 'vertical' | 'axial'): number =>
    atMost ? axes[axis].below : band.rms[axis];
  // An axial move scales the picture: its pixels move by their distance from the centre.
  const axialArm = frameRadius(camera) / camera.focalPx;
  const travel = Math.hypot(size('lateral'), size('vertical'), axialArm * size('axial'));
  const all = camera.focalPx * inverseDepthRms(depth);
  const rms = all * travel;
  return {
    atMost,
    rms,
    p95: atMost ? null : percentile95(motion, band, axialArm, all, rms),
    parallax: camera.focalPx * depth.sdInverse * travel,
  };
}

function inverseDepthRms(depth: SceneDepth): number {
  return Math.hypot(depth.meanInverse, depth.sdInverse);
}

/** Frame by frame, then scaled down by what noise adds to the RMS. */
function percentile95(
  motion: Motion,
  band: VibrationBand,
  axialArm: number,
  pxPerUnit: number,
  rmsPx: number,
): number {
  const { lateral, vertical, axial } = band.series;
  const perFrame = lateral.map((value, t) => pxPerUnit * Math.hypot(value, vertical[t], axialArm * axial[t]));
  const inner = withoutEnds(perFrame, motion.trimFrames);
  const raw = inner.length > 0 ? rootMeanSquare(inner) : 0;
  return raw > 0 ? quantile(inner, 0.95) * (rmsPx / raw) : 0;
}

/** RMS distance of the pixels from the middle of the frame. */
function frameRadius(camera: Camera): number {
  return Math.hypot(camera.widthPx, camera.heightPx) / Math.sqrt(12);
}

/** Pixels per radian, RMS over the frame. */
function pixelsPerRadian(camera: Camera): Readonly<Record<AngularAxis, number>> {
  return { pan: camera.focalPx, tilt: camera.focalPx, roll: frameRadius(camera) };
}

/**
 * RMS over rows and frames of f (theta(t + s) - theta(t)), s the time of the row from mid-frame; analysis px.
 * Angular vibration only; the noise of the angles is taken off.
 */
function readoutSkew(motion: Motion, band: VibrationBand, camera: Camera, readoutS: number): number {
  if (readoutS === 0) return 0;
  const reach = pixelsPerRadian(camera);
  let sum = 0;
  for (const share of ROW_BANDS) {
    const spanS = share * readoutS;
    for (const axis of ['pan', 'tilt', 'roll'] as const) {
      const change = withoutEnds(
        changeWithinFrame(band.series[axis], motion.rateHz, 0, spanS),
        motion.trimFrames,
      );
      if (change.length === 0) continue;
      const noise = whiteVariance(motion, axis) * changeNoiseGain(motion.rateHz, spanS);
      sum += reach[axis] ** 2 * Math.max(0, rootMeanSquare(change) ** 2 - noise);
    }
  }
  return Math.sqrt(sum / ROW_BANDS.length);
}

/**
 * Range over the frames of the length of angular motion blur |f (theta(t + T/2) - theta(t - T/2))|, analysis px:
 * intended move and vibration together, for the blur of a pan hides that of a shake. 99.5 minus 0.5 percentile.
 */
function blurRange(motion: Motion, band: VibrationBand, camera: Camera, exposureS: number): number {
  const n = motion.timeS.length;
  if (n === 0 || exposureS === 0) return 0;
  const reach = pixelsPerRadian(camera);
  const squared = new Float64Array(n);
  for (const axis of ['pan', 'tilt', 'roll'] as const) {
    const vibration = band.series[axis];
    const intended = motion.path[axis].map((value, t) => value - vibration[t]);
    const shake = changeWithinFrame(vibration, motion.rateHz, -exposureS / 2, exposureS / 2);
    const move = changeWithinFrame(intended, motion.rateHz, -exposureS / 2, exposureS / 2);
    const measured = rootMeanSquare(withoutEnds(shake, motion.trimFrames)) ** 2;
    const noise = whiteVariance(motion, axis) * changeNoiseGain(motion.rateHz, exposureS);
    const trust = measured > 0 ? Math.sqrt(Math.max(0, 1 - noise / measured)) : 0;
    for (let t = 0; t < n; t++) squared[t] += (reach[axis] * (move[t] + trust * shake[t])) ** 2;
  }
  const lengths = withoutEnds(squared, motion.trimFrames).map(Math.sqrt);
  return quantile(lengths, 0.995) - quantile(lengths, 0.005);
}
