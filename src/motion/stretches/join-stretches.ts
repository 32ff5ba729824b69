/**
 * One path of a clip of hours out of the paths of its stretches, each solved by itself and forgotten before the next is looked at.
 *
 * Neighbours share some seconds: the turn, shift and ratio of scales between them come from the poses that both have there, and in
 * the middle of it one fades into the other. Depths and readouts are taken together as those of the pieces of a stretch are.
 */
import { median } from '../../numerics/index.js';
import type { Warning } from '../../run/index.js';
import { motionWarningTexts } from '../../texts/index.js';
import type { ClipPath } from '../clip-path.js';
import { fuseDistortions } from '../distortion/distortion-outcome.js';
import { scaleDepth } from '../metric-scale.js';
import { fuseReadouts } from '../rolling-shutter/readout-outcome.js';
import { poseBetween, shareOfLater } from '../segments/fade.js';
import { copyCovariance } from '../segments/fusion.js';
import { compose, IDENTITY, joinPoses, poseIn, type Similarity } from '../segments/join.js';
import type { SceneDepth } from '../types.js';

/** Frames with fewer kept tracks than this have no pose worth joining by, and so many such frames make a join. */
const FEWEST_INLIERS = 8;
const FEWEST_FRAMES = 8;
/** Variance of the logarithm up to which a ratio of scales that the two paths tell is believed: 5 %. */
const BELIEVED_VARIANCE = 0.05 ** 2;

/** A stretch, where it lies in the first one, and its frames that belong to the whole: from..to-1. */
interface PlacedStretch {
  readonly path: ClipPath;
  readonly place: Similarity;
  readonly from: number;
  readonly to: number;
  /** Frames at its head that the stretch before has, too. */
  readonly shared: number;
}

/**
 * Joins the paths of stretches, in order of time.
 *
 * Stretches of the rarer kind (turning on the spot among travelling ones, or the other way round) cannot stand beside the others and
 * count no kept track, as pieces of a stretch do. Where two paths share no frame worth joining by, or the dolly stands where they
 * meet, the scale is carried over by the depths of the scene, and a warning says so.
 *
 * @param paths at least one; neighbours share frames, told by their time stamps
 */
export function joinStretches(paths: readonly ClipPath[]): ClipPath {
  if (paths.length === 1) return paths[0];
  const mode = modeOf(paths);
  const warnings: Warning[] = [];
  const placed: PlacedStretch[] = [];
  let before: PlacedStretch | null = null;
  for (const path of paths) {
    const last: PlacedStretch | undefined = placed.at(-1);
    const shared = last ? sharedFrames(last.path, path) : 0;
    const fits = path.mode === mode;
    let place: Similarity = before?.place ?? IDENTITY;
    if (fits && before) {
      const joined = placeAfter(before.path, path, before === last ? shared : 0);
      place = compose(before.place, joined.place);
      if (joined.guessed && mode === 'full')
        warnings.push({
          code: 'motion-scale-bridged',
          text: motionWarningTexts.scaleBridged(path.timeS[0].toFixed(1)),
          atS: path.timeS[0],
        });
    }
    const from = last ? last.to - shared : 0;
    const one: PlacedStretch = { path, place, from, to: from + path.timeS.length, shared };
    placed.push(one);
    if (fits) before = one;
  }
  return assemble(placed, mode, warnings);
}

/** What most of the frames say. */
function modeOf(paths: readonly ClipPath[]): ClipPath['mode'] {
  const frames = (mode: ClipPath['mode']): number =>
    paths.reduce((sum, path) => sum + (path.mode === mode ? path.timeS.length : 0), 0);
  return frames('full') >= frames('rotationOnly') ? 'full' : 'rotationOnly';
}

/** How many frames at the head of `after` are those at the tail of `before`. */
function sharedFrames(before: ClipPath, after: ClipPath): number {
  const first = after.timeS[0];
  let from = before.timeS.length;
  while (from > 0 && before.timeS[from - 1] >= first) from--;
  return before.timeS.length - from;
}

/** Where `after` lies in `before`, and whether its scale is a guess. */
function placeAfter(
  before: ClipPath,
  after: ClipPath,
  shared: number,
): { readonly place: Similarity; readonly guessed: boolean } {
  const offset = before.timeS.length - shared;
  const frames = Array.from({ length: shared }, (_, k) => k).filter(
    (k) => before.inliers[offset + k] >= FEWEST_INLIERS && after.inliers[k] >= FEWEST_INLIERS,
  );
  // The depths of a scene say what a unit of either path is, roughly, where the paths themselves do not.
  const byDepth = before.depth && after.depth ? before.depth.median / after.depth.median : 1;
  let guessed = false;
  if (frames.length >= FEWEST_FRAMES) {
    const place = joinPoses(
      { poses: before, chosen: frames.map((k) => offset + k) },
      { poses: after, chosen: frames },
      (ofPaths) => {
        if (after.mode !== 'full') return 1;
        const told = ofPaths !== null && ofPaths.variance <= BELIEVED_VARIANCE;
        guessed = !told;
        return told ? ofPaths.scale : byDepth;
      },
    );
    if (place) return { place, guessed };
  }
  const last = lastSound(before);
  const there = poseIn(before, last, IDENTITY);
  const first = after.inliers.findIndex((kept) => kept >= FEWEST_INLIERS);
  const place = joinPoses(
    { poses: { rotations: there.rotation, centres: Float64Array.from(there.centre) }, chosen: [0] },
    { poses: after, chosen: [Math.max(first, 0)] },
    () => byDepth,
  );
  return { place: place ?? IDENTITY, guessed: true };
}

