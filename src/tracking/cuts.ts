/** Finds hard cuts and the stretch of frames between them that tracks hold together. */
import { TIME_JUMP_S } from '../footage/index.js';
import { median } from '../numerics/index.js';
import type { FrameRecord } from './frame-record.js';

/** Tracks that must join two frames for the camera to be followed across. */
const LEAST_LINKS = 8;

/** Frames to each side that say what change is usual around a frame. */
const NEIGHBOURS = 4;

/** Median change over the frames around `k`, itself left out; NaN when it has none. */
function usualChange(frames: readonly FrameRecord[], k: number): number {
  const around: number[] = [];
  for (let i = Math.max(1, k - NEIGHBOURS); i <= Math.min(frames.length - 1, k + NEIGHBOURS); i++) {
    if (i !== k) around.push(frames[i].look.changeGrey ?? 0);
  }
  return around.length ? median(around) : NaN;
}

/**
 * Whether two thumbnails are of one picture, however bright: when the exposure jumps, points are lost and the histogram
 * changes as at a cut. Made-up jumps by one and two stops left 0.99 and more, a cut to another view under 0.8.
 */
function isSamePicture(likeness: number): boolean {
  return likeness > 0.97;
}

/**
 * First frame after each hard cut, and after each pause of more than a second. A cut: most tracks are lost at once, the
 * picture is unlike the one before, and the change
 * stands out of the changes around it (in a fast pan it does not). Where there were no tracks to lose, the pictures alone
 * must differ strongly.
 */
export function findCuts(frames: readonly FrameRecord[]): number[] {
  const cuts: number[] = [];
  for (let k = 1; k < frames.length; k++) {
    const { look, step } = frames[k];
    const change = look.changeGrey ?? 0;
    const likeness = look.likeness ?? 1;
    const histogramChange = look.histogramChange ?? 0;
    const usual = usualChange(frames, k);
    const standsOut = (times: number): boolean => !(change <= times * usual);
    const hadTracks = step.followed >= 2 * LEAST_LINKS;
    const lost = (share: number): boolean => step.kept < (1 - share) * step.followed;
    const isOther =
      lost(0.7) && (likeness < 0.8 || (histogramChange > 0.2 && !isSamePicture(likeness))) && standsOut(2);
    // A jump within one scene: many tracks find something alike where the picture used to be.
    const isJump = lost(0.4) && likeness < 0.6 && standsOut(3);
    const isFromNothing = likeness < 0.5 && histogramChange > 0.2 && change > 4 && standsOut(4);
    const isCut = hadTracks ? isOther || isJump : isFromNothing;
    const isPause = frames[k].timeS - frames[k - 1].timeS > TIME_JUMP_S;
    if (isCut || isPause) cuts.push(k);
  }
  return cuts;
}

/** Frames [from, to) that are measured, and what ended them. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
  /** Frames at which the chain of tracks broke without a cut. */
  readonly breaks: readonly number[];
}

/**
 * The longest run of frames, in time, that tracks hold together without a cut. When no two frames hold together
 * (black, no texture) it is the longest run between cuts.
 */
export function longestStretch(frames: readonly FrameRecord[], cuts: readonly number[]): Stretch {
  const isCut = new Set(cuts);
  const linked = frames.map((frame) => frame.step.kept >= LEAST_LINKS);
  const anyLinks = linked.some(Boolean);
  const breaks: number[] = [];
  const edges: number[] = [0];
  for (let k = 1; k < frames.length; k++) {
    if (isCut.has(k)) edges.push(k);
    else if (anyLinks && !linked[k]) {
      edges.push(k);
      breaks.push(k);
    }
  }
  edges.push(frames.length);
  let best = { from: 0, to: frames.length };
  let longestS = -1;
  for (let i = 0; i + 1 < edges.length; i++) {
    const [from, to] = [edges[i], edges[i + 1]];
    const lengthS = to > from ? frames[to - 1].timeS - frames[from].timeS : -1;
    if (lengthS > longestS) {
      longestS = lengthS;
      best = { from, to };
    }
  }
  return { ...best, breaks };
}
