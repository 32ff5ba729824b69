/**
 * Where in a motion log a clip lies: the offset at which both correlate best, of all that leave enough of the clip
 * covered, and whether that peak can be trusted.
 */
import { logUnalignedTexts } from '../../texts/index.js';
import {
  correlate,
  searchedStretch,
  videoFilter,
  type LagCurves,
  type Stretch,
  type VideoFilter,
} from './correlate.js';
import { commonFrames, leastPartS, type CommonFrames } from './common.js';
import { allNamings, type AxisNaming } from './naming.js';
import type { LogPart } from './parts.js';
import { dot, leastCoveredS, seenAxes, type ComparedMotion } from './video.js';

/**
 * Longest stretches of the clip that are searched for, seconds, each tried when the ones before it gave nothing: two clocks
 * drift apart over a long one, and short ones are less sharp.
 */
const SEARCHED_S = [60, 20, 6] as const;
const LEAST_CORRELATION = 0.5;
/** Peaks at other offsets must stay below this share of the highest. */
const MOST_SECOND_PEAK = 0.9;
/** Less than this, seconds, shows nothing. */
const LEAST_TOLD_S = 1;
/** Another naming of the log's axes must beat the given one by this much. */
const LEAST_GAIN_OF_RENAMING = 0.1;

/** What the search found. */
export interface LogMatch {
  /** The log's clock minus the clip's, seconds, to an eighth of a frame. */
  readonly offsetS: number;
  /** Height of the peak, -1..1. */
  readonly correlation: number;
  /** Height of the highest other peak. */
  readonly secondCorrelation: number;
  /** True when it was found on a part of what could be searched, the whole having shown nothing. */
  readonly onPart: boolean;
  /** Seconds of the clip that the peak rests on. */
  readonly countedS: number;
  /** What the peak had to reach. */
  readonly neededCorrelation: number;
  /** The names of the columns under which it was found; as they are given unless another naming fits much better. */
  readonly naming: readonly AxisNaming[];
}

/** The match, or why there is none. */
export type SearchResult =
  | { readonly match: LogMatch; readonly reason: null }
  | { readonly match: LogMatch | null; readonly reason: string };

/**
 * Searches a log for a clip.
 *
 * @param parts the log between its gaps
 * @param exposureS of the pictures
 */
export function searchOffset(
  motion: ComparedMotion,
  parts: readonly LogPart[],
  exposureS: number,
): SearchResult {
  if (seenAxes(motion).length === 0) return { match: null, reason: logUnalignedTexts.noAngles };
  const clipS = motion.timeS.length / motion.rateHz;
  if (clipS < leastCoveredS(clipS) - 1e-9)
    return { match: null, reason: logUnalignedTexts.clipTooShort(leastCoveredS(0)) };
  let first: SearchResult | null = null;
  for (const mostS of SEARCHED_S) {
    if (first && mostS >= clipS) continue;
    const found = searchStretch(motion, parts, exposureS, searchedStretch(motion, mostS));
    if (found.reason === null) return { match: { ...found.match, onPart: first !== null }, reason: null };
    first ??= found;
  }
  return first ?? NOTHING_COVERED;
}

const NOTHING_COVERED = { match: null, reason: logUnalignedTexts.coversTooLittle };

function searchStretch(
  motion: ComparedMotion,
  parts: readonly LogPart[],
  exposureS: number,
  stretch: Stretch,
): SearchResult {
  const clear = seenAxes(motion).filter((axis) => motion.axes[axis].status !== 'below');
  const filters = clear.flatMap((axis) => videoFilter(motion, axis, stretch) ?? []);
  if (filters.length === 0) return { match: null, reason: logUnalignedTexts.noTurning };
  if (parts.length === 0)
    return {
      match: null,
      reason: gapsLeave(null, leastCoveredS(motion.timeS.length / motion.rateHz), motion),
    };
  const curves = correlate(motion, parts, filters, stretch, exposureS);
  if (curves.lagCount < 3) return NOTHING_COVERED;

  const namings = allNamings([...parts[0].integrals.keys()]);
  const given = peakOf(curves, namings[0], filters, curves.leastS);
  let best = given;
  for (const naming of namings.slice(1)) {
    const other = peakOf(curves, naming, filters, curves.leastS);
    if (
      weakness(other) === null &&
      other.correlation > given.correlation + LEAST_GAIN_OF_RENAMING &&
      other.correlation > best.correlation
    )
      best = other;
  }
  const reason = weakness(best);
  if (reason === null) return { match: best, reason };
  return throughGaps(motion, parts, exposureS, curves, filters) ?? { match: best, reason };
}

