/**
 * The split: from the tracks of a clip to the camera's motion on six axes, divided into angular and translational,
 * intended move and vibration, each figure with its noise floor. The whole method on one page.
 *
 * Why it works: the slow dolly move shows every track's depth over a second or two; with depths known, each frame is a
 * small well-posed problem of six unknowns, in which rotation and parallax look different. So all poses and depths
 * of the clip are solved together, in one piece or a few that overlap, and never frame against frame.
 */
import type { Camera } from '../optics/index.js';
import { AXES, TRANSLATIONAL_AXES, sixAxes, type Warning } from '../run/index.js';
import { unmeasuredTexts } from '../texts/index.js';
import type { TrackTable } from '../tracking/index.js';
import { angularShare, angularShareOfRotation, type AngularShare } from './angular-share.js';
import { axisDeviations, type AxisCovariance } from './axis-noise.js';
import {
  evenPath,
  evenScale,
  framesWith,
  lengthUnit,
  noiseOf,
  pick,
  scaledDeviation,
  trimOf,
  type LengthUnit,
} from './clip-series.js';
import { codingLoss } from './coding-loss.js';
import { passedShare } from './estimate.js';
import { cameraWith } from './distortion/distortion-outcome.js';
import { axesBentInDoubt, distortionWarning } from './distortion/distortion-words.js';
import { evenTime, type EvenTime } from './even-time.js';
import { shareAlongLens } from './focal-effect.js';
import { keptObservations, prepareObservations } from './observations.js';
import { resolveSplitOptions, SPLIT_DEFAULTS, type ResolvedSplit, type SplitOptions } from './options.js';
import type { Reconstruction } from './piece.js';
import { reconstructClip, segmentWarnings, type ClipReconstruction } from './segments/reconstruct-clip.js';
import { poseInformation } from './separation.js';
import { vibrationOf } from './series.js';
import { showDepth } from './show-depth.js';
import {
  cutoffWarning,
  gapWarnings,
  scaleWarning,
  speedWarning,
  weakStretchWarnings,
} from './split-warnings.js';
import type { Motion, SceneDepth, Unsplit } from './types.js';
import { unmeasuredMotion } from './unmeasured.js';
import {
  countedSamples,
  travellingVerdicts,
  turningVerdicts,
  type AxisVerdicts,
  type MeasuredVibration,
} from './verdicts.js';

/** Below these a clip tells nothing: frames and tracks, and kept tracks in a frame that counts. */
const FEWEST_FRAMES = 12;
const FEWEST_TRACKS = 15;
const FEWEST_INLIERS = 8;

/**
 * Splits the motion of a clip.
 *
 * @param table the tracks, in analysis pixels; not changed
 * @param givenCamera the camera at the analysis size; with a distortion of null, that of a wide lens is looked for
 * @param options see SplitOptions; the same table, camera and options give the same result, bit for bit
 * @returns a full Motion always: a clip that cannot be measured gives axes that are `notObservable`, with the reason
 * @throws RangeError when the table's columns do not fit one another or an option is out of range
 */
