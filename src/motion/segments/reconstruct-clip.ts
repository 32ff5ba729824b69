/**
 * Long clips: solved in overlapping pieces and fused into one scene, so that memory for the equations does not grow
 * with the clip. A clip that fits one piece is solved in one.
 *
 * Depth is a matter of one to three seconds and vibration lies above the cut-off, so nothing is lost by cutting: what
 * pieces disagree in, slow drifts of direction and scale, is below the cut-off (own trials).
 */
import type { Camera } from '../../optics/index.js';
import type { Warning } from '../../run/index.js';
import { motionWarningTexts } from '../../texts/index.js';
import { fuseDistortions, knownDistortion } from '../distortion/distortion-outcome.js';
import { windowOf, SHORTEST_TRACK_FRAMES, type Observations } from '../observations.js';
import { SPLIT_DEFAULTS, type ResolvedSplit } from '../options.js';
import type { ParallaxPair } from '../parallax.js';
import { clipParallax, parallaxUnit, type ClipScale, type Reconstruction } from '../piece.js';
import { reconstruct, turningCamera } from '../reconstruct.js';
import { fuseReadouts } from '../rolling-shutter/readout-outcome.js';
import { bridgeSegments } from './bridge.js';
import { fuseSegments, type PlacedSegment } from './fusion.js';
import { compose, IDENTITY, joinSegments, soundFrames, type SolvedSegment } from './join.js';
import {
  fitsOnePiece,
  halves,
  planSegments,
  SEGMENT_LIMITS,
  type Segment,
  type SegmentLimits,
} from './plan.js';

/** The scene of a whole clip and how it was pieced together. */
export interface ClipReconstruction extends Reconstruction {
  /** The pieces that hold, in order of time; one for a clip solved at once. */
  readonly segments: readonly Segment[];
  /** Stretches that no piece holds. */
  readonly missing: readonly Segment[];
  /** First frames after stretches across which nothing measured ties the scales together. */
  readonly bridged: readonly number[];
}

/** A piece rolls where its parallax is at least this share of that of the livelier quarter of the clip. */
const ROLLING_SHARE = 0.25;
/** Pieces that hold must cover at least this share of the clip. */
const LEAST_HELD_SHARE = 1 / 3;

/**
 * Reconstructs poses and depths of a clip of any length.
 *
 * Pieces without travel and pieces that do not hold are left out; their frames count no kept tracks.
 *
 * @param obs enough frames and tracks to try (see splitMotion)
 */
export function reconstructClip(
  obs: Observations,
  camera: Camera,
  clip: ClipScale,
  settings: ResolvedSplit,
  limits: SegmentLimits = SEGMENT_LIMITS,
): ClipReconstruction {
  if (fitsOnePiece(obs, clip.rateHz, limits)) {
    const whole = reconstruct(obs, camera, clip, settings);
    return { ...whole, segments: [{ from: 0, to: obs.frameCount }], missing: [], bridged: [] };
  }
  const rolling = rollingPairs(clipParallax(obs, clip), parallaxUnit(camera, clip, settings));
  const planned = planSegments(obs, clip.rateHz, rolling, limits);
  let furthest = 0;
  // The first piece that shows the readout shows it for all that follow, and so with the lens.
  let { readoutS, distortion } = settings;
  const pieces: SolvedSegment[][] = planned.map(() => []);
  solvingOrder(planned, rolling, knownDistortion(camera, settings.distortionGiven) !== null).forEach(
    (at, k) => {
      const parts = solveSegment(obs, planned[at], camera, clip, limits, {
        ...settings,
        readoutS,
        distortion,
        onProgress: (done, total) => {
          furthest = Math.max(furthest, Math.round((100 * (k + done / total)) / planned.length));
          settings.onProgress(Math.min(furthest, 98), 100);
        },
      });
      const holding = parts.map(({ reconstruction }) => reconstruction).filter(({ holds }) => holds);
      readoutS ??= fuseReadouts(parts.map(({ reconstruction }) => reconstruction)).readout.readoutS;
      if (holding.length > 0) distortion ??= fuseDistortions(holding.map((piece) => piece.distortion));
      pieces[at] = parts;
    },
  );
  const solved = pieces.flat();
  const chosen = ofOneMode(obs, camera, clip, { ...settings, readoutS, distortion }, solved).filter(
    (s) => soundFrames(s).length > 0,
  );
  const held = chosen.filter(({ reconstruction }) => reconstruction.holds);
  if (held.length === 0) return { ...fuse(obs, solved.slice(0, 1), clip), holds: false };
  const fused = fuse(obs, held, clip);
  const missing = fused.missing.reduce((sum, { from, to }) => sum + to - from, 0);
  return { ...fused, holds: missing <= (1 - LEAST_HELD_SHARE) * obs.frameCount };
}

/** The order in which pieces are solved: as they come, or, where the lens is looked for, the one that shows most of it first. */
function solvingOrder(
  planned: readonly Segment[],
  rolling: readonly ParallaxPair[],
  lensKnown: boolean,
): number[] {
  const order = Array.from(planned.keys());
  if (lensKnown) return order;
  const travel = planned.map(({ from, to }) =>
    rolling.reduce((sum, { first, last, scale }) => sum + (first >= from && last < to ? scale : 0), 0),
  );
  const best = travel.indexOf(Math.max(...travel));
  return [best, ...order.filter((at) => at !== best)];
}

