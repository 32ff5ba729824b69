/**
 * Where in the clip the camera travelled: pairs of frames some way apart whose tracks a rotation alone cannot explain.
 * Lengths in normalised image units (pixels over focal length).
 */
import { fitPairRotation, type PairRotation } from './frame-pair.js';
import { liveTracks, sharedTracks, type Observations } from './observations.js';

/** A pair of frames, what rotation alone leaves over between them, and that rotation. */
export interface ParallaxPair extends PairRotation {
  readonly first: number;
  readonly last: number;
}

/** How pairs are sought. */
export interface ParallaxSearch {
  /** Frames between first frames that are tried. */
  readonly strideFrames: number;
  /** A pair never spans more than this. */
  readonly longestFrames: number;
  /** ... nor less than this, if the tracks last. */
  readonly shortestFrames: number;
  /** Left-over parallax that is plenty: a pair is not stretched beyond it. */
  readonly plenty: number;
}

/** Both frames must share this share of the first one's tracks, and this many. */
const LEAST_SHARED = 0.35;
const FEWEST_SHARED = 15;

/** The pair starting at each tried first frame, in order of time; frames whose tracks end at once give none. */
export function parallaxPairs(obs: Observations, search: ParallaxSearch): ParallaxPair[] {
  const pairs: ParallaxPair[] = [];
  const latest = Math.max(0, obs.frameCount - 1 - search.shortestFrames);
  for (let first = 0; first <= latest; first += search.strideFrames) {
    const pair = longestPair(obs, first, search);
    if (pair) pairs.push(pair);
  }
  return pairs;
}

function longestPair(obs: Observations, first: number, search: ParallaxSearch): ParallaxPair | null {
  const needed = Math.max(FEWEST_SHARED, LEAST_SHARED * liveTracks(obs, first));
  const end = Math.min(obs.frameCount - 1, first + search.longestFrames);
  const step = Math.max(1, Math.floor(search.shortestFrames / 4));
  let best: ParallaxPair | null = null;
  for (let last = Math.min(first + 2 * step, end); last > first && last <= end; last += step) {
    const shared = sharedTracks(obs, first, last);
    if (shared.track.length < needed) break;
    best = { first, last, ...fitPairRotation(shared) };
    if (best.scale > search.plenty && last - first >= search.shortestFrames) break;
  }
  return best;
}

/**
 * Pairs to start the reconstruction from, in the order to try them: the earliest with parallax to spare, then the
 * strongest ones elsewhere.
 *
 * @param enough parallax that makes a good start
 */
export function startOrder(pairs: readonly ParallaxPair[], enough: number, attempts: number): ParallaxPair[] {
  const strongest = Math.max(...pairs.map((p) => p.scale));
  const good = pairs.filter((p) => p.scale >= Math.min(enough, 0.7 * strongest));
  const order = good.slice(0, 1);
  const rest = good.slice(1).sort((a, b) => b.scale - a.scale || a.first - b.first);
  for (const pair of rest) {
    const apart = order.every((o) => Math.abs(o.first - pair.first) > (o.last - o.first) / 2);
    if (apart && order.length < attempts) order.push(pair);
  }
  return order;
}