/** What there is where gaps leave less of the searched stretch than is wanted: whether the clip lies there; null if not. */
function throughGaps(
  motion: ComparedMotion,
  parts: readonly LogPart[],
  exposureS: number,
  curves: LagCurves,
  filters: readonly VideoFilter[],
): SearchResult | null {
  const neededS = leastCoveredS(motion.timeS.length / motion.rateHz);
  const naming = allNamings([...parts[0].integrals.keys()])[0];
  const match = peakOf(curves, naming, filters, LEAST_TOLD_S);
  if (match.countedS < curves.leastS && weakness(match) === null) {
    const clock = { offsetS: match.offsetS, ratio: 1 };
    const { coveredS } = commonFrames({ motion, parts, naming, exposureS }, clock);
    const enough = coveredS >= neededS;
    return enough ? { match, reason: null } : { match, reason: gapsLeave(coveredS, neededS, motion) };
  }
  const counted = Array.from({ length: curves.lagCount }, (_, k) => curves.countedS(k));
  return counted.every((s) => s < curves.leastS)
    ? { match: null, reason: gapsLeave(null, neededS, motion) }
    : null;
}

/** Too little left between the gaps of a log, in words; null where no part at all can be placed. */
export function gapsLeave(leftS: number | null, neededS: number, motion: ComparedMotion): string {
  const [needed, part] = [neededS.toFixed(1), leastPartS(motion).toFixed(1)];
  return leftS === null
    ? logUnalignedTexts.gapsLeaveNothing(needed, part)
    : logUnalignedTexts.gapsLeaveLittle(leftS.toFixed(1), needed, part);
}

/** Whether a match that rests on a part of a clip holds for all of it: an axis hangs together over the common frames. */
export function holdsThroughout({ video, log }: CommonFrames): boolean {
  return [...log].some(([axis, logged]) => {
    const seen = video.get(axis);
    return seen && dot(seen, logged) >= LEAST_CORRELATION * Math.sqrt(dot(seen, seen) * dot(logged, logged));
  });
}

/** Why a peak cannot be trusted, or null. */
function weakness({ correlation, secondCorrelation, neededCorrelation }: LogMatch): string | null {
  if (correlation < neededCorrelation)
    return logUnalignedTexts.agreesTooLittle(correlation.toFixed(2), neededCorrelation.toFixed(2));
  if (secondCorrelation > MOST_SECOND_PEAK * correlation)
    return logUnalignedTexts.repeats(correlation.toFixed(2), secondCorrelation.toFixed(2));
  return null;
}

/** Correlation at every lag under one naming of the log's columns, all axes together; 0 where too little counts. */
function scoreCurve(
  { lagCount, pairs, countedS }: LagCurves,
  naming: readonly AxisNaming[],
  leastS: number,
): Float64Array {
  const score = new Float64Array(lagCount);
  const videoEnergy = new Float64Array(lagCount);
  const logEnergy = new Float64Array(lagCount);
  for (const { camera, log, sign } of naming) {
    const pair = pairs.find((p) => p.camera === camera && p.log === log);
    if (!pair) continue;
    for (let k = 0; k < lagCount; k++) {
      score[k] += sign * pair.product[k];
      videoEnergy[k] += pair.videoEnergy[k];
      logEnergy[k] += pair.logEnergy[k];
    }
  }
  for (let k = 0; k < lagCount; k++) {
    const energy = Math.sqrt(videoEnergy[k] * logEnergy[k]);
    score[k] = energy > 0 && countedS(k) >= leastS ? score[k] / energy : 0;
  }
  return score;
}

/** The highest peak of a curve, and the highest value beyond the foot of that peak. */
function peakOf(
  curves: LagCurves,
  naming: readonly AxisNaming[],
  filters: readonly VideoFilter[],
  leastS: number,
): LogMatch {
  const { offsetS, countedS } = curves;
  const score = scoreCurve(curves, naming, leastS);
  let at = 0;
  for (let k = 1; k < score.length; k++) if (score[k] > score[at]) at = k;
  let left = at;
  while (left > 0 && score[left - 1] < score[left]) left--;
  let right = at;
  while (right + 1 < score.length && score[right + 1] < score[right]) right++;
  let second = 0;
  for (let k = 0; k < score.length; k++) if (k < left || k > right) second = Math.max(second, score[k]);

  // Vertex of the parabola through the three highest samples.
  const inside = at > 0 && at + 1 < score.length;
  const bend = inside ? score[at - 1] - 2 * score[at] + score[at + 1] : 0;
  const shift = bend < 0 ? (0.5 * (score[at - 1] - score[at + 1])) / bend : 0;

  // Chance alone reaches sqrt(2 ln tries) deviations of Fisher's z, whose variance is 1 / independent samples.
  const widthHz = filters.reduce((sum, filter) => sum + filter.widthHz, 0);
  const rangeS = offsetS(score.length) - offsetS(0);
  const independent = Math.max(2 * widthHz * countedS(at), 1);
  const tries = Math.max((2 * widthHz * rangeS) / filters.length, 2);
  const chance = Math.tanh((Math.sqrt(2 * Math.log(tries)) + 1) / Math.sqrt(independent));
  return {
    offsetS: offsetS(at + shift),
    correlation: score[at],
    secondCorrelation: second,
    onPart: false,
    countedS: countedS(at),
    neededCorrelation: Math.max(LEAST_CORRELATION, chance),
    naming,
  };
}
