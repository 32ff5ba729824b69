/** Finds hard cuts, breaks in the chain of tracks, and repeated frames, from what each frame looked like and how the tracks moved. */
import { median } from '../numerics/index.js';
import type { FrameLook } from './frame-differences.js';
import type { StepFacts } from './live-tracks.js';

/** One decoded frame as the tracker saw it. */
export interface FrameRecord {
  /** Seconds, from the container. */
  readonly timeS: number;
  readonly look: FrameLook;
  readonly step: StepFacts;
}

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
 * First frame after each hard cut: most tracks are lost at once, the picture is unlike the one before, and the change
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
    const isCut = hadTracks
      ? step.kept < 0.3 * step.followed && (likeness < 0.8 || histogramChange > 0.2) && standsOut(2)
      : likeness < 0.5 && histogramChange > 0.2 && change > 4 && standsOut(4);
    if (isCut) cuts.push(k);
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

/** Shifts at 960 px width, px: what counts as moving, as standing still, and as still in nearly all of the picture. */
const MOVING_PX = 0.05;
const STILL_PX = 0.02;
const STILL_REACH_PX = 0.06;
/** A clip that moves less than this around a frame is not judged: its repeats would do no harm and could be a rest. */
const LEAST_MOTION_PX = 0.1;

/** Moving frames to each side from which the usual motion is taken, and how far to look for them. */
const MOVING_NEIGHBOURS = 6;
const LOOK_FAR = 50;

interface Usual {
  readonly shiftPx: number;
  readonly changeGrey: number;
}

/** Usual motion and change of the moving frames around the run [first, last]; null when there are too few. */
function usualMotion(
  frames: readonly FrameRecord[],
  first: number,
  last: number,
  unitPx: number,
): Usual | null {
  const shifts: number[] = [];
  const changes: number[] = [];
  const gather = (start: number, step: number): void => {
    let got = 0;
    for (
      let i = start, far = 0;
      i >= 1 && i < frames.length && far < LOOK_FAR && got < MOVING_NEIGHBOURS;
      i += step, far++
    ) {
      if (!(frames[i].step.shiftPx >= MOVING_PX * unitPx)) continue;
      shifts.push(frames[i].step.shiftPx);
      changes.push(frames[i].look.changeGrey ?? 0);
      got += 1;
    }
  };
  gather(first - 1, -1);
  gather(last + 1, 1);
  if (shifts.length < 3) return null;
  return { shiftPx: median(shifts), changeGrey: median(changes) };
}

/**
 * Frames that repeat the one before, bit for bit or within coding noise.
 *
 * A camera at rest also gives nearly equal frames, above all when the clip is made without noise. What tells a repeat
 * from a rest is how it begins and ends: a dolly slows down, a repeat starts and stops within one frame at full motion.
 * So a run of still frames counts only when the frames at its edges move about as much as is usual around it; at the
 * turning point of a vibration, where motion also vanishes for one frame, it reverses, at a repeat it goes on.
 * @param unitPx picture width / 960
 */
export function findRepeats(
  frames: readonly FrameRecord[],
  cuts: readonly number[],
  unitPx: number,
): number[] {
  const repeats: number[] = [];
  const isCut = new Set(cuts);
  // Coding noise may lift single frames of a long freeze a little, so the run is grown with the wider limit.
  const nearlyStill = (k: number): boolean =>
    k < frames.length && frames[k].step.shiftPx < MOVING_PX * unitPx;
  for (let first = 1; first < frames.length; first++) {
    if (!nearlyStill(first)) continue;
    let last = first;
    while (nearlyStill(last + 1)) last += 1;
    if (isRepeatedRun(frames, first, last, isCut, unitPx)) {
      for (let k = first; k <= last; k++) repeats.push(k);
    }
    first = last;
  }
  return repeats;
}

function isRepeatedRun(
  frames: readonly FrameRecord[],
  first: number,
  last: number,
  isCut: ReadonlySet<number>,
  unitPx: number,
): boolean {
  const usual = usualMotion(frames, first, last, unitPx);
  if (!usual || usual.shiftPx < LEAST_MOTION_PX * unitPx) return false;
  const length = last - first + 1;
  let still = 0;
  let identical = 0;
  for (let k = first; k <= last; k++) {
    const { look, step } = frames[k];
    const isStill = step.shiftPx < STILL_PX * unitPx && step.reachPx < STILL_REACH_PX * unitPx;
    const isSame = (look.changeGrey ?? 0) < 0.4 * usual.changeGrey && step.shiftPx < 0.1 * usual.shiftPx;
    if (look.identical || (isStill && isSame)) still += 1;
    if (look.identical) identical += 1;
  }
  if (still < 0.8 * length) return false;

  const before = first - 1 >= 1 && !isCut.has(first - 1) ? frames[first - 1].step : null;
  const after = last + 1 < frames.length && !isCut.has(last + 1) ? frames[last + 1].step : null;
  const isAbrupt = (step: StepFacts): boolean => step.shiftPx >= 0.3 * usual.shiftPx;
  if (before && after) {
    if (!isAbrupt(before) || !isAbrupt(after)) return false;
    const goesOn = before.stepXPx * after.stepXPx + before.stepYPx * after.stepYPx > 0;
    return length >= 3 || identical === length || goesOn;
  }
  // At the head, the tail or a cut only one edge tells; then the clip must be one that otherwise never rests.
  const edge = before ?? after;
  if (!edge || !isAbrupt(edge)) return false;
  const others = frames.filter((_, k) => k >= 1 && (k < first || k > last));
  const moving = others.filter((frame) => frame.step.shiftPx >= MOVING_PX * unitPx).length;
  return moving >= 0.7 * others.length;
}

/** Repeats in a row that last longer than this are called a freeze, s. */
const FREEZE_S = 0.2;

/** Groups repeats in a row and gives those longer than 0.2 s as [first, last]. */
export function findFreezes(
  frames: readonly FrameRecord[],
  repeats: readonly number[],
): (readonly [number, number])[] {
  const freezes: (readonly [number, number])[] = [];
  for (let i = 0; i < repeats.length; i++) {
    const first = repeats[i];
    while (i + 1 < repeats.length && repeats[i + 1] === repeats[i] + 1) i += 1;
    const last = repeats[i];
    if (frames[last].timeS - frames[first - 1].timeS > FREEZE_S) freezes.push([first, last]);
  }
  return freezes;
}