/** Warns of stretches that were left out and of scales that had to be guessed. */
export function segmentWarnings({ missing, bridged }: ClipReconstruction, timeS: Float64Array): Warning[] {
  const left = missing.map(({ from, to }): Warning => ({
    code: 'motion-stretch-left-out',
    text: motionWarningTexts.stretchLeftOut(timeS[from].toFixed(1), timeS[to - 1].toFixed(1)),
    atS: timeS[from],
  }));
  const guessed = bridged.map((t): Warning => ({
    code: 'motion-scale-bridged',
    text: motionWarningTexts.scaleBridged(timeS[t].toFixed(1)),
    atS: timeS[t],
  }));
  return [...left, ...guessed];
}

/** Pairs between which the camera clearly travelled; none when it never did. */
function rollingPairs(pairs: readonly ParallaxPair[], unit: number): ParallaxPair[] {
  const sure = SPLIT_DEFAULTS.parallaxSure * unit;
  const sorted = pairs.map(({ scale }) => scale).sort((a, b) => a - b);
  const lively = sorted[Math.floor(0.75 * sorted.length)] ?? 0;
  return pairs.filter(({ scale }) => scale >= Math.max(sure, ROLLING_SHARE * lively));
}

function partOf(clip: ClipScale, { from, to }: Segment): ClipScale {
  return { ...clip, timeS: clip.timeS.slice(from, to) };
}

/** Solves one piece, in halves when it does not hold as a whole. */
function solveSegment(
  obs: Observations,
  segment: Segment,
  camera: Camera,
  clip: ClipScale,
  limits: SegmentLimits,
  settings: ResolvedSplit,
): SolvedSegment[] {
  const { observations, trackOfWhole } = windowOf(obs, segment.from, segment.to, SHORTEST_TRACK_FRAMES);
  const reconstruction = reconstruct(observations, camera, partOf(clip, segment), settings);
  const failed =
    !reconstruction.holds ||
    (reconstruction.mode === 'rotationOnly' && reconstruction.parallaxP >= SPLIT_DEFAULTS.parallaxSure);
  const parts = failed ? halves(segment, clip.rateHz, limits) : [];
  if (parts.length === 0) return [{ ...segment, reconstruction, trackOfWhole }];
  let { distortion } = settings;
  return parts.flatMap((part) => {
    const solved = solveSegment(obs, part, camera, clip, limits, { ...settings, distortion });
    const holding = solved.map((piece) => piece.reconstruction).filter(({ holds }) => holds);
    if (holding.length > 0) distortion ??= fuseDistortions(holding.map((piece) => piece.distortion));
    return solved;
  });
}

/**
 * Pieces that can stand side by side: those that travelled, when any clearly did; else what most of the clip says, with
 * the others solved again as a camera that only turns.
 */
function ofOneMode(
  obs: Observations,
  camera: Camera,
  clip: ClipScale,
  settings: ResolvedSplit,
  solved: readonly SolvedSegment[],
): SolvedSegment[] {
  const full = solved.filter(({ reconstruction: { mode, holds } }) => mode === 'full' && holds);
  const frames = (some: readonly SolvedSegment[]): number => some.reduce((sum, s) => sum + s.to - s.from, 0);
  const sure = full.some(({ reconstruction }) => reconstruction.parallaxP >= SPLIT_DEFAULTS.parallaxSure);
  if (full.length > 0 && (sure || 2 * frames(full) >= frames(solved))) return full;
  return solved.map((segment) => {
    const { mode, parallaxP } = segment.reconstruction;
    if (mode === 'rotationOnly') return segment;
    const { observations } = windowOf(obs, segment.from, segment.to, SHORTEST_TRACK_FRAMES);
    return {
      ...segment,
      reconstruction: turningCamera(observations, camera, partOf(clip, segment), settings, parallaxP),
    };
  });
}

/** Chains the joins of neighbouring pieces and fuses them. */
function fuse(obs: Observations, held: readonly SolvedSegment[], { rateHz }: ClipScale): ClipReconstruction {
  const placed: PlacedSegment[] = [];
  const bridged: number[] = [];
  for (const segment of held) {
    if (placed.length === 0) {
      placed.push({ segment, place: IDENTITY });
      continue;
    }
    const before = placed[placed.length - 1];
    const joined = joinSegments(before.segment, segment);
    const bridge = joined ? null : bridgeSegments(before.segment, segment, rateHz);
    const step = joined ?? bridge?.place ?? IDENTITY;
    if (bridge && !bridge.measured) bridged.push(soundFrames(segment)[0]);
    placed.push({ segment, place: compose(before.place, step) });
  }
  return {
    ...fuseSegments(obs, placed),
    segments: held.map(({ from, to }) => ({ from, to })),
    missing: uncovered(held, obs.frameCount),
    bridged,
  };
}

/** The stretches of the clip that none of the pieces covers. */
function uncovered(held: readonly Segment[], frameCount: number): Segment[] {
  const missing: Segment[] = [];
  let reached = 0;
  for (const { from, to } of held) {
    if (from > reached) missing.push({ from: reached, to: from });
    reached = Math.max(reached, to);
  }
  if (reached < frameCount) missing.push({ from: reached, to: frameCount });
  return missing;
}
