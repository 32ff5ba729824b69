/**
 * Where a long clip is cut into overlapping pieces, in frames: pieces of equal work, none too short to show depth, none
 * without travel if a neighbour has some to lend.
 */
import type { Observations } from '../observations.js';
import type { ParallaxPair } from '../parallax.js';

/** A piece of the clip: frames from..to-1. */
export interface Segment {
  readonly from: number;
  readonly to: number;
}

/** How long pieces are. */
export interface SegmentLimits {
  /** Observations of a piece without its overlaps; a clip of up to `inOne` times as many stays in one piece. */
  readonly observations: number;
  readonly inOne: number;
  /** What two neighbours share, seconds. */
  readonly overlapS: number;
  /** A piece without its overlaps never lasts less than this, seconds, however many observations it holds. */
  readonly shortestS: number;
  /** A piece that takes in a stretch without travel holds at most this many times as many observations. */
  readonly longest: number;
}

/**
 * The limits of every clip. 90,000 observations take some 25 MB and are 11 s of 280 tracks at 30 frames/s; overlaps of
 * 2.5 s keep the fused answer within a fifth of the noise floor of the one-piece answer (own trials).
 */
export const SEGMENT_LIMITS: SegmentLimits = {
  observations: 90_000,
  inOne: 1.4,
  overlapS: 2.5,
  shortestS: 4,
  longest: 3,
};

/** A piece holds travel when so many pairs of frames, half a second apart, show parallax. */
const FEWEST_ROLLING_PAIRS = 3;

/** Whether the observations are few enough to be solved in one piece. */
export function fitsOnePiece(obs: Observations, rateHz: number, limits: SegmentLimits): boolean {
  const few = obs.count <= limits.inOne * limits.observations;
  return few || obs.frameCount < (limits.overlapS + 2 * limits.shortestS) * rateHz;
}

/**
 * Plans the pieces, in order of time; neighbours share overlapS, and together they cover the clip.
 *
 * @param rolling pairs of frames between which the camera clearly travelled; empty when it never did, and then no piece
 *   is asked to hold any
 */
export function planSegments(
  obs: Observations,
  rateHz: number,
  rolling: readonly ParallaxPair[],
  limits: SegmentLimits,
): Segment[] {
  if (fitsOnePiece(obs, rateHz, limits)) return [{ from: 0, to: obs.frameCount }];
  const half = Math.round((limits.overlapS * rateHz) / 2);
  const widened = (core: Segment): Segment => ({
    from: Math.max(0, core.from - half),
    to: Math.min(obs.frameCount, core.to + half),
  });
  const cores = equalCores(obs, Math.ceil(limits.shortestS * rateHz), limits.observations);
  if (rolling.length > 0) lendTravel(cores, widened, obs, rolling, limits);
  return cores.map(widened);
}

/** Halves of a piece that could not be solved, with the usual overlap; none when they would be too short. */
export function halves({ from, to }: Segment, rateHz: number, limits: SegmentLimits): Segment[] {
  const half = Math.round((limits.overlapS * rateHz) / 2);
  const middle = Math.round((from + to) / 2);
  if (to - from < 2 * limits.shortestS * rateHz) return [];
  return [
    { from, to: middle + half },
    { from: middle - half, to },
  ];
}

/** Cuts the clip into pieces of equal numbers of observations, without overlap. */
function equalCores(obs: Observations, shortest: number, wanted: number): Segment[] {
  const pieces = Math.min(Math.ceil(obs.count / wanted), Math.floor(obs.frameCount / shortest));
  const cores: Segment[] = [];
  let from = 0;
  for (let t = 1; t < obs.frameCount && cores.length + 1 < pieces; t++) {
    const full = obs.frameStart[t] >= ((cores.length + 1) / pieces) * obs.count;
    if (!full || t - from < shortest || obs.frameCount - t < shortest) continue;
    cores.push({ from, to: t });
    from = t;
  }
  cores.push({ from, to: obs.frameCount });
  return cores;
}

/** Joins cores without travel to their smaller neighbour, as far as the largest piece allows; changes `cores`. */
function lendTravel(
  cores: Segment[],
  widened: (core: Segment) => Segment,
  obs: Observations,
  rolling: readonly ParallaxPair[],
  limits: SegmentLimits,
): void {
  const size = ({ from, to }: Segment): number => obs.frameStart[to] - obs.frameStart[from];
  const travels = (core: Segment): boolean => {
    const { from, to } = widened(core);
    return rolling.filter(({ first, last }) => first >= from && last < to).length >= FEWEST_ROLLING_PAIRS;
  };
  for (let k = 0; k < cores.length; k++) {
    if (travels(cores[k])) continue;
    const joined = [k - 1, k]
      .filter((at) => at >= 0 && at + 1 < cores.length)
      .map((at) => ({ at, core: { from: cores[at].from, to: cores[at + 1].to } }))
      .filter(({ core }) => size(core) <= limits.longest * limits.observations)
      .sort((a, b) => size(a.core) - size(b.core));
    if (joined.length === 0) continue;
    cores.splice(joined[0].at, 2, joined[0].core);
    k = joined[0].at - 1;
  }
}
