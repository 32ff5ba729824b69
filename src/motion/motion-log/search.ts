/**
 * Where in a motion log a clip lies: the offset at which both correlate best, of all that leave enough of the clip
 * covered, and whether that peak can be trusted.
 */
import type { AngularAxis } from '../../run/index.js';
import type { AngleIntegrals } from './angles.js';
import { correlate, searchedStretch, videoFilter, type LagCurves, type VideoFilter } from './correlate.js';
import { allNamings, type AxisNaming } from './naming.js';
import { leastCoveredS, seenAxes, type ComparedMotion } from './video.js';

const LEAST_CORRELATION = 0.5;
/** Peaks at other offsets must stay below this share of the highest. */
const MOST_SECOND_PEAK = 0.9;
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
 * @param log integrals of the axes that the log has
 * @param exposureS of the pictures
 */
export function searchOffset(
  motion: ComparedMotion,
  log: ReadonlyMap<AngularAxis, AngleIntegrals>,
  exposureS: number,
): SearchResult {
  if (seenAxes(motion).length === 0)
    return { match: null, reason: 'the clip shows no angles to compare with' };
  const clipS = motion.timeS.length / motion.rateHz;
  if (clipS < leastCoveredS(clipS) - 1e-9)
    return { match: null, reason: `the clip is shorter than ${leastCoveredS(0)} s` };
  const stretch = searchedStretch(motion);
  const clear = seenAxes(motion).filter((axis) => motion.axes[axis].status !== 'below');
  const filters = clear.flatMap((axis) => videoFilter(motion, axis, stretch) ?? []);
  if (filters.length === 0)
    return { match: null, reason: 'the clip shows no turning above its noise floor to compare with' };
  const curves = correlate(motion, log, filters, stretch, exposureS);
  if (curves.lagCount < 3)
    return { match: null, reason: 'the log covers too little of the clip at any offset' };

  const namings = allNamings([...log.keys()]);
  const given = peakOf(curves, namings[0], filters);
  let best = given;
  for (const naming of namings.slice(1)) {
    const other = peakOf(curves, naming, filters);
    if (
      weakness(other) === null &&
      other.correlation > given.correlation + LEAST_GAIN_OF_RENAMING &&
      other.correlation > best.correlation
    )
      best = other;
  }
  const reason = weakness(best);
  return reason === null ? { match: best, reason: null } : { match: best, reason };
}

/** Why a peak cannot be trusted, or null. */
function weakness({ correlation, secondCorrelation, neededCorrelation }: LogMatch): string | null {
  if (correlation < neededCorrelation)
    return `log and picture agree too little at every offset (correlation ${correlation.toFixed(2)}, ${neededCorrelation.toFixed(2)} needed)`;
  if (secondCorrelation > MOST_SECOND_PEAK * correlation)
    return `log and picture agree about as well at several offsets (correlation ${correlation.toFixed(2)} and ${secondCorrelation.toFixed(2)}): the shake repeats itself`;
  return null;
}

/** Correlation at every lag under one naming of the log's columns, all axes together. */
function scoreCurve({ lagCount, pairs }: LagCurves, naming: readonly AxisNaming[]): Float64Array {
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
    score[k] = energy > 0 ? score[k] / energy : 0;
  }
  return score;
}

/** The highest peak of a curve, and the highest value beyond the foot of that peak. */
function peakOf(curves: LagCurves, naming: readonly AxisNaming[], filters: readonly VideoFilter[]): LogMatch {
  const { offsetS, countedS } = curves;
  const score = scoreCurve(curves, naming);
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
    neededCorrelation: Math.max(LEAST_CORRELATION, chance),
    naming,
  };
}