function lastSound({ inliers }: ClipPath): number {
  for (let t = inliers.length - 1; t > 0; t--) if (inliers[t] >= FEWEST_INLIERS) return t;
  return 0;
}

/** The frames of all stretches as one path. */
function assemble(
  placed: readonly PlacedStretch[],
  mode: ClipPath['mode'],
  warnings: readonly Warning[],
): ClipPath {
  const frameCount = placed[placed.length - 1].to;
  const column = (width: number): Float64Array => new Float64Array(width * frameCount);
  const whole = {
    timeS: column(1),
    rotations: column(9),
    centres: column(3),
    white: column(36),
    coherent: column(36),
    tracks: new Int32Array(frameCount),
    inliers: new Int32Array(frameCount),
  };
  const turning = mode === 'rotationOnly';
  const scaleChange = turning ? { scale: column(1), variance: column(1).fill(Infinity) } : null;
  placed.forEach(({ path, place, from, shared }) => {
    const counts = path.mode === mode;
    for (let k = 0; k < path.timeS.length; k++) {
      const t = from + k;
      const isShared = k < shared;
      const later = isShared ? shareOfLater(k, shared) : 1;
      const pose = poseIn(path, k, place);
      const told = isShared && {
        rotation: whole.rotations.slice(9 * t, 9 * t + 9),
        centre: centreAt(whole, t),
      };
      const isEarlierBetter = isShared && whole.inliers[t] >= FEWEST_INLIERS;
      const isLaterSound = counts && path.inliers[k] >= FEWEST_INLIERS;
      // Where only one of the two has a sound pose it counts alone.
      const share = !isEarlierBetter ? 1 : isLaterSound ? later : 0;
      const put = told && share < 1 ? poseBetween(told, pose, share) : pose;
      whole.rotations.set(put.rotation, 9 * t);
      whole.centres.set(put.centre, 3 * t);
      if (share <= 0.5) continue;
      whole.timeS[t] = path.timeS[k];
      copyCovariance(path.white, k, whole.white, t, place.scale);
      copyCovariance(path.coherent, k, whole.coherent, t, place.scale);
      whole.tracks[t] = path.tracks[k];
      whole.inliers[t] = counts ? path.inliers[k] : 0;
      if (scaleChange && path.scaleChange) {
        scaleChange.scale[t] = path.scaleChange.scale[k];
        scaleChange.variance[t] = path.scaleChange.variance[k];
      }
    }
  });
  const counted = placed.filter(({ path }) => path.mode === mode);
  const paths = counted.map(({ path }) => path);
  const frames = paths.reduce((sum, path) => sum + path.timeS.length, 0);
  const meanOf = (value: (path: ClipPath) => number): number =>
    paths.reduce((sum, path) => sum + value(path) * path.timeS.length, 0) / frames;
  return {
    ...whole,
    mode,
    scaleChange,
    sigma: Math.sqrt(meanOf(({ sigma }) => sigma ** 2)),
    depth: turning ? null : depthOfAll(counted),
    parallaxP: Math.max(...paths.map(({ parallaxP }) => parallaxP)),
    keptShare: meanOf(({ keptShare }) => keptShare),
    ...fuseReadouts(paths),
    distortion: fuseDistortions(paths.map(({ distortion }) => distortion)),
    signs: paths.flatMap(({ signs }) => signs),
    warnings: [...paths.flatMap((path) => path.warnings), ...warnings],
  };
}

function centreAt({ centres }: { readonly centres: Float64Array }, t: number): number[] {
  return [centres[3 * t], centres[3 * t + 1], centres[3 * t + 2]];
}

/** The depths of all stretches taken together, in the unit of the first; the median is that of their medians. */
function depthOfAll(placed: readonly PlacedStretch[]): SceneDepth | null {
  const depths = placed.flatMap(({ path: { depth, timeS }, place }) =>
    depth ? [{ ...scaleDepth(depth, place.scale), frames: timeS.length }] : [],
  );
  if (depths.length === 0) return null;
  const frames = depths.reduce((sum, one) => sum + one.frames, 0);
  const meanOf = (value: (depth: SceneDepth) => number): number =>
    depths.reduce((sum, one) => sum + value(one) * one.frames, 0) / frames;
  const meanInverse = meanOf((one) => one.meanInverse);
  const square = meanOf((one) => one.meanInverse ** 2 + one.sdInverse ** 2);
  return {
    median: median(Float64Array.from(depths, (one) => one.median)),
    meanInverse,
    sdInverse: Math.sqrt(Math.max(0, square - meanInverse ** 2)),
  };
}
