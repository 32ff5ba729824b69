/**
 * The crop that a take of another length will need, from the crop of each frame of the test clip (fraction of the width).
 *
 * A crop is an extreme of the run and grows with its length. Three statements, from safe to modelled: the chance that
 * the take needs more than the clip (exchangeability, no model), the typical growth on a steady floor (Rice 1944), and
 * a predictive bound, in which steady shake and hits are treated apart (`tail-draws.ts`). Own derivations.
 */
import { stabilisingTexts } from '../../texts/index.js';
import { gaussianRandom, quantile, seededRandom } from '../../numerics/index.js';
import { findHits } from './hits.js';
import type {
  CropForecast,
  FrameSpan,
  Hit,
  LongerTake,
  SameStretch,
  TakeForecast,
  TakeRefusal,
  TestPass,
} from './longer-take-types.js';
import { DRAWS, hitMaxima, steadyMaxima, type Dice, type DrawnMaxima } from './tail-draws.js';

/** Lengths of take that are foretold, seconds. */
export const TAKE_LENGTHS_S = [10, 30, 60, 120] as const;

/** A bound needs this long a clip, and does not reach further than this many clip lengths. */
const LEAST_CLIP_S = 5;
const FARTHEST_REACH = 12;
/** Peaks above the threshold that the tail of steady shake needs; fewer will do beside hits, which decide. */
const LEAST_PEAKS = 5;
const LEAST_PEAKS_BESIDE_HITS = 3;
/** Standard deviation of ln crop between passes over one floor; assumed, for one clip cannot show it. */
const PASS_TO_PASS = 0.11;
/** Of ln crop when the same stretch is rolled again: own simulations, of which 90 % lay within x0.74 to x1.35. */
const SAME_STRETCH = 0.18;
const SAME_STRETCH_UPPER = 1.35;
/** Hits are taken apart while steady shake fills at least this share of the clip. */
const LEAST_STEADY_SHARE = 0.5;
/** Hits are rare when fewer than three were seen, or fewer than one in six seconds: the bound is then called "at least". */
const FEW_HITS = 3;
const RARE_S = 6;
/** Hits are the joints of a floor when at least this share of the joints that were rolled over made one. */
const JOINTS_SEEN_SHARE = 0.7;
/** Joints that a take just rolls over count, whatever its length came from. */
const ROUNDING = 1e-9;
/** Below as many upward crossings the clip is no sample of anything. */
const LEAST_CROSSINGS = 3;
/** Hits per take that may have stayed unseen in a test without one: -ln 0.05 for each length of the test. */
const UNSEEN = 3;
/** 2.9 crossings per second times seconds: where the median of the maximum of a Gaussian series comes from, 2 / ln 2. */
const MEDIAN_OF_MAXIMUM = 2 / Math.LN2;

/**
 * What takes of several lengths will need.
 *
 * Elsewhere on such a floor: the typical value grows as the maximum of a Gaussian series does, or is drawn from steady shake
 * and hits where there are hits. Over the stretch of the test itself: the crop of the test, give or take what passes differ by,
 * and for a take that goes on beyond it the larger of that and of what the rest is foretold to need.
 *
 * @param pass from a clip without frames nothing is foretold but the chance, 1
 * @param takesS any lengths, seconds, > 0
 * @param seed of the 2000 draws behind the upper bounds; the same draws serve every length
 * @returns one entry per length. medianPercent is null when the clip holds too few crossings; upper95Percent when it is
 *   shorter than 5 s, has fewer than 5 peaks, or the take is more than 12 times as long, and `refused` says which
 * @remarks The chance takes both for parts of one pass: on simulated floors it held within 4 points; when passes differ by 8 %
 *   as a whole, 78 to 83 of 100 takes of a minute needed more than a test of 10 s, not 86.
 */
