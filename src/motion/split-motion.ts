/**
 * The split: from the tracks of a clip to the camera's motion on six axes, divided into angular and translational,
 * intended move and vibration, each figure with its noise floor. The whole method on one page.
 *
 * Why it works: the slow dolly move shows every track's depth over a second or two; with depths known, each frame is a
 * small well-posed problem of six unknowns, in which rotation and parallax look different. So all poses and depths
 * of the clip are solved together, once, and never frame against frame.
 */
import type { Camera } from '../optics/index.js';
import { AXES, sixAxes, type Axis, type SixAxes, type Warning } from '../run/index.js';
import type { TrackTable } from '../tracking/index.js';
import { angularShare, angularShareOfRotation, type AngularShare } from './angular-share.js';
import { axisDeviations, meanAxisCovariance, type AxisCovariance } from './axis-noise.js';
import { codingLoss } from './coding-loss.js';
import { passedShare } from './estimate.js';
import { evenTime, type EvenTime } from './even-time.js';
import { pathLength, scaleDepth, sceneDepth } from './metric-scale.js';
import { prepareObservations, type Observations } from './observations.js';
import { resolveSplitOptions, SPLIT_DEFAULTS, type ResolvedSplit, type SplitOptions } from './options.js';
import { pictureScale } from './picture-scale.js';
import { reconstruct, type Reconstruction } from './reconstruct.js';
import { poseSeries, vibrationOf } from './series.js';
import { cutoffWarning, gapWarnings, scaleWarning, weakStretchWarnings } from './split-warnings.js';
import type { Motion, SceneDepth } from './types.js';
import { unmeasuredMotion } from './unmeasured.js';
import { travellingVerdicts, turningVerdicts, withoutEnds, type AxisVerdicts } from './verdicts.js';

/** Below these a clip tells nothing: frames and tracks, and kept tracks in a frame that counts. */
const FEWEST_FRAMES = 12;
const FEWEST_TRACKS = 15;
const FEWEST_INLIERS = 8;

/**
 * Splits the motion of a clip.
 *
 * @param table the tracks, in analysis pixels; not changed
 * @param camera the camera at the analysis size
 * @param options see SplitOptions; the same table, camera and options give the same result, bit for bit
 * @returns a full Motion always: a clip that cannot be measured gives axes that are `notObservable`, with the reason
 * @throws RangeError when the table's columns do not fit one another or an option is out of range
 */
