/**
 * The floor under straightedges of several lengths, from the profile of a run: largest gap in metres, its error, and the rows of
 * DIN 18202 and BS 8204 that it meets.
 *
 * What it is not: a survey of the floor. It speaks of the wheel lines alone, and of a profile without waves longer than the band.
 */
import {
  gaussianRandom,
  mean,
  median,
  quantile,
  seededRandom,
  standardDeviation,
  TWO_SIDED_95,
} from '../../numerics/index.js';
import { flatnessTexts } from '../../texts/index.js';
import type { SurfaceProfile } from '../profile/types.js';
import { profileExtent, profileLines, type ProfileLine } from './profile-lines.js';
import { gapsUnderBar, type BarGaps, type BarRest } from './straightedge-gap.js';
import {
  DIN_ROWS,
  dinLimitMm,
  REGULARITY_BAR_M,
  STRICTEST_REGULARITY_MM,
  STRICTEST_ROW,
  surfaceRegularity,
  type DinRow,
  type SurfaceRegularity,
} from './straightedge-limits.js';

/** Bars that the standards name, m. */
const BARS_M: readonly number[] = [0.1, 1, 2, 4];

/** Further bars come in these steps, m. */
const BAR_STEP_M = 0.1;

/**
 * The band must reach this many bar lengths. Measured on w = 2 floors after the high-pass of the surface, medians of six: the largest
 * gap comes out at 0.60, 0.72, 0.85, 0.92, 0.96 of the true one when the longest wave is 0.6, 1, 1.5, 2, 3 bars.
 */
const LONGEST_PER_BAR = 2;

/** The bar must be this many of the shortest waves: the gap then lacks up to a quarter, as measured likewise. */
const BAR_PER_SHORTEST = 4;

/**
 * Standard deviation of what the ends of the band do to a gap, as a share of it; measured on 60 gaps of made-up passes, which came out
 * at 0.88 of the true ones with a spread of 0.08.
 */
const BAND_SHARE = 0.15;

const MM_PER_M = 1000;

/** Floors that are drawn about the profile, as far off it as its error allows, and draws of the error alone. */
const FLOOR_DRAWS = 20;
const NOISE_DRAWS = 8;
const DRAW_SEED = 18202;

/** What a bar of one length shows; null where the profile cannot tell, and `reason` says why. */
export interface Straightedge {
  readonly lengthM: number;
  /** Largest gap anywhere along the wheel lines, metres; "below `noiseGapM`" when it is no larger than that. */
  readonly gapM: number | null;
  /** Half of the 95 % range of that gap, from the error of the profile and the ends of its band. */
  readonly gapRangeM: number | null;
  /** Gap that 95 % of all placements of the bar stay within. */
  readonly gap95M: number | null;
  /** Largest gap that the error of the profile alone would show. */
  readonly noiseGapM: number | null;
  /** Where the largest gap is along the run, and how far apart the bar's two rests are there. */
  readonly atM: number | null;
  readonly spanM: number | null;
  readonly reason: string | null;
  /** Strictest row that no placement breaks, each held to the limit at the distance of its rests; null when none. */
  readonly dinRow: DinRow | null;
  /** Limit of that row at `spanM`. */
  readonly dinLimitMm: number | null;
  /** BS 8204, for the 2 m bar only. */
  readonly surfaceRegularity: SurfaceRegularity | null;
}

/**
 * Lays bars of 0.1, 1, 2 and 4 m, and the longest one in steps of 0.1 m that the band allows, on both wheel lines (on their mean
 * without deck roll); sorted by length.
 *
 * The profile is the likeliest one, which is smoother than the floor by what it does not know. So the bars are laid on floors drawn
 * about it with its error, and the mean of their largest gaps is told: on made-up passes that lifted gaps from 0.75 to 0.88 of the true
 * ones. A gap is held to the limit at the distance of its two rests, not at the length of the bar; a row is met when most of those
 * floors meet it. A gap no larger than the error of the profile makes breaks no row, and where that error could hide a gap beyond the
 * strictest limit nothing is said of the bar.
 *
 * @param profile not changed
 * @param bandM shortest and longest wavelength that it holds, m
 */
export function straightedges(profile: SurfaceProfile, bandM: readonly [number, number]): Straightedge[] {
  const { stepM, lengthM: runM } = profileExtent(profile);
  const lines = profileLines(profile);
  return barsFor(bandM[1]).map((lengthM) => {
    const reason = whyNot(lengthM, bandM, stepM, runM);
    return reason === null ? judge(lengthM, lines, profile.distanceM, stepM) : unknown(lengthM, reason);
  });
}

function barsFor(longestM: number): number[] {
  // A hair more, so that 0.3 / 0.1 counts as 3.
  const longest = Math.floor(longestM / LONGEST_PER_BAR / BAR_STEP_M + 1e-9) * BAR_STEP_M;
  const extra = longest > 0 && longest < 4 ? [Number(longest.toFixed(1))] : [];
  return [...new Set([...BARS_M, ...extra])].sort((a, b) => a - b);
}