export function predictTakes(
  pass: TestPass,
  takesS: readonly number[] = TAKE_LENGTHS_S,
  seed = 1,
): TakeForecast {
  const clipS = pass.cropFraction.length / pass.rateHz;
  const hits = hitsOf(pass);
  const elsewhere = forecaster(pass, hits, clipS, seed);
  return {
    takes: takesS.map((takeS): LongerTake => {
      const crops = elsewhere.draws(takeS);
      const typical =
        crops && elsewhere.hitsApart ? percentile(crops, 0.5) : typicalPercent(pass, clipS, takeS);
      return {
        ...elsewhere.summary(takeS, crops, typical),
        chanceExceeds: takeS / (takeS + clipS),
        unseenHitsAtMost: hits.length === 0 && clipS > 0 ? (UNSEEN * takeS) / clipS : null,
      };
    }),
    again: sameStretch(pass, takesS, clipS, elsewhere),
    hits: { seen: hits.length, list: hits },
  };
}

/** The hits of a test: those that are known, else those that its vibration shows. */
export function hitsOf({ hits, vibration, rateHz, echoS }: TestPass): readonly Hit[] {
  return hits ?? findHits(vibration, rateHz, echoS);
}

/** Draws the crop of takes elsewhere on such a floor, and says what the draws are worth. */
interface Forecaster {
  /** Crop fraction of such takes, changes from pass to pass included; null when the test has no tail to draw from. */
  draws(takeS: number): Float64Array | null;
  /** The forecast of a take of which so many seconds lie on floor not seen yet. */
  summary(takeS: number, crops: Float64Array | null, medianPercent: number | null): CropForecast;
  /** True when hits were taken apart from the steady shake. */
  readonly hitsApart: boolean;
  readonly gaussian: () => number;
}

function forecaster(pass: TestPass, hits: readonly Hit[], clipS: number, seed: number): Forecaster {
  const random = seededRandom(seed);
  const gaussian = gaussianRandom(random);
  const { maxima, hitsApart } = drawnMaxima(pass, hits, clipS, { random, gaussian });
  const passFactor = factors(PASS_TO_PASS, gaussian);
  const rareHits =
    hitsApart && !jointsIn(pass, hits, clipS) && hits.length < Math.max(FEW_HITS, clipS / RARE_S);
  return {
    gaussian,
    hitsApart,
    draws: (takeS) => maxima && maxima(takeS).map((crop, i) => passFactor[i] * crop),
    summary(takeS, crops, medianPercent) {
      const refused = refusal(takeS, clipS, crops !== null);
      const upper = crops && !refused ? Math.max(percentile(crops, 0.95), medianPercent ?? 0) : null;
      return { takeS, medianPercent, upper95Percent: upper, atLeast: upper !== null && rareHits, refused };
    },
  };
}

/** Steady shake and hits together, each axle's kick by itself; hits that fill the clip are steady shake. */
function drawnMaxima(
  pass: TestPass,
  hits: readonly Hit[],
  clipS: number,
  dice: Dice,
): { maxima: DrawnMaxima | null; hitsApart: boolean } {
  const { cropFraction, rateHz, upCrossingsHz } = pass;
  const hit = new Uint8Array(cropFraction.length);
  for (const { spans } of hits) for (const { from, to } of spans) hit.fill(1, from, to);
  const rest = cropFraction.filter((_, t) => hit[t] === 0);
  const steadyShare = rest.length / cropFraction.length;
  const kicks = hits.flatMap(({ spans }) => spans);
  const heights = kicks.map((kick) => heightOf(kick, cropFraction)).filter((height) => height > 0);
  if (heights.length === 0 || steadyShare < LEAST_STEADY_SHARE)
    return { maxima: steadyMaxima(cropFraction, rateHz, upCrossingsHz, LEAST_PEAKS, dice), hitsApart: false };

  const steady = steadyMaxima(rest, rateHz, upCrossingsHz, LEAST_PEAKS_BESIDE_HITS, dice);
  const kicksEach = kicks.length / hits.length;
  const joints = jointsIn(pass, hits, clipS);
  const countIn = joints ? (takeS: number) => kicksEach * joints(takeS) : undefined;
  const struck = hitMaxima(heights, clipS, dice, countIn);
  const maxima =
    steady &&
    ((takeS: number) => {
      const fromHits = struck(takeS);
      return steady(takeS * steadyShare).map((crop, i) => Math.max(crop, fromHits[i]));
    });
  return { maxima, hitsApart: true };
}

