/** Tells frames that repeat the one before from frames of a camera at rest, by how the tracks moved; lengths in px at 960 px width. */
import { median } from '../numerics/index.js';
import type { FrameRecord } from './frame-record.js';
import type { StepFacts } from './live-tracks.js';

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
  const isCut = new Set(cuts);
  const runs = stillRuns(frames, unitPx).filter(([first, last]) =>
    looksRepeated(frames, first, last, unitPx),
  );
  const edges = runs.map(([first, last]) => edgesOf(frames, first, last, isCut));
  const repeats = runs.filter(([first, last], i) => {
    const { before, after } = edges[i];
    return before && after && jumpsIn(frames, first, last, before, after, unitPx);
  });
  // At the head, the tail or a cut only one edge tells; then the clip must be one that otherwise never rests.
  const known = new Set(framesOf(repeats));
  runs.forEach(([first, last], i) => {
    const { before, after } = edges[i];
    const edge = before ?? after;
    if (!edge || (before && after) || !jumpsIn(frames, first, last, edge, edge, unitPx)) return;
    const others = frames.filter((_, k) => k >= 1 && (k < first || k > last) && !known.has(k));
    const moving = others.filter((frame) => frame.step.shiftPx >= MOVING_PX * unitPx).length;
    if (moving >= 0.7 * others.length) repeats.push([first, last]);
  });
  return framesOf(repeats).sort((a, b) => a - b);
}

/** A run of frames [first, last]. */
type Run = readonly [number, number];

function framesOf(runs: readonly Run[]): number[] {
  return runs.flatMap(([first, last]) => Array.from({ length: last - first + 1 }, (_, i) => first + i));
}

/** Longest runs of frames in which the picture hardly moves. */
function stillRuns(frames: readonly FrameRecord[], unitPx: number): Run[] {
  // Coding noise may lift single frames of a long freeze a little, so the runs are grown with the wider limit.
  const isNearlyStill = (k: number): boolean =>
    k < frames.length && frames[k].step.shiftPx < MOVING_PX * unitPx;
  const runs: Run[] = [];
  for (let first = 1; first < frames.length; first++) {
    if (!isNearlyStill(first)) continue;
    let last = first;
    while (isNearlyStill(last + 1)) last += 1;
    runs.push([first, last]);
    first = last;
  }
  return runs;
}

/** True when nearly all frames of the run equal the one before, by the measure of what is usual around it. */
function looksRepeated(frames: readonly FrameRecord[], first: number, last: number, unitPx: number): boolean {
  const usual = usualMotion(frames, first, last, unitPx);
  if (!usual || usual.shiftPx < LEAST_MOTION_PX * unitPx) return false;
  let equal = 0;
  for (let k = first; k <= last; k++) {
    const { look, step } = frames[k];
    const reach = Math.max(STILL_REACH_PX * unitPx, 0.15 * usual.shiftPx);
    const isStill = step.shiftPx < STILL_PX * unitPx && step.reachPx < reach;
    const isSame = (look.changeGrey ?? 0) < 0.4 * usual.changeGrey && step.shiftPx < 0.1 * usual.shiftPx;
    if (look.identical || (isStill && isSame)) equal += 1;
  }
  return equal >= 0.8 * (last - first + 1);
}

/** The steps just outside a run; null where the clip begins or ends or where a cut lies. */
function edgesOf(
  frames: readonly FrameRecord[],
  first: number,
  last: number,
  isCut: ReadonlySet<number>,
): { before: StepFacts | null; after: StepFacts | null } {
  return {
    before: first - 1 >= 1 && !isCut.has(first - 1) ? frames[first - 1].step : null,
    after: last + 1 < frames.length && !isCut.has(last + 1) ? frames[last + 1].step : null,
  };
}

/** True when the run begins and ends at full motion, and is no turning point of a vibration. */
function jumpsIn(
  frames: readonly FrameRecord[],
  first: number,
  last: number,
  before: StepFacts,
  after: StepFacts,
  unitPx: number,
): boolean {
  const usual = usualMotion(frames, first, last, unitPx);
  if (!usual || Math.min(before.shiftPx, after.shiftPx) < 0.3 * usual.shiftPx) return false;
  const isIdentical = frames.slice(first, last + 1).every((frame) => frame.look.identical);
  const goesOn = before.stepXPx * after.stepXPx + before.stepYPx * after.stepYPx > 0;
  return last - first >= 2 || isIdentical || goesOn;
}

/** Repeats in a row that last longer than this are called a freeze, s. */
const FREEZE_S = 0.2;

/** Time stamps are sums of fractions; five frames at 25 per second are 0.2 s and no more. */
const ROUNDING_S = 1e-6;

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
    if (frames[last].timeS - frames[first - 1].timeS > FREEZE_S + ROUNDING_S) freezes.push([first, last]);
  }
  return freezes;
}