function whyNot(
  lengthM: number,
  [shortestM, longestM]: readonly [number, number],
  stepM: number,
  runM: number,
): string | null {
  if (longestM < LONGEST_PER_BAR * lengthM * (1 - 1e-9))
    return flatnessTexts.longWavesMissing(longestM.toFixed(2), lengthM, LONGEST_PER_BAR * lengthM);
  if (lengthM < BAR_PER_SHORTEST * shortestM * (1 - 1e-9) || Math.floor(lengthM / stepM + 1e-9) < 2)
    return flatnessTexts.shortWavesMissing(
      (MM_PER_M * shortestM).toFixed(0),
      lengthM,
      ((MM_PER_M * lengthM) / BAR_PER_SHORTEST).toFixed(0),
    );
  if (runM < lengthM) return flatnessTexts.shorterThanBar(runM.toFixed(2), lengthM);
  return null;
}

function unknown(lengthM: number, reason: string): Straightedge {
  return {
    lengthM,
    gapM: null,
    gapRangeM: null,
    gap95M: null,
    noiseGapM: null,
    atM: null,
    spanM: null,
    reason,
    dinRow: null,
    dinLimitMm: null,
    surfaceRegularity: null,
  };
}

function judge(
  lengthM: number,
  lines: readonly ProfileLine[],
  distanceM: Float64Array,
  stepM: number,
): Straightedge {
  const steps = Math.floor(lengthM / stepM + 1e-9);
  const gaussian = gaussianRandom(seededRandom(DRAW_SEED));
  const noiseGapM = Math.max(
    ...drawn(lines, 0, NOISE_DRAWS, steps, gaussian).map((gaps) => largestOf(gaps).gapM),
  );
  const allowedMm = strictestLimitMm(lengthM);
  if (MM_PER_M * noiseGapM > allowedMm) {
    return unknown(lengthM, flatnessTexts.gapOfError((MM_PER_M * noiseGapM).toFixed(1), allowedMm));
  }
  const floors = drawn(lines, 1, FLOOR_DRAWS, steps, gaussian);
  const largest = floors.map((gaps) => largestOf(gaps).gapM);
  const gapM = mean(largest);
  const likeliest = largestOf(lines.map(({ heightM }) => gapsUnderBar(heightM, steps)));
  const spanM = (likeliest.to - likeliest.from) * stepM;
  const row = median(floors.map((gaps) => strictestRow(gaps, stepM, noiseGapM)));
  const met = DIN_ROWS.find((one) => one === Math.floor(row)) ?? null;
  return {
    lengthM,
    gapM,
    gapRangeM: TWO_SIDED_95 * Math.hypot(standardDeviation(largest), BAND_SHARE * gapM),
    gap95M: mean(floors.map(gap95)),
    noiseGapM,
    atM: distanceM[likeliest.lowest],
    spanM,
    reason: null,
    dinRow: met,
    dinLimitMm: met && dinLimitMm(met, spanM),
    surfaceRegularity: lengthM === REGULARITY_BAR_M ? surfaceRegularity(Math.max(gapM, noiseGapM)) : null,
  };
}

/** Gaps on floors about the lines: heights times `share` plus an error with the sd of each point, neighbours independent. */
function drawn(
  lines: readonly ProfileLine[],
  share: 0 | 1,
  draws: number,
  steps: number,
  gaussian: () => number,
): BarGaps[][] {
  return Array.from({ length: draws }, () =>
    lines.map(({ heightM, sdM }) =>
      gapsUnderBar(
        heightM.map((height, i) => share * height + sdM[i] * gaussian()),
        steps,
      ),
    ),
  );
}

function largestOf(gaps: readonly BarGaps[]): BarRest {
  return gaps.map(({ largest }) => largest).reduce((one, other) => (other.gapM > one.gapM ? other : one));
}

function gap95(gaps: readonly BarGaps[]): number {
  return quantile(Float64Array.from(gaps.flatMap(({ byPlaceM }) => [...byPlaceM])), 0.95);
}

/** Limit that the noise must stay within for any class to be told apart. */
function strictestLimitMm(lengthM: number): number {
  const din = dinLimitMm(STRICTEST_ROW, lengthM);
  return lengthM === REGULARITY_BAR_M ? Math.min(din, STRICTEST_REGULARITY_MM) : din;
}

/** Number of the strictest row that the gaps keep to, 0 when none. */
function strictestRow(gaps: readonly BarGaps[], stepM: number, noiseGapM: number): DinRow | 0 {
  const keeps = (row: DinRow): boolean =>
    gaps.every(({ bySpanM }) =>
      bySpanM.every((gapM, k) => gapM <= noiseGapM || MM_PER_M * gapM <= dinLimitMm(row, k * stepM)),
    );
  return DIN_ROWS.filter(keeps).at(-1) ?? 0;
}
