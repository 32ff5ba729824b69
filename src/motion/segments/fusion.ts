/**
 * One scene of the whole clip out of its solved pieces: poses cross-faded in the middle of each overlap, where both
 * pieces know them well, everything else from the piece that knows it best. Lengths are in the unit of the first piece.
 */
import type { FrameCovariances } from '../covariance.js';
import { fuseDistortions } from '../distortion/distortion-outcome.js';
import type { Observations } from '../observations.js';
import type { Reconstruction } from '../piece.js';
import { fuseReadouts } from '../rolling-shutter/readout-outcome.js';
import { keptShare } from '../robust-weights.js';
import { blankScene, placeTrack, type Scene } from '../scene.js';
import { poseBetween, shareOfLater } from './fade.js';
import { isSound, poseIn, type Similarity, type SolvedSegment } from './join.js';

/** Variance (rad^2, square units) of frames that no piece holds. */
const UNKNOWN_VARIANCE = 1e6;

/** A piece and where it lies in the first one. */
export interface PlacedSegment {
  readonly segment: SolvedSegment;
  readonly place: Similarity;
}

/**
 * Fuses pieces of one mode, in order of time; only neighbours may overlap.
 *
 * Frames that no piece holds repeat the pose before them, count no kept track and are listed as lost; tracks that no
 * piece holds have weight 0.
 */
export function fuseSegments(obs: Observations, placed: readonly PlacedSegment[]): Reconstruction {
  const { frameCount, trackCount, count } = obs;
  const shares = frameShares(placed, frameCount);
  const scene = blankScene(frameCount, trackCount);
  const owner = fusePoses(scene, placed, shares);
  const bestSeen = new Int32Array(trackCount);
  const numbers = (size: number): Float64Array => new Float64Array(size);
  const fused = {
    white: numbers(36 * frameCount),
    coherent: numbers(36 * frameCount),
    inliers: new Int32Array(frameCount),
    weights: numbers(count),
    inverseDepth: numbers(count),
    projectedX: numbers(count),
    projectedY: numbers(count),
    residualX: numbers(count),
    residualY: numbers(count),
  };
  for (let t = 0; t < frameCount; t++)
    if (owner[t] < 0) for (let k = 0; k < 36; k += 7) fused.white[36 * t + k] = UNKNOWN_VARIANCE;

  let squares = 0;
  let observed = 0;
  placed.forEach(({ segment, place }, p) => {
    const { from, to, reconstruction } = segment;
    const { covariances } = reconstruction;
    for (let t = from; t < to; t++) {
      if (owner[t] !== p) continue;
      fused.inliers[t] = covariances.inliers[t - from];
      copyCovariance(covariances.white, t - from, fused.white, t, place.scale);
      copyCovariance(covariances.coherent, t - from, fused.coherent, t, place.scale);
    }
    const seen = fuseTracks(obs, scene, segment, place, owner, p, fused, bestSeen);
    squares += seen * covariances.sigma ** 2;
    observed += seen;
  });
  placeUnseen(obs, scene, bestSeen);

  const lost = new Set<number>();
  for (const { segment } of placed)
    for (const t of segment.reconstruction.lostFrames) lost.add(t + segment.from);
  const lostFrames = Array.from(owner.keys()).filter((t) => owner[t] < 0 || lost.has(t));
  return {
    mode: placed[0].segment.reconstruction.mode,
    scene,
    covariances: { ...fused, sigma: Math.sqrt(squares / Math.max(observed, 1)) },
    parallaxP: placed.reduce((most, { segment }) => Math.max(most, segment.reconstruction.parallaxP), 0),
    lostFrames,
    keptShare: keptShare(scene.trackWeights),
    holds: true,
    ...fuseReadouts(placed.map(({ segment }) => segment.reconstruction)),
    signs: placed.flatMap(({ segment }) => segment.reconstruction.signs),
    distortion: fuseDistortions(placed.map(({ segment }) => segment.reconstruction.distortion)),
  };
}

/**
 * How much each piece counts in each frame, 0..1: one column per piece, which add up to 1 wherever any piece lies. Where
 * only one of two pieces has a sound pose, it counts alone.
 */
