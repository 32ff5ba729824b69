/**
 * How the scene of one piece of a clip lies in the scene of the piece before it: a turn, a shift and a ratio of scales,
 * from the frames and tracks that both have.
 *
 *   X_before = scale Q X_after + shift,   R_before = R_after Q^T,   lengths_before = scale lengths_after
 */
import { mean, median, medianAbsoluteDeviation } from '../../numerics/index.js';
import { multiply3, rotationFromVector } from '../../optics/index.js';
import type { Reconstruction } from '../piece.js';
import { projectTrack } from '../resection.js';
import { rotationVector } from '../rotation-steps.js';
import type { Segment } from './plan.js';

/** A solved piece of the clip; frames of its scene count from `from`, its tracks are numbered by trackOfWhole (rising). */
export interface SolvedSegment extends Segment {
  readonly reconstruction: Reconstruction;
  readonly trackOfWhole: Int32Array;
}

/** Places one scene in another; `rotation` is Q, 3x3 row-major. */
export interface Similarity {
  readonly scale: number;
  readonly rotation: Float64Array;
  readonly shift: readonly [number, number, number];
}

/** A scene left where it is. */
export const IDENTITY: Similarity = {
  scale: 1,
  rotation: Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1),
  shift: [0, 0, 0],
};

/** Frames with fewer kept tracks than this have no pose worth joining by. */
const FEWEST_INLIERS = 8;
/** Fewest common frames and tracks that fix a ratio of scales. */
const FEWEST_FRAMES = 8;
const FEWEST_TRACKS = 8;

/** Poses as columns: world-to-camera rotations, 9 each, row-major, and camera centres, 3 each. */
export interface Poses {
  readonly rotations: Float64Array;
  readonly centres: Float64Array;
}

/** Poses and which of them are meant. */
export interface ChosenPoses {
  readonly poses: Poses;
  readonly chosen: readonly number[];
}

/** The camera-to-world matrix of Q R^T, and the centre, of frame t after the similarity. */
export function poseIn(
  { rotations, centres }: Poses,
  t: number,
  { scale, rotation, shift }: Similarity,
): { rotation: Float64Array; centre: number[] } {
  const c = centres.subarray(3 * t, 3 * t + 3);
  return {
    rotation: multiply3(rotations.subarray(9 * t, 9 * t + 9), transposed(rotation)),
    centre: [0, 1, 2].map(
      (j) =>
        shift[j] + scale * (rotation[3 * j] * c[0] + rotation[3 * j + 1] * c[1] + rotation[3 * j + 2] * c[2]),
    ),
  };
}

/** The similarity that does `inner` and then `outer`. */
export function compose(outer: Similarity, inner: Similarity): Similarity {
  const s = inner.shift;
  const q = outer.rotation;
  const place = (j: number): number =>
    outer.shift[j] + outer.scale * (q[3 * j] * s[0] + q[3 * j + 1] * s[1] + q[3 * j + 2] * s[2]);
  return {
    scale: outer.scale * inner.scale,
    rotation: multiply3(outer.rotation, inner.rotation),
    shift: [place(0), place(1), place(2)],
  };
}

/** Whether the piece holds frame t of the clip by enough kept tracks. */
export function isSound({ from, to, reconstruction }: SolvedSegment, t: number): boolean {
  return t >= from && t < to && reconstruction.covariances.inliers[t - from] >= FEWEST_INLIERS;
}

/** Frames of the clip that the piece has a sound pose for. */
export function soundFrames(segment: SolvedSegment): number[] {
  return Array.from({ length: segment.to - segment.from }, (_, k) => segment.from + k).filter((t) =>
    isSound(segment, t),
  );
}

/**
 * Joins two pieces by what they share; null when they share too little.
 *
 * The ratio of scales comes from the path and from the depths of the common tracks, each weighed by how well it agrees
 * with itself: the path decides while the dolly rolls, the depths while it stands.
 */
export function joinSegments(before: SolvedSegment, after: SolvedSegment): Similarity | null {
  const frames = soundFrames(before).filter((t) => isSound(after, t));
  if (frames.length < FEWEST_FRAMES) return null;
  const middle = frames[Math.floor(frames.length / 2)];
  const chosenOf = ({ from, reconstruction }: SolvedSegment): ChosenPoses => ({
    poses: reconstruction.scene,
    chosen: frames.map((t) => t - from),
  });
  return joinPoses(chosenOf(before), chosenOf(after), (ofPaths) => {
    if (before.reconstruction.mode !== 'full') return 1;
    const estimates = [ofPaths, scaleOfDepths(before, after, middle, middle)].filter((one) => one !== null);
    if (estimates.length === 0) return null;
    const weight = estimates.reduce((sum, { variance }) => sum + 1 / variance, 0);
    return Math.exp(estimates.reduce((sum, e) => sum + Math.log(e.scale) / e.variance, 0) / weight);
  });
}

/**
 * Joins two paths by the poses that both have of the same frames.
 *
 * @param before and `after`: the poses of those frames, as many on either side
 * @param scaleBy the ratio of scales, told what the two paths make of it (null when they hardly move); null when there is none
 */
