/**
 * From a reconstructed scene to series of the clip: the frames that can be used, on an even time base, lengths in the
 * unit wanted, and the noise that goes with them.
 */
import type { Camera } from '../optics/index.js';
import { AXES, sixAxes, type Axis, type SixAxes } from '../run/index.js';
import { meanAxisCovariance, type AxisCovariance } from './axis-noise.js';
import type { ClipPath } from './clip-path.js';
import type { EvenTime } from './even-time.js';
import { cruisingSpeed, pathLength, scaleDepth } from './metric-scale.js';
import { SPLIT_DEFAULTS, type ResolvedSplit } from './options.js';
import { poseSeries, vibrationOf } from './series.js';
import type { SceneDepth } from './types.js';
import type { AxisVerdicts } from './verdicts.js';

/** The unit that lengths are given in, and the factor from the scene's own unit to it. */
export interface LengthUnit {
  readonly factor: number;
  readonly metric: boolean;
  /** Length of the camera's path, metres: as given, or as the speed makes it; null when not metric. */
  readonly travelM: number | null;
  /** Speed under way by the travel given, over the speed given; null when not both are. */
  readonly speedRatio: number | null;
  /** In the new unit; null when rotation-only. */
  readonly depth: SceneDepth | null;
}

/** Finds the unit: metres when travel or speed is known and the camera travelled; travel goes first. */
export function lengthUnit(
  scene: Pick<ClipPath, 'depth'>,
  centres: Float64Array,
  time: EvenTime,
  { travelM, speedMps, cutoffHz }: ResolvedSplit,
): LengthUnit {
  const { depth } = scene;
  if (!depth) return { factor: 1, metric: false, travelM: null, speedRatio: null, depth: null };
  const columns = [0, 1, 2].map((j) => time.resample(centres.filter((_, k) => k % 3 === j)));
  const length = pathLength(columns, time.rateHz, cutoffHz);
  const known = travelM ?? speedMps;
  const cruise = cruisingSpeed(columns, time.rateHz, cutoffHz);
  const measured = travelM !== null ? length : cruise;
  const metric = known !== null && measured > 0;
  const factor = metric ? known / measured : 1 / depth.median;
  return {
    factor,
    metric,
    travelM: metric ? (travelM ?? length * factor) : null,
    speedRatio: metric && travelM !== null && speedMps !== null ? (cruise * factor) / speedMps : null,
    depth: scaleDepth(depth, factor),
  };
}

/** Cumulative series of the used frames, on the even time base, lengths in the unit wanted. */
export function evenPath(
  rotations: Float64Array,
  centres: Float64Array,
  time: EvenTime,
  factor: number,
): SixAxes {
  const series = poseSeries(
    rotations,
    centres.map((value) => value * factor),
  );
  return sixAxes((axis) => time.resample(series[axis]));
}

/** Samples left out at each end; at most a quarter of a short clip. */
export function trimOf(time: EvenTime): number {
  return Math.min(Math.round(SPLIT_DEFAULTS.trimS * time.rateHz), Math.floor(time.timeS.length / 4));
}

/** Mean covariance of the axes over the frames that count. */
export function noiseOf(
  { white, coherent }: Pick<ClipPath, 'white' | 'coherent'>,
  counted: readonly number[],
  camera: Camera,
  factor: number,
  settings: ResolvedSplit,
): AxisCovariance {
  const shiftPx = settings.interCoded
    ? SPLIT_DEFAULTS.codingSigmaPx * settings.codingScale * (camera.widthPx / 960)
    : 0;
  return meanAxisCovariance(white, coherent, counted, (shiftPx / camera.focalPx) ** 2, factor);
}

/** Picture scale of a rotation-only clip, as vibration and its noise variance. */
export function evenScale(
  { scale, variance }: NonNullable<ClipPath['scaleChange']>,
  used: readonly number[],
  counted: readonly number[],
  time: EvenTime,
  settings: ResolvedSplit,
): { vibration: Float64Array; variance: number } {
  const column = time.resample(pick(scale, used, 1));
  const still = new Float64Array(column.length);
  const { vibration } = vibrationOf(
    sixAxes((axis) => (axis === 'axial' ? column : still)),
    time.rateHz,
    settings.cutoffHz,
  );
  const sum = counted.reduce((total, t) => total + variance[t], 0);
  return { vibration: vibration.axial, variance: sum / Math.max(counted.length, 1) };
}

/** White noise per sample; pan and tilt that took in translation have the noise of the combination. */
export function scaledDeviation(
  deviations: readonly Float64Array[],
  axis: Axis,
  before: AxisCovariance,
  verdicts: AxisVerdicts,
): Float64Array {
  const a = AXES.indexOf(axis);
  const ratio = before.plain[7 * a] > 0 ? Math.sqrt(verdicts.noise.plain[7 * a] / before.plain[7 * a]) : 1;
  return deviations[a].map((v) => v * ratio);
}

/** Frames that hold at least so many kept tracks. */
export function framesWith(inliers: Int32Array, atLeast: number): number[] {
  return Array.from(inliers.keys()).filter((t) => inliers[t] >= atLeast);
}

/** The entries of some frames, `width` numbers a frame, as a new column. */
export function pick(column: Float64Array, frames: readonly number[], width: number): Float64Array {
  const out = new Float64Array(width * frames.length);
  frames.forEach((t, k) => out.set(column.subarray(width * t, width * t + width), width * k));
  return out;
}