/**
 * How many joints a take rolls over, where the hits are the joints; null where their spacing is not known, or where most of the
 * joints that the test rolled over were no hit: then the hits are the worst of them, and their number says nothing.
 */
function jointsIn(
  { joints }: TestPass,
  hits: readonly Hit[],
  clipS: number,
): ((takeS: number) => number) | null {
  if (!joints) return null;
  const count = (takeS: number): number => Math.floor((joints.speedMps * takeS) / joints.spacingM + ROUNDING);
  return hits.length >= JOINTS_SEEN_SHARE * count(clipS) ? count : null;
}

function heightOf({ from, to }: FrameSpan, cropFraction: Readonly<Float64Array>): number {
  return largest(cropFraction.subarray(Math.max(0, from), Math.max(0, to)));
}

/**
 * What the test's stretch needs when it is rolled again: the crop of the test, and what 19 in 20 repeats stay below. Per cent.
 *
 * @param cropFraction the most that a frame of the test needs, 0..1 of the width
 */
export function stretchAgain(cropFraction: number): Pick<SameStretch, 'medianPercent' | 'upper95Percent'> {
  return { medianPercent: percent(cropFraction), upper95Percent: percent(SAME_STRETCH_UPPER * cropFraction) };
}

/** The test's stretch again, alone and as the start of longer takes. */
function sameStretch(
  pass: TestPass,
  takesS: readonly number[],
  clipS: number,
  elsewhere: Forecaster,
): SameStretch {
  const test = largest(pass.cropFraction);
  const { medianPercent, upper95Percent } = stretchAgain(test);
  const again = factors(SAME_STRETCH, elsewhere.gaussian);
  const longer = takesS
    .filter((takeS) => takeS > clipS)
    .map((takeS): CropForecast => {
      const newS = takeS - clipS;
      const crops = elsewhere.draws(newS)?.map((crop, i) => Math.max(crop, again[i] * test)) ?? null;
      const typical = crops && Math.max(percentile(crops, 0.5), medianPercent);
      const { upper95Percent: upper, ...rest } = elsewhere.summary(newS, crops, typical);
      return { ...rest, takeS, upper95Percent: upper && Math.max(upper, upper95Percent) };
    });
  return { medianPercent, upper95Percent, longer };
}

/** One log-normal factor about 1 for each draw. */
function factors(spread: number, gaussian: () => number): Float64Array {
  return Float64Array.from({ length: DRAWS }, () => Math.exp(spread * gaussian()));
}

/** Growth of the maximum of a Gaussian series with its length: c sqrt(ln(2.9 nu T) / ln(2.9 nu t)). */
function typicalPercent(pass: TestPass, clipS: number, takeS: number): number | null {
  const here = Math.log(MEDIAN_OF_MAXIMUM * pass.upCrossingsHz * clipS);
  const there = Math.log(MEDIAN_OF_MAXIMUM * pass.upCrossingsHz * takeS);
  if (!(pass.upCrossingsHz * clipS >= LEAST_CROSSINGS && there > 0)) return null;
  return percent(largest(pass.cropFraction) * Math.sqrt(there / here));
}

function refusal(takeS: number, clipS: number, hasTail: boolean): TakeRefusal | null {
  const { takeRefused } = stabilisingTexts;
  if (clipS < LEAST_CLIP_S) return { code: 'shortTest', why: takeRefused.shortTest(LEAST_CLIP_S) };
  if (!hasTail) return { code: 'fewPeaks', why: takeRefused.fewPeaks };
  if (takeS > FARTHEST_REACH * clipS) return { code: 'farReach', why: takeRefused.farReach(FARTHEST_REACH) };
  return null;
}

function largest(values: Readonly<Float64Array>): number {
  let most = 0;
  for (const value of values) most = Math.max(most, value);
  return most;
}

function percentile(fractions: Float64Array, p: number): number {
  return percent(quantile(fractions, p));
}

function percent(fraction: number): number {
  return Math.min(100, 100 * fraction);
}