export function joinPoses(
  before: ChosenPoses,
  after: ChosenPoses,
  scaleBy: (ofPaths: ScaleEstimate | null) => number | null,
): Similarity | null {
  const rotation = meanTurn(before, after);
  const columnsBefore = centreColumns(before, IDENTITY);
  const columnsAfter = centreColumns(after, { ...IDENTITY, rotation });
  const scale = scaleBy(scaleOfPaths(columnsBefore, columnsAfter));
  if (scale === null) return null;
  const shift = (j: number): number => mean(columnsBefore[j].map((v, k) => v - scale * columnsAfter[j][k]));
  return { scale, rotation, shift: [shift(0), shift(1), shift(2)] };
}

/** Q, the mean of R_before^T R_after over the frames. */
function meanTurn(before: ChosenPoses, after: ChosenPoses): Float64Array {
  const turnAt = (k: number): Float64Array =>
    multiply3(transposed(rotationAt(before, k)), rotationAt(after, k));
  const first = turnAt(Math.floor(before.chosen.length / 2));
  const rest = before.chosen.map((_, k) => rotationVector(multiply3(turnAt(k), transposed(first))));
  const [wx, wy, wz] = [0, 1, 2].map((j) => median(rest.map((w) => w[j])));
  return multiply3(rotationFromVector(wx, wy, wz), first);
}

/** A ratio of scales and how far it can be trusted. */
export interface ScaleEstimate {
  readonly scale: number;
  /** Of its logarithm. */
  readonly variance: number;
}

/** Ratio of scales from the centres of the common frames, turned alike already; null when they hardly move. */
function scaleOfPaths(before: readonly Float64Array[], after: readonly Float64Array[]): ScaleEstimate | null {
  let cross = 0;
  let squareBefore = 0;
  let squareAfter = 0;
  before.forEach((column, j) => {
    const middleBefore = mean(column);
    const middleAfter = mean(after[j]);
    column.forEach((value, k) => {
      cross += (value - middleBefore) * (after[j][k] - middleAfter);
      squareBefore += (value - middleBefore) ** 2;
      squareAfter += (after[j][k] - middleAfter) ** 2;
    });
  });
  if (!(cross > 0)) return null;
  const scale = Math.sqrt(squareBefore / squareAfter);
  // One less the correlation of the two paths: what is left of one after the other was taken off, twice over.
  const variance = Math.max(2 - (2 * cross) / Math.sqrt(squareBefore * squareAfter), 1e-9);
  return { scale, variance };
}

/**
 * Ratio of scales from the inverse depths of the common tracks, as a frame of either piece sees them from the same place;
 * null when there are too few.
 */
export function scaleOfDepths(
  before: SolvedSegment,
  after: SolvedSegment,
  frameBefore: number,
  frameAfter: number,
): ScaleEstimate | null {
  const point = { x: new Float64Array(1), y: new Float64Array(1), inverseDepth: new Float64Array(1) };
  const inverseDepth = ({ from, reconstruction }: SolvedSegment, t: number, track: number): number => {
    projectTrack(reconstruction.scene, t - from, track, point, 0);
    return point.inverseDepth[0];
  };
  const early: number[] = [];
  const late: number[] = [];
  for (let i = 0, j = 0; i < before.trackOfWhole.length && j < after.trackOfWhole.length;) {
    const difference = before.trackOfWhole[i] - after.trackOfWhole[j];
    const kept =
      before.reconstruction.scene.trackWeights[i] > 0.5 && after.reconstruction.scene.trackWeights[j] > 0.5;
    if (difference === 0 && kept) {
      early.push(inverseDepth(before, frameBefore, i));
      late.push(inverseDepth(after, frameAfter, j));
    }
    if (difference <= 0) i++;
    if (difference >= 0) j++;
  }
  if (early.length < FEWEST_TRACKS) return null;
  let scale = median(early.map((q, k) => late[k] / q));
  let variance = Infinity;
  for (let round = 0; round < 5 && scale > 0; round++) {
    const off = early.map((q, k) => late[k] - scale * q);
    const width = Math.max(3 * medianAbsoluteDeviation(off), 1e-12);
    const weights = off.map((e) => 1 / (1 + (e / width) ** 2) ** 2);
    const sum = (of: (k: number) => number): number => weights.reduce((total, w, k) => total + w * of(k), 0);
    const squares = sum((k) => early[k] ** 2);
    // Both sides err alike, so neither may be taken as exact: the ratio of their powers.
    scale = Math.sqrt(sum((k) => late[k] ** 2) / squares);
    variance = sum((k) => weights[k] * off[k] ** 2 * early[k] ** 2) / (scale * squares) ** 2;
  }
  return scale > 0 && Number.isFinite(scale) ? { scale, variance: Math.max(variance, 1e-9) } : null;
}

function rotationAt({ poses, chosen }: ChosenPoses, k: number): Float64Array {
  return poses.rotations.subarray(9 * chosen[k], 9 * chosen[k] + 9);
}

function centreColumns({ poses, chosen }: ChosenPoses, by: Similarity): Float64Array[] {
  const columns = [0, 1, 2].map(() => new Float64Array(chosen.length));
  chosen.forEach((t, k) => {
    const { centre } = poseIn(poses, t, by);
    for (let j = 0; j < 3; j++) columns[j][k] = centre[j];
  });
  return columns;
}

/** Transpose of a 3x3 matrix. */
export function transposed(m: ArrayLike<number>): Float64Array {
  return Float64Array.of(m[0], m[3], m[6], m[1], m[4], m[7], m[2], m[5], m[8]);
}