export function frameShares(placed: readonly PlacedSegment[], frameCount: number): Float64Array[] {
  const shares = placed.map(({ segment: { from, to } }) => new Float64Array(frameCount).fill(1, from, to));
  for (let p = 1; p < placed.length; p++) {
    const before = placed[p - 1].segment;
    const after = placed[p].segment;
    const begin = after.from;
    const overlap = before.to - begin;
    for (let t = begin; t < begin + overlap; t++) {
      const step = shareOfLater(t - begin, overlap);
      const later = isSound(after, t) === isSound(before, t) ? step : isSound(after, t) ? 1 : 0;
      shares[p][t] = later;
      shares[p - 1][t] = 1 - later;
    }
  }
  return shares;
}

/** Sets all poses and returns the piece that counts most in each frame, -1 where there is none. */
function fusePoses(
  scene: Scene,
  placed: readonly PlacedSegment[],
  shares: readonly Float64Array[],
): Int32Array {
  const frameCount = scene.centres.length / 3;
  const owner = new Int32Array(frameCount).fill(-1);
  for (let t = 0; t < frameCount; t++) {
    const held = shares.flatMap((share, p) => (share[t] > 0 ? [p] : []));
    if (held.length === 0) {
      if (t === 0) continue;
      scene.rotations.copyWithin(9 * t, 9 * (t - 1), 9 * t);
      scene.centres.copyWithin(3 * t, 3 * (t - 1), 3 * t);
      continue;
    }
    const poses = held.map((p) => {
      const { segment, place } = placed[p];
      return poseIn(segment.reconstruction.scene, t - segment.from, place);
    });
    const late = held.length - 1;
    const share = late > 0 ? shares[held[late]][t] : 0;
    const { rotation, centre } = poseBetween(poses[0], poses[late], share);
    scene.rotations.set(rotation, 9 * t);
    scene.centres.set(centre, 3 * t);
    owner[t] = share > 0.5 ? held[late] : held[0];
  }
  return owner;
}

/**
 * Takes over what a piece knows of its tracks: the track itself from the piece that sees it longest, each observation
 * from the piece that owns its frame. Returns the number of observations taken over.
 */
function fuseTracks(
  obs: Observations,
  scene: Scene,
  segment: SolvedSegment,
  place: Similarity,
  owner: Int32Array,
  p: number,
  fused: Omit<FrameCovariances, 'sigma'>,
  bestSeen: Int32Array,
): number {
  const { from, to, trackOfWhole, reconstruction } = segment;
  const { scene: part, covariances } = reconstruction;
  const charts = { rotations: part.chartRotations, centres: part.chartCentres };
  let source = 0;
  let taken = 0;
  trackOfWhole.forEach((i, k) => {
    const before = source;
    for (let o = obs.trackStart[i]; o < obs.trackStart[i + 1]; o++) {
      const t = obs.frame[o];
      if (t < from || t >= to) continue;
      if (owner[t] === p) {
        fused.weights[o] = covariances.weights[source];
        fused.inverseDepth[o] = covariances.inverseDepth[source] / place.scale;
        fused.projectedX[o] = covariances.projectedX[source];
        fused.projectedY[o] = covariances.projectedY[source];
        fused.residualX[o] = covariances.residualX[source];
        fused.residualY[o] = covariances.residualY[source];
        taken++;
      }
      source++;
    }
    if (source - before <= bestSeen[i]) return;
    bestSeen[i] = source - before;
    const { rotation, centre } = poseIn(charts, k, place);
    scene.chartRotations.set(rotation, 9 * i);
    scene.chartCentres.set(centre, 3 * i);
    scene.points.set(part.points.subarray(3 * k, 3 * k + 2), 3 * i);
    scene.points[3 * i + 2] = part.points[3 * k + 2] / place.scale;
    scene.trackWeights[i] = part.trackWeights[k];
  });
  return taken;
}

/** Tracks without a piece: charted from their first frame, without a say. */
function placeUnseen(obs: Observations, scene: Scene, bestSeen: Int32Array): void {
  bestSeen.forEach((seen, i) => {
    if (seen > 0) return;
    const o = obs.trackStart[i];
    placeTrack(scene, i, obs.frame[o], obs.x[o], obs.y[o], 0);
    scene.trackWeights[i] = 0;
  });
}

/** Copies the 6x6 covariance of one frame; the displacement half is multiplied by the scale. */
export function copyCovariance(
  source: Float64Array,
  s: number,
  target: Float64Array,
  t: number,
  scale: number,
): void {
  for (let r = 0; r < 6; r++) {
    for (let c = 0; c < 6; c++) {
      const factor = (r >= 3 ? scale : 1) * (c >= 3 ? scale : 1);
      target[36 * t + 6 * r + c] = factor * source[36 * s + 6 * r + c];
    }
  }
}