export function splitMotion(table: TrackTable, givenCamera: Camera, options: SplitOptions = {}): Motion {
  const durationS = table.frameCount > 1 ? table.timeS[table.frameCount - 1] - table.timeS[0] : 0;
  const settings = resolveSplitOptions(options, durationS);
  const { observations: obs, trackOfWhole } = prepareObservations(table, givenCamera);
  if (table.frameCount < FEWEST_FRAMES || obs.trackCount < FEWEST_TRACKS) {
    return unmeasuredMotion(table, givenCamera, settings, unmeasuredTexts.tooLittle);
  }

  // Poses of all frames and depths of all tracks, in a unit of their own.
  const clip = {
    rateHz: evenTime(table.timeS).rateHz,
    timeS: table.timeS,
    unitPerPx: givenCamera.widthPx / 960 / givenCamera.focalPx,
  };
  const scene = reconstructClip(obs, givenCamera, clip, settings);
  if (!scene.holds) {
    return unmeasuredMotion(table, givenCamera, settings, unmeasuredTexts.noOnePath);
  }

  const camera = cameraWith(givenCamera, scene.distortion);

  // Series on an even time base, in metres when the travel is known, else in median scene depths.
  const used = framesWith(scene.covariances.inliers, FEWEST_INLIERS);
  if (used.length < FEWEST_FRAMES) {
    return unmeasuredMotion(table, givenCamera, settings, unmeasuredTexts.tooFewGoodFrames);
  }
  const time = evenTime(pick(table.timeS, used, 1));
  const rotations = pick(scene.scene.rotations, used, 9);
  const centres = pick(scene.scene.centres, used, 3);
  const unit = lengthUnit(scene, centres, time, settings);
  const path = evenPath(rotations, centres, time, unit.factor);
  const { intended, vibration } = vibrationOf(path, time.rateHz, settings.cutoffHz);

  // Noise of the frames that count, then the verdict on each axis.
  const trimFrames = trimOf(time);
  const inGap = countedGaps(time, trimFrames);
  const counted = used.slice(trimFrames, used.length - trimFrames);
  const noise = noiseOf(scene, counted, camera, unit.factor, settings);
  const loss =
    settings.interCoded && unit.depth
      ? codingLoss(vibration, unit.depth, camera, trimFrames, settings.codingScale)
      : null;
  const { rateHz } = time;
  const measured = { vibration, noise, loss, rateHz, cutoffHz: settings.cutoffHz, trimFrames, inGap };
  const verdicts =
    scene.mode === 'full'
      ? travellingVerdicts(measured, unit.metric, scene.parallaxP)
      : turningVerdicts(measured, evenScale(obs, scene, used, counted, time, settings), scene.parallaxP);
  const deviations = axisDeviations(scene.covariances.white, unit.factor).map((column) =>
    time.nearest(pick(column, used, 1)),
  );
  const bent = axesBentInDoubt(scene.distortion, verdicts.axes);
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
    travelM: unit.travelM,
    depth: unit.depth,
    axes: verdicts.axes,
    bandHz: [settings.cutoffHz, time.rateHz / 2],
    trimFrames,
    parallaxP: scene.parallaxP,
    observable: verdicts.observable,
    observableReason: verdicts.reason,
    separation: {
      correlation: verdicts.correlation,
      information: poseInformation(
        scene.covariances.white,
        Array.from(time.nearest(Float64Array.from(used))),
        unit.factor,
        scene.mode === 'rotationOnly',
      ),
      unsplit: unsplitOf(scene, verdicts, camera, unit, noise, time, settings),
    },
    alongLens: shareAlongLens(intended),
    angularShare: shareOf(scene, verdicts, camera, unit.depth, measured),
    sigmaPx: scene.covariances.sigma * camera.focalPx,
    keptShare: scene.keptShare,
    tracksPerFrame: Int32Array.from(
      { length: obs.frameCount },
      (_, t) => obs.frameStart[t + 1] - obs.frameStart[t],
    ),
    inliersPerFrame: scene.covariances.inliers,
    keptObservations: keptObservations(table, { observations: obs, trackOfWhole }, scene.covariances.weights),
    readout: scene.readout,
    distortion: scene.distortion,
    camera,
    unreliable: [...scene.unreliable, ...bent],
    warnings: [
      ...warningsOf(table, scene, used, time, deviations, unit, settings, options.cutoffHz),
      ...distortionWarning(scene.distortion, bent),
    ],
  };
}

/** What can be said, and what to change, where pan and lateral or tilt and vertical could not be told apart. */
function unsplitOf(
  { parallaxP }: Reconstruction,
  { unsplit }: AxisVerdicts,
  camera: Camera,
  { metric, depth }: LengthUnit,
  { plain }: AxisCovariance,
  { rateHz }: EvenTime,
  { cutoffHz }: ResolvedSplit,
): Unsplit | null {
  if (!unsplit) return null;
  const variance = Math.max(...TRANSLATIONAL_AXES.slice(0, 2).map((axis) => plain[7 * AXES.indexOf(axis)]));
  const floor = depth ? Math.sqrt(variance * passedShare(rateHz, cutoffHz)) : null;
  return { ...unsplit, change: showDepth({ cause: unsplit.cause, camera, depth, metric, floor, parallaxP }) };
}

/** The samples that bridge long gaps, ends of gaps treated like ends of the clip; null when leaving them out leaves nothing. */
function countedGaps(time: EvenTime, trimFrames: number): Uint8Array | null {
  const inGap = time.inGap(SPLIT_DEFAULTS.trimS);
  const left = inGap?.subarray(trimFrames, inGap.length - trimFrames).filter((gap) => gap === 0).length ?? 0;
  return left >= FEWEST_FRAMES ? inGap : null;
}

function shareOf(
  scene: Reconstruction,
  { vibration, noise, observable }: AxisVerdicts,
  camera: Camera,
  depth: SceneDepth | null,
  measured: MeasuredVibration,
): AngularShare {
  const passed = passedShare(measured.rateHz, measured.cutoffHz);
  const kept = sixAxes((axis) => countedSamples(vibration[axis], measured));
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

function warningsOf(
  table: TrackTable,
  scene: ClipReconstruction,
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
    ...segmentWarnings(scene, table.timeS),
    ...gapWarnings(dropped, table.timeS, time),
    ...weakStretchWarnings(deviations, time),
    ...scaleWarning(unit.depth, unit.metric),
    ...speedWarning(unit.speedRatio, settings.speedMps),
  ];
}
