/** The part of a clip that is asked for, in seconds from its first frame: checks, and which frames belong to it. */
import { TrundleError } from '../run/index.js';
import { quoted } from './clip-path.js';
import type { ClipFacts } from './types.js';

/** In and out as given. */
export interface GivenRange {
  readonly inS?: number | undefined;
  readonly outS?: number | undefined;
}

/** A range that lies within the clip. */
export interface ClipRange {
  readonly inS: number;
  /** First moment left out; Infinity for the end. */
  readonly outS: number;
  /** Where frames should end: out or the clip's stated end, whichever comes first; Infinity when not known. */
  readonly endS: number;
  /** Whether all of the clip is wanted. */
  readonly isWhole: boolean;
  /** Whether an in or out point was asked for. */
  readonly isGiven: boolean;
}

/** Containers round time stamps to a millisecond at worst. */
const TICK_S = 0.001;

/** How far a time stamp may be off by rounding: a millisecond, at most a quarter frame. */
export function roundingS(facts: Pick<ClipFacts, 'fps'>): number {
  return Math.min(TICK_S, 0.25 / facts.fps);
}

/** Where a frame lies: before the range, in it, or at or after its end. */
export function placeInRange(timeS: number, range: ClipRange, allowanceS: number): 'before' | 'in' | 'after' {
  // The head of the clip has no "before": a first frame may be stamped a little early.
  if (range.inS > 0 && timeS < range.inS - allowanceS) return 'before';
  return timeS >= range.outS - allowanceS ? 'after' : 'in';
}

/**
 * Checks a range against the clip; an out point beyond the end means the end.
 *
 * @throws TrundleError 'range-invalid', with the clip's real length
 */
export function checkRange(file: string, facts: ClipFacts, given: GivenRange): ClipRange {
  const { inS = 0, outS = Infinity } = given;
  const lengthS = facts.durationS > 0 ? facts.durationS : Infinity;
  const length = `the clip ${quoted(file)} is ${secondsText(facts.durationS)} long`;
  const refuse = (text: string) => new TrundleError('range-invalid', text);
  if (!(inS >= 0)) throw refuse(`The in point ${secondsText(inS)} is not within the clip; ${length}.`);
  if (inS >= lengthS) {
    throw refuse(
      `The in point ${secondsText(inS)} lies at or beyond the end: ${length}; choose an earlier one.`,
    );
  }
  if (!(outS > inS)) {
    throw refuse(
      `The out point ${secondsText(outS)} must come after the in point ${secondsText(inS)}; ${length}.`,
    );
  }
  const isGiven = given.inS !== undefined || given.outS !== undefined;
  return { inS, outS, endS: Math.min(outS, lengthS), isWhole: inS === 0 && outS >= lengthS, isGiven };
}

/** What is said when fewer than two frames lie in the range. */
export function tooShort(
  file: string,
  facts: ClipFacts,
  count: number,
  { isGiven }: ClipRange,
): TrundleError {
  const where = isGiven ? 'The chosen range of the clip' : 'The clip';
  const held = count === 0 ? 'no frame' : 'one frame only';
  const then = isGiven
    ? `the clip is ${secondsText(facts.durationS)} long; choose a longer range`
    : 'name a clip of some seconds';
  return new TrundleError('clip-too-short', `${where} ${quoted(file)} holds ${held}; ${then}.`);
}

/** Seconds with milliseconds, as sentences show them. */
export function secondsText(timeS: number): string {
  return `${timeS.toFixed(3)} s`;
}
