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
import { FEWEST_FRAMES, solvePath, type ClipPath } from './clip-path.js';
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
import { motionDoubts } from './doubt/motion-doubts.js';
import { evenTime, type EvenTime } from './even-time.js';
import { shareAlongLens } from './focal-effect.js';
import { resolveSplitOptions, SPLIT_DEFAULTS, type ResolvedSplit, type SplitOptions } from './options.js';
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

/** Kept tracks below which a frame does not count. */
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
  const solved = solvePath(table, givenCamera, settings);
  if (solved.path === null)
    return unmeasuredMotion(table, givenCamera, settings, unmeasuredTexts[solved.why]);
  const motion = motionOfPath(solved.path, givenCamera, settings, options.cutoffHz);
  if (typeof motion === 'string') return unmeasuredMotion(table, givenCamera, settings, motion);
  return { ...motion, keptObservations: solved.kept };
}

/**
 * From the path of the camera to the figures on six axes.
 *
 * @param askedHz the cut-off that was asked for; the usual one unless given
 * @returns the motion without what became of single observations; or why it cannot be measured, as a sentence
 */
export function motionOfPath(
  scene: ClipPath,
  givenCamera: Camera,
  settings: ResolvedSplit,
  askedHz: number | undefined,
): Motion | string {
  const camera = cameraWith(givenCamera, scene.distortion);

  // Series on an even time base, in metres when the travel is known, else in median scene depths.
  const used = framesWith(scene.inliers, FEWEST_INLIERS);
  if (used.length < FEWEST_FRAMES) return unmeasuredTexts.tooFewGoodFrames;
  const time = evenTime(pick(scene.timeS, used, 1));
  const rotations = pick(scene.rotations, used, 9);
  const centres = pick(scene.centres, used, 3);
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
    scene.scaleChange === null
      ? travellingVerdicts(measured, unit.metric, scene.parallaxP)
      : turningVerdicts(
          measured,
          evenScale(scene.scaleChange, used, counted, time, settings),
          scene.parallaxP,
        );
  const deviations = axisDeviations(scene.white, unit.factor).map((column) =>
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
        scene.white,
        Array.from(time.nearest(Float64Array.from(used))),
        unit.factor,
        scene.mode === 'rotationOnly',
      ),
      unsplit: unsplitOf(scene, verdicts, camera, unit, noise, time, settings),
    },
    alongLens: shareAlongLens(intended),
    angularShare: shareOf(scene, verdicts, camera, unit.depth, measured),
    sigmaPx: scene.sigma * camera.focalPx,
    keptShare: scene.keptShare,
    tracksPerFrame: scene.tracks,
    inliersPerFrame: scene.inliers,
    keptObservations: new Uint8Array(0),
    readout: scene.readout,
    distortion: scene.distortion,
    camera,
    unreliable: [...scene.unreliable, ...bent],
    warnings: [
      ...warningsOf(scene, used, time, deviations, unit, settings, askedHz),
      ...distortionWarning(scene.distortion, bent),
      ...motionDoubts(scene.signs),
    ],
  };
}

/** What can be said, and what to change, where pan and lateral or tilt and vertical could not be told apart. */
function unsplitOf(
  { parallaxP }: ClipPath,
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
  { mode, sigma }: ClipPath,
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
  if (mode === 'rotationOnly') {
    const residual = sigma ** 2;
    return angularShareOfRotation(kept, inBand, camera, residual, independent);
  }
  if (observable === 'no' || !depth) return { value: null, ci95: null };
  const meanSquare = depth.meanInverse ** 2 + depth.sdInverse ** 2;
  return angularShare(kept, inBand, camera, meanSquare, independent);
}

function warningsOf(
  { timeS, warnings }: ClipPath,
  used: readonly number[],
  time: EvenTime,
  deviations: readonly Float64Array[],
  unit: LengthUnit,
  settings: ResolvedSplit,
  askedHz: number | undefined,
): Warning[] {
  const present = new Set(used);
  const dropped = Array.from(timeS.keys()).filter((t) => !present.has(t));
  return [
    ...cutoffWarning(settings, askedHz),
    ...warnings,
    ...gapWarnings(dropped, timeS, time),
    ...weakStretchWarnings(deviations, time),
    ...scaleWarning(unit.depth, unit.metric),
    ...speedWarning(unit.speedRatio, settings.speedMps),
  ];
}