export function splitMotion(table: TrackTable, camera: Camera, options: SplitOptions = {}): Motion {
  const durationS = table.frameCount > 1 ? table.timeS[table.frameCount - 1] - table.timeS[0] : 0;
  const settings = resolveSplitOptions(options, durationS);
  const { observations: obs } = prepareObservations(table, camera);
  if (table.frameCount < FEWEST_FRAMES || obs.trackCount < FEWEST_TRACKS) {
    return unmeasuredMotion(
      table,
      settings,
      'The clip holds too few frames or steady tracks to measure motion from.',
    );
  }

  // Poses of all frames and depths of all tracks, in a unit of their own.
  const clip = {
    rateHz: evenTime(table.timeS).rateHz,
    unitPerPx: camera.widthPx / 960 / camera.focalPx,
  };
  const scene = reconstruct(obs, camera, clip, settings);
  if (!scene.holds) {
    return unmeasuredMotion(
      table,
      settings,
      'No one camera path explains how the points move: things that move by themselves fill the frame, or the picture ' +
        'bends (a very wide lens whose distortion was not given, a slow rolling shutter, stabilising in the camera).',
    );
  }

  // Series on an even time base, in metres when the travel is known, else in median scene depths.
  const used = framesWith(scene.covariances.inliers, FEWEST_INLIERS);
  if (used.length < FEWEST_FRAMES) {
    return unmeasuredMotion(
      table,
      settings,
      'Too few frames hold enough steady tracks to measure motion from.',
    );
  }
  const time = evenTime(pick(table.timeS, used, 1));
  const rotations = pick(scene.scene.rotations, used, 9);
  const centres = pick(scene.scene.centres, used, 3);
  const unit = lengthUnit(scene, centres, time, settings);
  const path = evenPath(rotations, centres, time, unit.factor);
  const { intended, vibration } = vibrationOf(path, time.rateHz, settings.cutoffHz);

  // Noise of the frames that count, then the verdict on each axis.
  const trimFrames = trimOf(time);
  const counted = used.slice(trimFrames, used.length - trimFrames);
  const noise = noiseOf(scene, counted, camera, unit.factor, settings);
  const loss =
    settings.interCoded && unit.depth ? codingLoss(vibration, unit.depth, camera, trimFrames) : null;
  const measured = { vibration, noise, loss, rateHz: time.rateHz, cutoffHz: settings.cutoffHz, trimFrames };
  const verdicts =
    scene.mode === 'full'
      ? travellingVerdicts(measured, unit.metric, scene.parallaxP)
      : turningVerdicts(measured, evenScale(obs, scene, used, counted, time, settings), scene.parallaxP);
  const deviations = axisDeviations(scene.covariances.white, unit.factor).map((column) =>
    time.nearest(pick(column, used, 1)),
  );
  settings.onProgress(100, 100);

  return {
    timeS: time.timeS,
    rateHz: time.rateHz,
    resampleShiftS: time.largestShiftS,
    mode: scene.mode,
    path: sixAxes((axis) => intended[axis].map((value, t) => value + verdicts.vibration[axis][t])),
    intended,
    vibration: verdicts.vibration,
    noiseSd: sixAxes((axis) => scaledDeviation(deviations, axis, noise, verdicts)),
    translationUnit: unit.metric ? 'm' : 'medianDepth',
    travelM: unit.metric ? settings.travelM : null,
    depth: unit.depth,
    axes: verdicts.axes,
    bandHz: [settings.cutoffHz, time.rateHz / 2],
    trimFrames,
    parallaxP: scene.parallaxP,
    observable: verdicts.observable,
    observableReason: verdicts.reason,
    angularShare: shareOf(scene, verdicts, camera, unit.depth, time, trimFrames, settings),
    sigmaPx: scene.covariances.sigma * camera.focalPx,
    keptShare: scene.keptShare,
    tracksPerFrame: Int32Array.from(
      { length: obs.frameCount },
      (_, t) => obs.frameStart[t + 1] - obs.frameStart[t],
    ),
    inliersPerFrame: scene.covariances.inliers,
    warnings: warningsOf(table, used, time, deviations, unit, settings, options.cutoffHz),
  };
}

/** The unit that lengths are given in, and the factor from the scene's own unit to it. */
interface LengthUnit {
  readonly factor: number;
  readonly metric: boolean;
  /** In the new unit; null when rotation-only. */
  readonly depth: SceneDepth | null;
}

function lengthUnit(
  scene: Reconstruction,
  centres: Float64Array,
  time: EvenTime,
  { travelM, cutoffHz }: ResolvedSplit,
): LengthUnit {
  const depth = scene.mode === 'full' ? sceneDepth(scene.covariances) : null;
  if (!depth) return { factor: 1, metric: false, depth: null };
  const columns = [0, 1, 2].map((j) => time.resample(centres.filter((_, k) => k % 3 === j)));
  const length = pathLength(columns, time.rateHz, cutoffHz);
  const metric = travelM !== null && length > 0;
  const factor = metric ? travelM / length : 1 / depth.median;
  return { factor, metric, depth: scaleDepth(depth, factor) };
}

/** Cumulative series of the used frames, on the even time base, lengths in the unit wanted. */
function evenPath(rotations: Float64Array, centres: Float64Array, time: EvenTime, factor: number): SixAxes {
  const series = poseSeries(
    rotations,
    centres.map((value) => value * factor),
  );
  return sixAxes((axis) => time.resample(series[axis]));
}

/** Samples left out at each end; at most a quarter of a short clip. */
function trimOf(time: EvenTime): number {
  return Math.min(Math.round(SPLIT_DEFAULTS.trimS * time.rateHz), Math.floor(time.timeS.length / 4));
}

function noiseOf(
  scene: Reconstruction,
  counted: readonly number[],
  camera: Camera,
  factor: number,
  settings: ResolvedSplit,
): AxisCovariance {
  const { white, coherent } = scene.covariances;
  const shiftPx = settings.interCoded ? SPLIT_DEFAULTS.codingSigmaPx * (camera.widthPx / 960) : 0;
  return meanAxisCovariance(white, coherent, counted, (shiftPx / camera.focalPx) ** 2, factor);
}

/** Picture scale of a rotation-only clip, as vibration and its noise variance. */
function evenScale(
  obs: Observations,
  scene: Reconstruction,
  used: readonly number[],
  counted: readonly number[],
  time: EvenTime,
  settings: ResolvedSplit,
): { vibration: Float64Array; variance: number } {
  const { scale, variance } = pictureScale(obs, scene.covariances);
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

function shareOf(
  scene: Reconstruction,
  { vibration, noise, observable }: AxisVerdicts,
  camera: Camera,
  depth: SceneDepth | null,
  time: EvenTime,
  trimFrames: number,
  { cutoffHz }: ResolvedSplit,
): AngularShare {
  const passed = passedShare(time.rateHz, cutoffHz);
  const kept = sixAxes((axis) => withoutEnds(vibration[axis], trimFrames));
  const inBand = {
    plain: noise.plain.map((v) => v * passed),
    wide: noise.wide.map((v) => v * passed),
  };
  const independent = kept.pan.length * passed;
  if (scene.mode === 'rotationOnly') {
    const residual = scene.covariances.sigma ** 2;
    return angularShareOfRotation(kept, inBand, camera, residual, independent);
  }
  if (observable === 'no' || !depth) return { value: null, ci95: null };
  const meanSquare = depth.meanInverse ** 2 + depth.sdInverse ** 2;
  return angularShare(kept, inBand, camera, meanSquare, independent);
}

/** White noise per sample; pan and tilt that took in translation have the noise of the combination. */
function scaledDeviation(
  deviations: readonly Float64Array[],
  axis: Axis,
  before: AxisCovariance,
  verdicts: AxisVerdicts,
): Float64Array {
  const a = AXES.indexOf(axis);
  const ratio = before.plain[7 * a] > 0 ? Math.sqrt(verdicts.noise.plain[7 * a] / before.plain[7 * a]) : 1;
  return deviations[a].map((v) => v * ratio);
}

function warningsOf(
  table: TrackTable,
  used: readonly number[],
  time: EvenTime,
  deviations: readonly Float64Array[],
  unit: LengthUnit,
  settings: ResolvedSplit,
  askedHz: number | undefined,
): Warning[] {
  const present = new Set(used);
  const dropped = Array.from(table.timeS.keys()).filter((t) => !present.has(t));
  return [
    ...cutoffWarning(settings, askedHz),
    ...gapWarnings(dropped, table.timeS, time),
    ...weakStretchWarnings(deviations, time),
    ...scaleWarning(unit.depth, unit.metric),
  ];
}

function framesWith(inliers: Int32Array, atLeast: number): number[] {
  return Array.from(inliers.keys()).filter((t) => inliers[t] >= atLeast);
}

/** The entries of some frames, `width` numbers a frame, as a new column. */
function pick(column: Float64Array, frames: readonly number[], width: number): Float64Array {
  const out = new Float64Array(width * frames.length);
  frames.forEach((t, k) => out.set(column.subarray(width * t, width * t + width), width * k));
  return out;
}
